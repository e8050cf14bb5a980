"""A heating at the bench out of its notes: what was begun, what was read, when the source was on and off."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

import msgspec

from midframe.faults import BadSetting
from midframe.web.heat_form import hot_name
from midframe.web.words import clock, duration

if TYPE_CHECKING:
    from midframe.heat import Cycles, Next
    from midframe.store import BenchNote, Store

MOST_FITTED = 10
"""Readings that a fit takes: as many as `midframe.heat.calibrate` does."""


SAME_SECONDS = 0.5
"""Readings less apart than this are one and the same, or one of them is wrong (house choice)."""


class Begun(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a heating was begun with: options of the plan, the setting that is followed."""

    joint: str
    setting: dict[str, Any]
    cell: str = "not said"
    soft_c: float | None = None
    limits_c: dict[str, float] = {}
    taped: bool = False
    cycles: bool = False


class Typed(msgspec.Struct, frozen=True, kw_only=True):
    """One reading: its number, seconds since the source first went on, °C shown, who typed it."""

    id: int
    seconds: float
    shown_c: float
    author: str = ""


class Phase(msgspec.Struct, frozen=True):
    """A time in which the source is on; `off_at` is absent while it is."""

    on_at: str
    off_at: str | None = None


class Watched(msgspec.Struct, frozen=True, kw_only=True):
    """A heating as its notes tell it."""

    begun: Begun
    phases: tuple[Phase, ...]
    readings: tuple[Typed, ...]
    ended: bool = False
    author: str = ""

    @property
    def on(self) -> bool:
        """Whether the source is on."""
        return not self.ended and self.phases[-1].off_at is None

    @property
    def first(self) -> bool:
        """Whether it is the first heat, which readings follow."""
        return len(self.phases) == 1

    def seconds(self, now: str) -> float:
        """Seconds since the source last went on or off, to this moment."""
        last = self.phases[-1]
        return max(0.0, between(last.off_at or last.on_at, now))

    def heated(self, now: str) -> float:
        """Seconds of the first heat, to its end or to this moment."""
        first = self.phases[0]
        return max(0.0, between(first.on_at, first.off_at or now))


class Now(msgspec.Struct, frozen=True, kw_only=True):
    """What the screen shows at a moment: step, words, seconds that run, when the next reading is due."""

    step: str
    say: str
    seconds: float
    running: bool
    due: float | None = None


def between(earlier: str, later: str) -> float:
    """Seconds between two moments.

    >>> between("2026-11-25T08:00:00+00:00", "2026-11-25T08:01:30+00:00")
    90.0
    """
    return (datetime.fromisoformat(later) - datetime.fromisoformat(earlier)).total_seconds()


def thread_of(record_id: str, joint: str) -> str:
    """The thread of the heatings of a bond."""
    return f"heat-watch/{record_id}/{joint}"


def watched(store: Store, record_id: str, joint: str) -> Watched | None:
    """The newest heating of a bond; None where there was none."""
    return folded(store.notes(thread_of(record_id, joint)))


def folded(notes: Sequence[BenchNote]) -> Watched | None:
    """What some notes come to: the newest heating, with everything that followed."""
    found: Watched | None = None
    for note in notes:
        if note.kind == "begun":
            begun = msgspec.json.decode(note.content, type=Begun)
            found = Watched(begun=begun, phases=(Phase(note.at),), readings=(), author=note.author)
        elif found is not None:
            found = followed(found, note)
    return found


def followed(found: Watched, note: BenchNote) -> Watched:
    """A heating after one more note; a note that does not fit its state changes nothing."""
    last = found.phases[-1]
    if note.kind == "reading":
        seconds, shown_c = msgspec.json.decode(note.content, type=tuple[float, float])
        more = Typed(id=note.id, seconds=seconds, shown_c=shown_c, author=note.author)
        return msgspec.structs.replace(found, readings=(*found.readings, more))
    if note.kind == "taken back":
        of = msgspec.json.decode(note.content, type=int)
        kept = tuple(one for one in found.readings if one.id != of)
        return msgspec.structs.replace(found, readings=kept)
    if note.kind == "off" and last.off_at is None:
        return msgspec.structs.replace(found, phases=(*found.phases[:-1], Phase(last.on_at, note.at)))
    if note.kind == "on" and last.off_at is not None and not found.ended:
        return msgspec.structs.replace(found, phases=(*found.phases, Phase(note.at)))
    if note.kind == "ended":
        closed = Phase(last.on_at, last.off_at or note.at)
        return msgspec.structs.replace(found, phases=(*found.phases[:-1], closed), ended=True)
    return found


