"""A refit in progress: the way back beside what was ticked and counted, and what is wrong at once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

import msgspec

from midframe.faults import BadSetting, IllegalMove, UnknownPart
from midframe.publish.job import Begun, InHole, Job
from midframe.publish.refit import Refit, RefitLine, refit
from midframe.record import Record
from midframe.record.model import Move
from midframe.refit import WeighCheck, weigh_check
from midframe.refit.weigh import difference_uncertainty_g
from midframe.screws.count_back import CountBack, Found, drive, found, left_in, start
from midframe.screws.mass import masses
from midframe.ways.backward import close, put
from midframe.ways.rules import Rules, State

TRIAL = "trial"
"""What the trial is ticked by, which is no move."""


class Hole(msgspec.Struct, frozen=True):
    """One hole: number, the letter of the screw in it (empty: none), whether that is its own kind."""

    number: int
    letter: str
    right: bool
    place_mm: tuple[float, float] | None


class Step(msgspec.Struct, frozen=True):
    """One move back with what was told of it.

    `wrong` are sentences on its screws, `empty` is how many of its holes have none.
    """

    line: RefitLine
    key: str
    done: bool
    by: str
    at: str
    in_spite: str
    holes: tuple[Hole, ...]
    empty: int
    wrong: tuple[str, ...]


class Curing(msgspec.Struct, frozen=True):
    """A bond that gains strength: until when the device lies weighted (empty: no more), when it is strong."""

    name: str
    weighted_until: str
    full_at: str


class Progress(msgspec.Struct, frozen=True, kw_only=True):
    """A refit as far as it has come.

    `state` is the device now; `moves` lead to it from the closed one, so that a job resumes from them.
    `next` is the key of the first move that is not ticked, empty when all are. `tried` says that the
    trial is ticked (its key is `TRIAL`). `out` and `back_in` count screws. `weighed` compares the two
    weighings where both were told.
    """

    refit: Refit
    steps: tuple[Step, ...]
    state: State
    moves: tuple[Move, ...]
    next: str
    tried: bool
    count: CountBack
    found: Found
    out: int
    back_in: int
    weighed: WeighCheck | None

    @property
    def done(self) -> int:
        """How many moves are ticked."""
        return sum(step.done for step in self.steps)

    @property
    def alarms(self) -> tuple[str, ...]:
        """What is wrong with the screws now: wrong kinds, left over, missing, holes empty under a tick."""
        empty = [empty_words(step) for step in self.steps if step.done and step.empty]
        return (*self.found.sentences, *empty)

    @property
    def driven(self) -> dict[str, int]:
        """Screws in their holes, by joint."""
        return dict(Counter(one.joint for one in self.count.driven))

    @property
    def open_points(self) -> tuple[str, ...]:
        """What is wrong where nothing should be any more: moves not ticked, screws, the weighing."""
        left = len(self.steps) - self.done
        points = [f"{left} move{'s are' if left > 1 else ' is'} not ticked"] if self.next else []
        points += self.alarms
        if self.weighed is not None and self.weighed.verdict != "no difference seen":
            points.append(self.weighed.sentence)
        return tuple(points)


def key_of(line: RefitLine) -> str:
    """What a move back is ticked by: the joint that it closes, or the parts that it places."""
    return f"close {line.joint}" if line.joint else f"place {' '.join(line.parts)}"


def progress(record: Record, job: Job) -> Progress | None:
    """How far a refit has come; None where none was begun.

    Ticks and holes that the record does not know any more are passed over. Raises `IllegalMove` where
    the record was edited so that its moves are none any more.

    >>> from midframe import demo
    >>> from midframe.publish.job import Begun, Ticked, Told, job_of
    >>> from midframe.publish.refit import moves_of_log
    >>> record = demo.load("tern-3")
    >>> begun = Told(Begun("log", moves_of_log(record, 6)))
    >>> told = progress(record, job_of([begun]))
    >>> told.next, told.done, len(told.steps)
    ('place back-cover', 0, 6)
    """
    if job.begun is None or not isinstance(job.begun.telling, Begun):
        return None
    begun = job.begun.telling
    back = refit(record, begun.moves, new_parts=begun.new_parts)
    count = counted(record, back, job)
    told = found(record, count, {k: n for k, n in job.lying.items() if k in letters(count)} or None)
    steps = tuple(step(record, line, job, count, told) for line in back.lines)
    left = tuple(one for one in steps if not one.done)
    return Progress(
        refit=back,
        steps=steps,
        state=State(
            frozenset(one.line.joint for one in left if one.line.joint),
            frozenset(part for one in left for part in one.line.parts),
        ),
        moves=still_open(begun.moves, left),
        next=left[0].key if left else "",
        tried=TRIAL in job.ticks,
        count=count,
        found=told,
        out=back.screws,
        back_in=len(count.driven),
        weighed=compared(record, job, count),
    )


def letters(count: CountBack) -> set[str]:
    """The kinds that are out in this job."""
    return {group.letter for group in count.groups}


def counted(record: Record, back: Refit, job: Job) -> CountBack:
    """The holes of this job with what is in them."""
    count = start(record, [line.joint for line in back.lines if line.screws])
    for (joint, hole), letter in job.holes.items():
        try:
            count = drive(count, joint, hole, letter)
        except (BadSetting, UnknownPart):  # the record was edited: this hole or kind is there no more
            continue
    return count


def step(record: Record, line: RefitLine, job: Job, count: CountBack, told: Found) -> Step:
    """One move back with what was told of it."""
    key = key_of(line)
    tick = job.ticks.get(key)
    holes = holes_of(line, count)
    return Step(
        line=line,
        key=key,
        done=tick is not None,
        by=tick.author if tick else "",
        at=tick.at if tick else "",
        in_spite=getattr(tick.telling, "in_spite", "") if tick else "",
        holes=holes,
        empty=sum(not hole.letter for hole in holes),
        wrong=tuple(left_in(record, count, told, line.joint)) if line.screws else (),
    )


def holes_of(line: RefitLine, count: CountBack) -> tuple[Hole, ...]:
    """The holes of a move back that drives screws in."""
    if line.screws is None:
        return ()
    group = line.screws.group
    held = {one.hole: one.letter for one in count.driven if one.joint == group.joint}
    spots = group.spots_mm
    return tuple(
        Hole(
            number,
            held.get(number, ""),
            held.get(number, "") == group.letter,
            spots[number - 1] if number <= len(spots) else None,
        )
        for number in range(1, group.count + 1)
    )


def still_open(moves: Sequence[Move], left: Iterable[Step]) -> tuple[Move, ...]:
    """Of the moves in those that are not undone yet, in their order: they lead to the device as it is."""
    numbers = {one.line.of for one in left}
    return tuple(move for number, move in enumerate(moves, start=1) if number in numbers)


def against(record: Record, told: Progress, key: str) -> tuple[str, ...]:
    """Why a move back should not be ticked now, in sentences; empty where nothing is against it.

    Raises `UnknownPart` where the refit has no such move.
    """
    chosen = next((one for one in told.steps if one.key == key), None)
    if chosen is None:
        raise UnknownPart(f"the refit has no move '{key[:80]}'; right: one of its list")
    if early := before_it(record, told, chosen):
        return (early,)
    words = [empty_words(chosen)] if chosen.empty else []
    words += chosen.wrong
    if chosen.line.trial and not told.tried and not chosen.done:
        words.append("The device was not tried yet: what is wrong now costs a bond later")
    return tuple(words)


def empty_words(chosen: Step) -> str:
    """Which holes of a move back have no screw."""
    numbers = [str(hole.number) for hole in chosen.holes if not hole.letter]
    name = chosen.line.names[0]
    if len(numbers) == len(chosen.holes):
        return f"{name}: no hole has its screw yet"
    holes = f"hole {numbers[0]} has" if len(numbers) == 1 else f"holes {', '.join(numbers)} have"
    return f"{name}: {holes} no screw"


def before_it(record: Record, told: Progress, chosen: Step) -> str:
    """Which move has to be ticked first, where this one would take its reach."""
    left = [one for one in told.steps if not one.done and one is not chosen]
    if chosen.done or not left or told.next == chosen.key:
        return ""
    rules = Rules(record)
    try:
        state = done_now(rules, told.state, chosen)
    except IllegalMove:
        return f"{', '.join(chosen.line.names)}: first {', '.join(left[0].line.names)}, which is not ticked"
    for one in left:
        try:
            state = done_now(rules, state, one)
        except IllegalMove:
            first = ", ".join(one.line.names)
            return f"{', '.join(chosen.line.names)}: it would cover {first}, which is not ticked yet"
    return ""


def curing(told: Progress, now: str) -> tuple[Curing, ...]:
    """Bonds that were ticked and have not their whole strength yet at a time (ISO 8601), the last first."""
    moment, found = datetime.fromisoformat(now), []
    for step in told.steps:
        glue = step.line.adhesive
        if not step.done or not step.at or glue is None or not glue.full_hours:
            continue
        made = datetime.fromisoformat(step.at)
        full = made + timedelta(hours=glue.full_hours)
        rest = made + timedelta(seconds=glue.rest_seconds or 0.0)
        if full > moment:
            weighted = rest.isoformat() if rest > moment else ""
            found.append(Curing(", ".join(step.line.names), weighted, full.isoformat()))
    return tuple(reversed(found))


def taken_back_with(record: Record, told: Progress, key: str) -> tuple[str, ...]:
    """Keys of later moves that are open again too when a tick is taken back: they lie over it.

    >>> from midframe import demo
    >>> from midframe.publish.job import Begun, Ticked, Told, job_of
    >>> from midframe.publish.refit import moves_of_log
    >>> record = demo.load("tern-3")
    >>> keys = ["place back-cover", "close back-bond", "place lens-cover"]
    >>> made = [Begun("log", moves_of_log(record, 6)), *map(Ticked, keys)]
    >>> told = progress(record, job_of(map(Told, made)))
    >>> taken_back_with(record, told, "place back-cover")
    ('close back-bond',)
    """
    rules = Rules(record)

    def open_again(keys: set[str]) -> bool:
        return closes(rules, [one for one in told.steps if not one.done or one.key in keys])

    again = {key}
    later = [one.key for one in told.steps if one.done and one.key != key]
    while later and not open_again(again):
        again.add(later.pop())
    for one in sorted(again - {key}):
        if open_again(again - {one}):
            again.remove(one)
    return tuple(one.key for one in told.steps if one.key in again - {key})


def closes(rules: Rules, left: Sequence[Step]) -> bool:
    """Whether what is left closes the device, one after the other."""
    state = State(
        frozenset(one.line.joint for one in left if one.line.joint),
        frozenset(part for one in left for part in one.line.parts),
    )
    try:
        for one in left:
            state = done_now(rules, state, one)
    except IllegalMove:
        return False
    return state == State()


def done_now(rules: Rules, state: State, one: Step) -> State:
    """The state after a move back."""
    return close(rules, state, one.line.joint) if one.line.joint else put(rules, state, one.line.parts)


def all_in(told: Progress, joint: str) -> tuple[InHole, ...]:
    """Every empty hole of a joint with a screw of its own kind."""
    holes = next((one.holes for one in told.steps if one.line.joint == joint), ())
    own = next((group.letter for group in told.count.groups if group.joint == joint), "")
    return tuple(InHole(joint, hole.number, own) for hole in holes if not hole.letter)


def compared(record: Record, job: Job, count: CountBack) -> WeighCheck | None:
    """The two weighings compared on the worse of their scales; None where one of them is missing."""
    first, last = job.first, job.last
    if first is None or last is None or first.mass_g is None or last.mass_g is None:
        return None
    worse = max((first.scale, last.scale), key=difference_uncertainty_g)
    return weigh_check(
        first.mass_g,
        last.mass_g,
        worse,
        changed_g=last.changed_g,
        changed_uncertainty_g=last.changed_uncertainty_g,
        screws_g=masses(record, [group.joint for group in count.groups]),
    )


def resumes(record: Record, told: Progress) -> bool:
    """Whether what is left closes the device: true for every refit whose ticks were taken in turn."""
    rules = Rules(record)
    left = [one for one in told.steps if not one.done]
    return closes(rules, left) and rules.replay(told.moves) == told.state
