"""A job put away at any move: what lies where, what is on order, what to look at on return."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

import msgspec

from midframe.dossier.trays import Tray, trays
from midframe.publish.language import Language, language
from midframe.publish.names import title_of
from midframe.publish.refit import Refit, refit
from midframe.record import Record, digest
from midframe.record.model import Move
from midframe.ways.electrical import cell_connectors
from midframe.ways.rules import Rules, State


class Ordered(msgspec.Struct, frozen=True):
    """Something on order: what, for which part if any, and a note such as the date it is expected."""

    item: str
    part: str = ""
    note: str = ""


DEVICE = "device"
"""Key of the place where the device itself lies."""


class Resting(msgspec.Struct, frozen=True):
    """A tray that is put away: its key, where it lies (empty: not said), the screws in it by letter."""

    tray: Tray
    key: str
    place: str
    screws: tuple[tuple[str, int], ...]

    @property
    def count(self) -> int:
        """How many screws lie in it."""
        return sum(number for _, number in self.screws)


class Pause(msgspec.Struct, frozen=True, kw_only=True):
    """A pause sheet.

    `done` are the moves made; the same record (`digest`) and moves resume exactly here: `state` and `back`
    follow from them alone. `resting` are the trays with where they lie, `place` where the device does.
    `screws_out` counts what lies in the trays, `driven` the screws that are in again already. `hanging`
    are tethers that are still closed on a part that is aside. `on_leaving` and `on_return` are sentences
    in the order in which to look. `goes_on` is the first move of the way back.
    """

    device: str
    digest: str
    done: tuple[Move, ...]
    state: State
    last: str
    place: str
    trays: tuple[Tray, ...]
    resting: tuple[Resting, ...]
    screws_out: int
    driven: int
    hanging: tuple[str, ...]
    battery_connected: bool
    on_order: tuple[Ordered, ...]
    notes: tuple[str, ...]
    on_leaving: tuple[str, ...]
    on_return: tuple[str, ...]
    goes_on: str
    back: Refit


def tray_key(tray: Tray) -> str:
    """What a tray is known by while its number changes: its parts, else the joints of its screws."""
    return " ".join(tray.parts or ("screws", *(group.joint for group in tray.screws)))


def pause(  # noqa: PLR0913 - all but two are keyword-only
    record: Record,
    moves: Iterable[Move],
    *,
    on_order: Sequence[Ordered] = (),
    notes: Sequence[str] = (),
    places: Mapping[str, str] | None = None,
    driven: Mapping[str, int] | None = None,
    last: str = "",
    code: str = "en",
) -> Pause:
    """The pause sheet after some moves; raises `IllegalMove` where they are no legal sequence.

    Parameters
    ----------
    moves
        What is not undone: the log, or in a refit what is left of it (`progress(...).moves`).
    places
        Where things lie, by `tray_key`, and `DEVICE` for the device itself.
    driven
        Screws that are in their holes again, by joint: they lie in no tray.
    last
        What was done last, where that is no move of `moves` (a refit); else the last of them.
    code
        The language of its sentences.

    >>> from midframe import demo
    >>> from midframe.publish.refit import moves_of_log
    >>> record = demo.load("tern-3")
    >>> sheet = pause(record, moves_of_log(record, 10), on_order=[Ordered("Battery", "battery")])
    >>> sheet.last, sheet.screws_out, len(sheet.trays)
    ('lifted Upper mid cover', 12, 4)
    """
    done, spoken = tuple(moves), language(code)
    rules, where, back_in = Rules(record), places or {}, driven or {}
    state = rules.replay(done)
    lying = trays(record, done)
    resting = tuple(rest(tray, where, back_in) for tray in lying)
    live = any(joint not in state.open for joint in cell_connectors(record))
    hanging = tuple(
        title_of(joint)
        for joint in record.joints
        if joint.tether and joint.id not in state.open and state.aside & set(joint.holds)
    )
    back = refit(record, done)
    return Pause(
        device=record.device.name,
        digest=digest(record),
        done=done,
        state=state,
        last=last or (told(rules, done[-1], spoken) if done else spoken.say("pause-nothing-opened")),
        place=where.get(DEVICE, ""),
        trays=lying,
        resting=resting,
        screws_out=sum(one.count for one in resting),
        driven=sum(tray.count for tray in lying) - sum(one.count for one in resting),
        hanging=hanging,
        battery_connected=live,
        on_order=tuple(on_order),
        notes=tuple(notes),
        on_leaving=leaving(record, state, spoken, live=live, hanging=hanging),
        on_return=returning(resting, hanging, spoken, live=live, on_order=on_order),
        goes_on=", ".join(back.lines[0].names) if back.lines else "",
        back=back,
    )


def rest(tray: Tray, where: Mapping[str, str], back_in: Mapping[str, int]) -> Resting:
    """A tray with what still lies in it, and where it lies."""
    lying: Counter[str] = Counter()
    for group in tray.screws:
        lying[group.letter] += max(0, group.count - back_in.get(group.joint, 0))
    key = tray_key(tray)
    return Resting(tray, key, where.get(key, ""), tuple((one, n) for one, n in lying.items() if n))


def told(rules: Rules, move: Move, spoken: Language) -> str:
    """A move that was made, in words."""
    if move.open:
        return spoken.say("pause-opened", joint=title_of(rules.joints[move.open]))
    return spoken.say("pause-lifted", parts=spoken.listed(rules.parts[part].name for part in move.lift))


def leaving(
    record: Record, state: State, spoken: Language, *, live: bool, hanging: Sequence[str]
) -> tuple[str, ...]:
    """What to do before one goes, in order (common practice, no source)."""
    say = spoken.say
    lines = [say("pause-leave-hot")]
    if live:
        lines.append(say("pause-leave-connected"))
    if hanging:
        lines.append(say("pause-leave-hanging", joints=", ".join(hanging)))
    if "battery" in {one.role for one in record.parts if one.id in state.aside}:
        lines.append(say("pause-leave-cell"))
    if any(one.kind == "adhesive" and one.id in state.open for one in record.joints):
        lines.append(say("pause-leave-adhesive"))
    lines.append(say("pause-leave-boards"))
    return tuple(lines)


def returning(
    resting: Sequence[Resting],
    hanging: Sequence[str],
    spoken: Language,
    *,
    live: bool,
    on_order: Sequence[Ordered],
) -> tuple[str, ...]:
    """What to look at on return, in order (common practice, no source)."""
    say = spoken.say
    lines = [say("pause-return-cell")]
    if resting:
        lines.append(trays_there(resting, spoken))
    if live:
        lines.append(say("live-in") + ".")
    if hanging:
        lines.append(say("pause-return-hanging", joints=", ".join(hanging)))
    for one in on_order:
        noted = say("pause-return-arrived-noted", item=one.item, note=one.note) if one.note else ""
        lines.append(noted or say("pause-return-arrived", item=one.item))
    lines.append(say("pause-return-adhesive"))
    return tuple(lines)


def trays_there(resting: Sequence[Resting], spoken: Language) -> str:
    """That the trays are there, with the screws in them by their letters."""
    kinds: Counter[str] = Counter()
    for one in resting:
        kinds.update(dict(one.screws))
    trays, screws = len(resting), kinds.total()
    if not screws:
        return spoken.say("pause-return-trays", trays=trays, screws=screws)
    by_kind = [spoken.say("pause-of-kind", count=n, letter=letter) for letter, n in sorted(kinds.items())]
    return spoken.say("pause-return-kinds", trays=trays, screws=screws, kinds=", ".join(by_kind))