def begun_in(content: str, joint: str, *, taped: bool) -> Begun:
    """What a form says to begin with; raises `BadSetting` where it is none of a plan of this bond."""
    from midframe.heat import Setting

    try:
        found = msgspec.json.decode(content, type=Begun)
        msgspec.convert(found.setting, Setting, strict=False)
    except msgspec.MsgspecError:
        raise BadSetting("timer: found no setting; right: start it from the plan of the bond") from None
    if found.joint != joint:
        raise BadSetting(
            f"timer: found the bond '{found.joint[:40]}'; right: start it from the plan of {joint}"
        )
    return msgspec.structs.replace(found, taped=taped)


def ahead_options(found: Watched) -> dict[str, Any]:
    """The options of the question what comes next; of many readings the first and the newest are fitted."""
    readings = sorted((one.seconds, one.shown_c) for one in found.readings)
    if len(readings) > MOST_FITTED:
        readings = [readings[0], *readings[1 - MOST_FITTED :]]
    begun: dict[str, Any] = msgspec.to_builtins(found.begun)
    return {**begun, "readings": [list(one) for one in readings]}


def check_reading(found: Watched, seconds: float, shown_c: float) -> bool:
    """Whether a reading is there already, as when it was sent twice.

    Raises `BadSetting` where it cannot be kept.
    """
    if not (0.0 < seconds <= 7200.0 and -20.0 <= shown_c <= 400.0):
        told = f"found {shown_c:g} °C after {seconds:.0f} s"
        raise BadSetting(f"reading: {told}; right: −20 to 400 °C after 0 to 7200 s")
    near = [one for one in found.readings if abs(one.seconds - seconds) < SAME_SECONDS]
    if near and near[0].shown_c != shown_c:
        raise BadSetting(f"reading: found another one after {seconds:.0f} s; right: each at its own time")
    return bool(near)


def moment(found: Watched, known: Next, now: str) -> Now:
    """What the screen shows now."""
    seconds = found.seconds(now)
    if found.ended:
        return Now(step="ended", say="This heating is ended.", seconds=found.heated(now), running=False)
    if not found.on:
        return Now(step="pry", say=prying(found, known, now), seconds=seconds, running=True)
    if not found.first:
        return Now(step="heat", say=again(seconds, more_seconds(found, known)), seconds=seconds, running=True)
    if known.tried.cycles is not None:
        return turning(known.tried.cycles, seconds)
    from midframe.heat import later

    step = later(known, seconds)
    return Now(step=step.step, say=step.say, seconds=seconds, running=True, due=step.reading_due_seconds)


def lacking(found: Watched, known: Next) -> float:
    """Seconds of heat that the first heat ended before the bond was soft; 0 where it was soft."""
    cycles = known.tried.cycles
    soft = known.soft_seconds if cycles is None else cycles.soft_seconds
    first = found.phases[0]
    if soft is None or first.off_at is None:
        return 0.0
    return max(0.0, soft - between(first.on_at, first.off_at))


def more_seconds(found: Watched, known: Next) -> float | None:
    """For how long to heat again: what was lacking, else what brings a bond back; None for not at all."""
    missing, reheat = lacking(found, known), known.tried.reheat
    if missing > 0:
        return missing
    return None if reheat is None or reheat.too_hot else reheat.again_seconds


def turning(cycles: Cycles, seconds: float) -> Now:
    """What to do while the source goes on and off in turn."""
    from midframe.heat import turn_at

    turn = turn_at(cycles, seconds)
    if turn.soft:
        return Now(step="work", say="Source off and pry: the bond is soft.", seconds=seconds, running=True)
    state, other = ("on", "off") if turn.on else ("off", "on again")
    say = f"Source {state}, turn {turn.number} of {cycles.count}: {other} at {clock(turn.until_seconds)}."
    return Now(step="heat", say=say, seconds=seconds, running=True)


def prying(found: Watched, known: Next, now: str) -> str:
    """What to do while the source is off."""
    missing, reheat, seconds = lacking(found, known), known.tried.reheat, found.seconds(now)
    if missing > 0 and found.first:
        return f"Not soft yet: the heat was {duration(missing)} short. Heat again for as long."
    if reheat is None:
        return "The source is off. Pry only where the bond gives way."
    if seconds < reheat.stays_soft_seconds:
        left = reheat.stays_soft_seconds - seconds
        return f"Pry now: the bond stays soft for about {duration(left)} more."
    if reheat.too_hot:
        return f"The bond cools. Do not heat again yet: {hot_name(reheat.too_hot)} would pass its limit."
    if reheat.again_seconds is None:
        return "The bond cools. Heat would not bring it back: let it cool, then begin anew."
    return f"The bond cools: where the pick drags, heat again for {duration(reheat.again_seconds)}."


def again(seconds: float, most: float | None) -> str:
    """What to do while heating again, for `most` seconds."""
    if most is None:
        return "Source off: for heating again there is no safe time."
    if seconds >= most:
        return "Source off and pry: the bond is soft again."
    return f"Heat again, {duration(most - seconds)} more."
