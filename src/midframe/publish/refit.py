"""The way back from any state: in order, with what is cleaned, renewed, tightened, waited for and tried."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import msgspec

from midframe.faults import IllegalMove
from midframe.publish.contents import Renewed
from midframe.publish.names import title_of
from midframe.publish.renewals import films, parted, renewed
from midframe.publish.switch_on import reached, switch_on, way_back
from midframe.record import Record, digest
from midframe.record.model import JointKind, Layer, Move
from midframe.refit import Adhesive, Bond, adhesive, bond
from midframe.screws import Group, Torque, WrongHole, groups, torque, wrong_holes
from midframe.sources import Source, cited
from midframe.ways.backward import BackMove, close, put
from midframe.ways.count import Count, count
from midframe.ways.electrical import ELECTRICAL, cell_connectors, cells, live_joints
from midframe.ways.rules import Rules, State


class ScrewsBack(msgspec.Struct, frozen=True):
    """The screws of one move back: the group, how tight, which kinds that are out harm its holes."""

    group: Group
    torque: Torque | None
    harmful: tuple[WrongHole, ...]
    still_out: int


class RefitLine(msgspec.Struct, frozen=True, kw_only=True):
    """One move back. `of` is the number of the move that it undoes.

    `joint` is what is closed, `parts` are the ids of what is placed. `look_at` are plugs that this move
    covers: seen to be seated before it. `live`: an electrical joint is closed while the battery is
    connected. `trial`: the device is switched on and tried before this move. `cautions` are keys of
    `publish.cautions.CAUTIONS`.
    """

    number: int
    of: int
    joint: str
    kind: JointKind | None
    parts: tuple[str, ...]
    names: tuple[str, ...]
    new_parts: tuple[str, ...]
    renewals: tuple[Renewed, ...]
    layers: tuple[Layer, ...]
    bond: Bond | None
    adhesive: Adhesive | None
    screws: ScrewsBack | None
    look_at: tuple[str, ...]
    live: bool
    trial: bool
    cautions: tuple[str, ...]


class Refit(msgspec.Struct, frozen=True, kw_only=True):
    """The whole way back.

    `trial_before` is the number of the line before which the device is tried (`switch_on`), None where
    no electrical joint was opened; `untried` are electrical joints that are closed only after it,
    `closed_by_then` bonds over electrical joints that are closed before it. `full_hours` is the longest
    time a bond takes, `unknown_bonds` those whose time is not known.
    """

    device: str
    invented: bool
    digest: str
    state: State
    lines: tuple[RefitLine, ...]
    trial_before: int | None
    untried: tuple[str, ...]
    closed_by_then: tuple[str, ...]
    screws: int
    full_hours: float | None
    unknown_bonds: tuple[str, ...]
    after: tuple[str, ...]
    sources: tuple[Source, ...]


def moves_of_log(record: Record, until: int | None = None) -> tuple[Move, ...]:
    """The moves of the bench log, up to its line `until` (from 1); lines without a move are passed over."""
    entries = record.log if until is None else record.log[:until]
    return tuple(
        Move(open=entry.open, by=entry.by, lift=entry.lift) for entry in entries if entry.open or entry.lift
    )


def refit(record: Record, moves: Iterable[Move], *, new_parts: Sequence[str] = ()) -> Refit:
    """The way back from the state that some moves reach.

    Parameters
    ----------
    moves
        Any legal sequence from the closed device: a way, the log (`moves_of_log`), what was done.
    new_parts
        Ids of parts that come back as new ones, besides those that the moves ruin.

    Raises
    ------
    IllegalMove
        Where the moves are no legal sequence, or cannot be gone back.

    >>> from midframe import demo
    >>> record = demo.load("tern-3")
    >>> back = refit(record, moves_of_log(record, 6))
    >>> back.lines[-1].names, len(back.lines)
    (('SIM tray latch',), 6)
    """
    done = tuple(moves)
    known = {joint.id for joint in record.joints}
    if unknown := [move.open for move in done if move.open and move.open not in known]:
        raise IllegalMove(f"open {unknown[0]}: no such joint in the record")
    return Way(record, done, new_parts).told()


class Way:
    """The telling of one way back."""

    def __init__(self, record: Record, moves: tuple[Move, ...], new_parts: Sequence[str]) -> None:
        self.record, self.rules = record, Rules(record)
        self.back = way_back(self.rules, moves)
        self.counted: Count = count(record, moves)
        self.new = {*self.counted.ruined, *new_parts}
        self.cells = set(cells(record))
        opened = {move.open for move in moves}
        self.groups = {group.joint: group for group in groups(record) if group.joint in opened}
        self.hazards = wrong_holes(record)
        self.trial = switch_on(self.rules, self.back)

    def told(self) -> Refit:
        """Everything together."""
        lines = tuple(self.lines())
        hours = [line.adhesive.full_hours for line in lines if line.adhesive and line.adhesive.full_hours]
        keys = {line.screws.torque.source for line in lines if line.screws and line.screws.torque}
        return Refit(
            device=self.record.device.name,
            invented=self.record.device.invented,
            digest=digest(self.record),
            state=reached(self.back),
            lines=lines,
            trial_before=None if self.trial is None else self.trial.before,
            untried=self.trial.untried if self.trial else (),
            closed_by_then=self.trial.closed if self.trial else (),
            screws=sum(group.count for group in self.groups.values()),
            full_hours=max(hours, default=None),
            unknown_bonds=tuple(
                line.names[0] for line in lines if line.adhesive and line.adhesive.full_hours is None
            ),
            after=tuple(check.text for check in self.record.checks if check.when != "before"),
            sources=cited(keys - {""}),
        )

    def lines(self) -> Iterator[RefitLine]:
        """Every move back with all that stands beside it."""
        out = sum(group.count for group in self.groups.values())
        looked = covered_before(self.rules, self.back)
        live = live_back(self.record, self.back)
        for number, move in enumerate(self.back, start=1):
            group = self.groups.get(move.close)
            out -= group.count if group else 0
            yield self.line(number, move, out, looked[number - 1], number in live)

    def line(self, number: int, move: BackMove, out: int, looked: tuple[str, ...], live: bool) -> RefitLine:
        """One move back."""
        joint = self.rules.joints.get(move.close)
        bonded = joint is not None and joint.kind == "adhesive"
        names = (title_of(joint),) if joint else tuple(self.rules.parts[part].name for part in move.place)
        return RefitLine(
            number=number,
            of=move.of,
            joint=move.close,
            kind=joint.kind if joint else None,
            parts=move.place,
            names=names,
            new_parts=tuple(part for part in move.place if part in self.new),
            renewals=self.renewed(move),
            layers=self.layers(move),
            bond=bond(self.record, joint) if joint and bonded else None,
            adhesive=adhesive(joint.material) if joint and bonded else None,
            screws=self.screws(move.close, out),
            look_at=tuple(title_of(self.rules.joints[plug]) for plug in looked),
            live=live,
            trial=self.trial is not None and number == self.trial.before,
            cautions=tuple(self.cautions(move, live)),
        )

    def screws(self, joint: str, out: int) -> ScrewsBack | None:
        """The screws of a joint, with the kinds out in this job that harm its holes."""
        group = self.groups.get(joint)
        if group is None:
            return None
        letters = {one.letter for one in self.groups.values()}
        harmful = tuple(
            one
            for one in self.hazards
            if one.joint == joint and one.screw in letters and one.effect not in ("goes in", "askew")
        )
        return ScrewsBack(group, torque(self.record, self.rules.joints[joint]), harmful, out)

    def renewed(self, move: BackMove) -> tuple[Renewed, ...]:
        """What is renewed with a move back: by its joint or parts, and by the seals and layers it closes."""
        joint = self.rules.joints.get(move.close)
        held = [joint] if joint else [self.rules.parts[part] for part in move.place]
        found = [renewed(one.renew, one.name or one.id) for one in held if one.renew is not None]
        undone = self.counted.moves[move.of - 1]
        own = {one.renew.item.casefold() for one in self.record.joints if one.renew is not None}
        for renew, together in films(self.record):
            if renew.item.casefold() not in own and parted(undone, together):
                found.append(renewed(renew, " and ".join(together)))
        return tuple({line.item.casefold(): line for line in found}.values())

    def layers(self, move: BackMove) -> tuple[Layer, ...]:
        """Thermal layers that a move back closes: pads and pastes by their thickness."""
        undone = self.counted.moves[move.of - 1]
        return tuple(layer for layer in self.record.layers if parted(undone, layer.between))

    def cautions(self, move: BackMove, live: bool) -> Iterator[str]:
        """Keys of the cautions of a move back."""
        joint = self.rules.joints.get(move.close)
        touched = set(move.place) | set(joint.holds if joint else ())
        if touched & self.cells:
            yield "cell"
        if joint is not None and joint.kind == "adhesive" and adhesive(joint.material).solvent:
            yield "solvent"
        if any(self.rules.parts[part].role == "display" for part in touched):
            yield "glass"
        if joint is not None and joint.kind in ELECTRICAL:
            yield "static"
            if joint.kind == "solder":
                yield "mains"
        if live:
            yield "live"


def covered_before(rules: Rules, back: Sequence[BackMove]) -> tuple[tuple[str, ...], ...]:
    """For each move back the plugs closed on this way that it covers: those whose reach it takes."""
    state = reached(back)
    plugs: list[str] = []
    found = []
    for move in back:
        free = [plug for plug in plugs if open_to_view(rules, state, plug)]
        state = close(rules, state, move.close) if move.close else put(rules, state, move.place)
        found.append(tuple(plug for plug in free if not open_to_view(rules, state, plug)))
        if move.close and rules.joints[move.close].kind == "connector":
            plugs.append(move.close)
    return tuple(found)


def open_to_view(rules: Rules, state: State, joint: str) -> bool:
    """Whether nothing covers a joint."""
    said = rules.joints[joint]
    return not rules.missing(state, said.behind, frozenset(said.holds), frozenset())


def live_back(record: Record, back: Sequence[BackMove]) -> frozenset[int]:
    """Numbers of the moves back that close an electrical joint while a battery is connected."""
    supply, fed = set(cell_connectors(record)), live_joints(record)
    still_open = {move.close for move in back} & supply
    found = set()
    for number, move in enumerate(back, start=1):
        if move.close in fed and supply - still_open:
            found.add(number)
        still_open.discard(move.close)
    return frozenset(found)
