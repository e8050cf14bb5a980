"""A job as it was told at the bench: ticks, which screw is in which hole, weighings, what lies where.

Every telling says how something now is (this line is done, in this hole is a screw of kind B), never that it
changed: the same told twice, or by two people at once, comes to the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal, TypeAlias

import msgspec

from midframe.publish.pause import Ordered
from midframe.record.model import Move
from midframe.refit import Scale


class Begun(msgspec.Struct, frozen=True, tag="begun", forbid_unknown_fields=True):
    """A refit begins: from the log, from everything out, or from the way to a part; ticks begin anew."""

    basis: str
    moves: tuple[Move, ...]
    new_parts: tuple[str, ...] = ()


class BeganBefore(msgspec.Struct, frozen=True, tag="began_before"):
    """The refit was begun anew by a slip: the one before stands again, with its ticks."""


class Ticked(msgspec.Struct, frozen=True, tag="ticked"):
    """A move back is done, or not; `in_spite` is the warning against which it was ticked."""

    line: str
    done: bool = True
    in_spite: str = ""


class InHole(msgspec.Struct, frozen=True, tag="hole"):
    """In a hole (number from 1) is a screw of a kind by its letter; empty: none."""

    joint: str
    hole: int
    letter: str = ""


class Lying(msgspec.Struct, frozen=True, tag="lying"):
    """So many screws of a kind lie in the tray now; None: not counted."""

    letter: str
    count: int | None


class Weighed(msgspec.Struct, frozen=True, tag="weighed"):
    """A weighing before opening (`first`) or at the end (`last`), in grams, with the scale.

    `changed_g` is what was changed on purpose by the end, with its standard uncertainty.
    """

    when: Literal["first", "last"]
    mass_g: float | None
    resolution_g: float = 0.1
    repeatability_g: float | None = None
    changed_g: float = 0.0
    changed_uncertainty_g: float = 0.0

    @property
    def scale(self) -> Scale:
        """The scale it was weighed on."""
        return Scale(self.resolution_g, self.repeatability_g)


class Warned(msgspec.Struct, frozen=True, tag="warned"):
    """A tick that was not taken, and why; it stands until that move is ticked or a screw is moved."""

    line: str
    words: str


class PutAway(msgspec.Struct, frozen=True, tag="put_away"):
    """The job is put away; `places` says where each tray lies, by its key (`tray_key`)."""

    places: tuple[tuple[str, str], ...] = ()
    notes: str = ""


class OnOrder(msgspec.Struct, frozen=True, tag="on_order"):
    """Something is on order; `number` tells it from the others, an empty item takes it off the list."""

    number: str
    item: str
    part: str = ""
    note: str = ""
    came: bool = False


class TakenUp(msgspec.Struct, frozen=True, tag="taken_up"):
    """The job goes on."""


class Ended(msgspec.Struct, frozen=True, tag="ended"):
    """The device is closed and the job at its end; `open_points` is what was still wrong then."""

    open_points: tuple[str, ...] = ()


class Reopened(msgspec.Struct, frozen=True, tag="reopened"):
    """The end was told too early: the job goes on as it was."""


Telling: TypeAlias = (
    Begun
    | BeganBefore
    | Ticked
    | InHole
    | Lying
    | Weighed
    | Warned
    | PutAway
    | OnOrder
    | TakenUp
    | Ended
    | Reopened
)


class Told(msgspec.Struct, frozen=True):
    """A telling with who told it and when (ISO 8601)."""

    telling: Telling
    author: str = ""
    at: str = ""


class Job(msgspec.Struct, frozen=True, kw_only=True):
    """Where a job stands by all that was told of it.

    `ticks` are the lines done, each with who ticked it, when, and the warning it was ticked against;
    `holes` the letter of the screw in each hole; `away` the telling that put the job away, None while
    it is worked on; `places` stay as they were told last. `before` is the refit that another beginning
    replaced, where something was ticked in it.
    """

    begun: Told | None = None
    ticks: Mapping[str, Told] = {}
    holes: Mapping[tuple[str, int], str] = {}
    lying: Mapping[str, int] = {}
    first: Weighed | None = None
    last: Weighed | None = None
    warned: Warned | None = None
    away: Told | None = None
    places: Mapping[str, str] = {}
    notes: str = ""
    orders: Mapping[str, OnOrder] = {}
    ended: Told | None = None
    before: Job | None = None

    @property
    def on_order(self) -> tuple[Ordered, ...]:
        """What has not come yet, as the pause sheet takes it."""
        return tuple(Ordered(one.item, one.part, one.note) for one in self.orders.values() if not one.came)


def packed(tellings: Iterable[Telling]) -> str:
    """Tellings as JSON, which `unpacked` reads."""
    return msgspec.json.encode(tuple(tellings)).decode()


def unpacked(text: str) -> tuple[Telling, ...]:
    """Tellings from JSON.

    >>> unpacked(packed([Ticked("close lid-clips")]))
    (Ticked(line='close lid-clips', done=True, in_spite=''),)
    """
    return msgspec.json.decode(text, type=tuple[Telling, ...])


def job_of(told: Iterable[Told]) -> Job:
    """Where the job stands that was told last. What is told after an end, and not of it, begins another job.

    >>> job = job_of([Told(Ticked("a"), "Ann"), Told(Ticked("b")), Told(Ticked("b", done=False))])
    >>> [(line, one.author) for line, one in job.ticks.items()]
    [('a', 'Ann')]
    """
    job = Job()
    for one in told:
        if job.ended is not None and begins_another(job, one.telling):
            job = Job()
        job = after(job, one)
    return job


def begins_another(job: Job, telling: Telling) -> bool:
    """Whether what is told after an end is of the next job, and not of the end or of a known order."""
    match telling:
        case Ended() | Reopened() | TakenUp():
            return False
        case OnOrder():
            return telling.number not in job.orders
        case _:
            return True


def after(job: Job, told: Told) -> Job:
    """The job after one more telling."""
    change = msgspec.structs.replace
    match told.telling:
        case Begun():
            before = job if job.ticks or job.holes else job.before
            return change(job, begun=told, ticks={}, holes={}, lying={}, warned=None, before=before)
        case BeganBefore():
            return job if job.before is None else taken_back(job, job.before)
        case Ticked() as tick:
            ticks = {line: one for line, one in job.ticks.items() if line != tick.line}
            return change(job, ticks=ticks | ({tick.line: told} if tick.done else {}), warned=None)
        case InHole() as hole:
            return change(
                job, holes=without(job.holes, (hole.joint, hole.hole), hole.letter), lying={}, warned=None
            )
        case Lying() as tray:
            return change(job, lying=without(job.lying, tray.letter, tray.count))
        case Weighed() as weighing:
            kept = None if weighing.mass_g is None else weighing
            return change(job, first=kept) if weighing.when == "first" else change(job, last=kept)
        case Warned() as warning:
            return change(job, warned=warning)
        case _:
            return put_away(job, told)


def taken_back(job: Job, before: Job) -> Job:
    """The job with the refit before in place of the one begun by a slip; what else was told stays."""
    return msgspec.structs.replace(
        job,
        begun=before.begun,
        ticks=before.ticks,
        holes=before.holes,
        lying=before.lying,
        warned=None,
        before=before.before,
    )


def put_away(job: Job, told: Told) -> Job:
    """The job after a telling about its rest or its end."""
    change = msgspec.structs.replace
    match told.telling:
        case PutAway() as rest:
            places = {**job.places, **dict(rest.places)}
            return change(
                job, away=told, notes=rest.notes, places={key: one for key, one in places.items() if one}
            )
        case OnOrder() as order:
            return change(job, orders=without(job.orders, order.number, order if order.item else None))
        case TakenUp():
            return change(job, away=None)
        case Ended():
            return change(job, ended=told, away=None)
        case _:
            return change(job, ended=None)


def without(held: Mapping, key: object, value: object) -> dict:  # type: ignore[type-arg]
    """A mapping with a key set anew in its old place; an empty value (not 0) takes it out."""
    if value is None or value == "":
        return {one: said for one, said in held.items() if one != key}
    return {**held, key: value}
