"""When bonds are closed on the way back, and when the device is tried: before what closes it last."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from midframe.faults import IllegalMove
from midframe.publish.names import title_of
from midframe.record.model import Move
from midframe.ways.backward import BackMove, backward, replay_back
from midframe.ways.electrical import ELECTRICAL
from midframe.ways.rules import Rules, State


class SwitchOn(msgspec.Struct, frozen=True):
    """The trial on a way back.

    `before` is the number of the move back before which the device is tried. `closed` names the bonds
    over electrical joints that are closed by then, such as that of the other face; `untried` the
    electrical joints that are closed only after it.
    """

    before: int
    closed: tuple[str, ...] = ()
    untried: tuple[str, ...] = ()


def arranged(rules: Rules, back: Sequence[BackMove]) -> tuple[BackMove, ...]:
    """The way back with the part of the last bond placed just before that bond, where the rules let it.

    A part that only lies in its place hides what is still to be tried.
    """
    moves = tuple(back)
    bond = begun(rules, moves)
    seat = None if bond is None else placed(rules, moves, bond)
    if bond is None or seat is None or seat == bond - 1:
        return moves
    later = (*moves[: seat - 1], *moves[seat : bond - 1], moves[seat - 1], *moves[bond - 1 :])
    try:
        replay_back(rules, reached(moves), later)
    except IllegalMove:
        return moves
    return later


def way_back(rules: Rules, moves: Iterable[Move]) -> tuple[BackMove, ...]:
    """The way back from some moves as it is told: bonds in time, the part of the last bond placed last.

    Raises `IllegalMove` as `backward` does.
    """
    return arranged(rules, in_time(rules, backward(rules.record, moves)))


def in_time(rules: Rules, back: Sequence[BackMove]) -> tuple[BackMove, ...]:
    """The way back with each bond closed before a part of it is covered, where the rules let it.

    A bond that was opened long before its part came out would else be closed as late, under what
    already lies over the part.
    """
    moves = tuple(back)
    for bond in [move for move in moves if bonded(rules, move)]:
        at = moves.index(bond)
        cover = covered(rules, moves, at)
        if cover is None:
            continue
        sooner = (*moves[:cover], bond, *moves[cover:at], *moves[at + 1 :])
        try:
            replay_back(rules, reached(moves), sooner)
        except IllegalMove:
            continue
        moves = sooner
    return moves


def covered(rules: Rules, moves: Sequence[BackMove], at: int) -> int | None:
    """Index of the first move that covers a part of the bond closed at `at`, once that part is placed."""
    held = rules.joints[moves[at].close].holds
    seat = placed(rules, moves, at + 1)
    if seat is None:
        return None
    state = reached(moves)
    for index, move in enumerate(moves[:at]):
        before = state
        state = State(state.open - {move.close}, state.aside - frozenset(move.place))
        if index >= seat and any(hidden(rules, state, p) and not hidden(rules, before, p) for p in held):
            return index
    return None


def hidden(rules: Rules, state: State, part: str) -> bool:
    """Whether something lies over a part."""
    return bool(rules.missing(state, rules.parts[part].under, frozenset({part}), frozenset()))


def switch_on(rules: Rules, back: Sequence[BackMove]) -> SwitchOn | None:
    """The trial; None where no electrical joint was opened, or nothing is closed after the last one.

    With both faces bonded the trial stands before the bond that closes the device last, the other one
    is closed by then. Bonds that lie one over the other with nothing but bonds between count as one
    closing: the trial comes before the first of them. Bonds over nothing electrical, such as that of a
    camera lens, do not close.
    """
    last = last_inside(rules, back)
    if last is None:
        return None
    bond = begun(rules, back)
    if bond is None:
        before = last + 1
    else:
        seat = placed(rules, back, bond)
        between = range(seat + 1, bond) if seat is not None else range(0)
        loose = seat is not None and seat > last and not any(bonded(rules, back[n - 1]) for n in between)
        before = seat if loose and seat is not None else bond
    if before > len(back):
        return None
    closing = covering(rules, back, [n for n in bonds(rules, back) if n < before])
    late = (move.close for move in back[before - 1 :] if electrical(rules, move))
    return SwitchOn(
        before,
        tuple(title_of(rules.joints[back[number - 1].close]) for number in sorted(closing)),
        tuple(title_of(rules.joints[joint]) for joint in late),
    )


def begun(rules: Rules, back: Sequence[BackMove]) -> int | None:
    """Number of the bond that begins the last closing of the device; None where no bond closes it."""
    last = last_inside(rules, back)
    if last is None:
        return None
    closing = covering(rules, back, [number for number in bonds(rules, back) if number > last])
    if not closing:
        return None
    first = last_bond = max(closing)
    for number in range(last_bond - 1, 0, -1):
        move = back[number - 1]
        if move.close and not bonded(rules, move):
            break
        if number in closing and move.close in closing[last_bond]:
            first = number
    return first


def last_inside(rules: Rules, back: Sequence[BackMove]) -> int | None:
    """Number of the last electrical joint closed, those that the closed device leaves free apart."""
    found = [number for number, move in enumerate(back, start=1) if electrical(rules, move)]
    inside = [n for n in found if rules.may_open(State(), back[n - 1].close) is not None]
    return max(inside or found, default=None)


def covering(rules: Rules, back: Sequence[BackMove], numbers: Iterable[int]) -> dict[int, frozenset[str]]:
    """Of some moves back those without whose undoing an electrical joint is out of reach, and what is lost.

    The way in is gone again without the one move; what it then does not come to is lost.
    """
    forward = list(reversed(back))
    whole = frozenset(move.close for move in back if move.close)
    wired = frozenset(move.close for move in back if electrical(rules, move))
    found = {}
    for number in numbers:
        skipped = len(back) - number
        lost = whole - come_to(rules, [*forward[:skipped], *forward[skipped + 1 :]])
        lost -= {back[number - 1].close}
        if lost & wired:
            found[number] = lost
    return found


def come_to(rules: Rules, forward: Iterable[BackMove]) -> frozenset[str]:
    """The joints that are opened where moves that have become impossible are passed over."""
    state = State()
    for move in forward:
        try:
            state = rules.apply(state, Move(open=move.close, lift=move.place[:1]))
        except IllegalMove:
            continue
    return state.open


def placed(rules: Rules, back: Sequence[BackMove], bond: int) -> int | None:
    """Number of the move that placed the part of a bond, if one did."""
    held = set(rules.joints[back[bond - 1].close].holds)
    return max((n for n in range(1, bond) if held & set(back[n - 1].place)), default=None)


def bonds(rules: Rules, back: Sequence[BackMove]) -> list[int]:
    """Numbers of the moves back that close a bond."""
    return [number for number, move in enumerate(back, start=1) if bonded(rules, move)]


def bonded(rules: Rules, move: BackMove) -> bool:
    """Whether a move back closes a bond."""
    return bool(move.close) and rules.joints[move.close].kind == "adhesive"


def electrical(rules: Rules, move: BackMove) -> bool:
    """Whether a move back closes a joint that carries current."""
    return bool(move.close) and rules.joints[move.close].kind in ELECTRICAL


def reached(back: Iterable[BackMove]) -> State:
    """The state in which a way back begins."""
    moves = tuple(back)
    return State(
        frozenset(move.close for move in moves if move.close),
        frozenset(part for move in moves for part in move.place),
    )
