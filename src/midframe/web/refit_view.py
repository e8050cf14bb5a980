"""A refit as its page shows it: every move in words, the holes with their balloons, what is wrong."""

from __future__ import annotations

import msgspec

from midframe.publish.balloons import Balloons, balloons
from midframe.publish.job import Begun, Job
from midframe.publish.language import language
from midframe.publish.progress import Hole, Progress, Step, against, before_it
from midframe.publish.section import stack_drawing
from midframe.publish.site_refit import action, beside
from midframe.record.model import LogEntry, Record
from midframe.screws.wording import short

Texts = tuple[tuple[bool, str], ...]
"""A line as pieces, each with whether it stands out."""


class LineView(msgspec.Struct, frozen=True):
    """One move back as the page shows it; `note` and `photo` (its hash) are from taking apart."""

    step: Step
    number: int
    does: str
    texts: tuple[Texts, ...]
    note: str
    photo: str

    @property
    def warnings(self) -> tuple[Texts, ...]:
        """The lines that begin with a strong word: what must not be done."""
        return tuple(text for text in self.texts if text[0][0])

    @property
    def before(self) -> tuple[Texts, ...]:
        """The other lines."""
        return tuple(text for text in self.texts if not text[0][0])


class NotTaken(msgspec.Struct, frozen=True):
    """A tick that was not taken: the move, why (but for the alarms), whether it can still be made."""

    line: LineView
    words: tuple[str, ...]
    anyway: bool


class View(msgspec.Struct, frozen=True, kw_only=True):
    """All that the page of a refit shows besides the tellings themselves."""

    lines: tuple[LineView, ...]
    now: LineView | None
    holes: tuple[Hole, ...]
    drawing: Balloons | None
    section: str
    kinds: tuple[tuple[str, str], ...]
    own: str
    warned: NotTaken | None
    alarms: tuple[str, ...]
    wrong_ticked: bool
    basis: str
    cautions: tuple[str, ...]


def view_of(record: Record, job: Job, told: Progress) -> View:
    """The view of a refit."""
    names = {part.id: part.name for part in record.parts}
    entries = logged(record, job)
    lines = tuple(line_of(step, names, entries.get(step.line.of)) for step in told.steps)
    at = next((one for one in lines if one.step.key == told.next), None)
    group = at.step.line.screws.group if at is not None and at.step.line.screws else None
    joint = next((one for one in record.joints if group is not None and one.id == group.joint), None)
    drawn = None
    if group is not None and joint is not None and len(group.spots_mm) == group.count:
        drawn = balloons(record, group.spots_mm, group.cover, "front" if joint.face == "front" else "back")
    return View(
        lines=lines,
        now=at,
        holes=at.step.holes if at is not None else (),
        drawing=drawn,
        section=section_of(record, told, at) if at is not None else "",
        kinds=tuple({g.letter: short(g.letter, g.kind) for g in told.count.groups}.items()),
        own=group.letter if group is not None else "",
        warned=warned(record, job, told, lines),
        alarms=told.alarms,
        wrong_ticked=any(one.done and (one.wrong or one.empty) for one in told.steps),
        basis=basis_of(job, names),
        cautions=tuple(dict.fromkeys(key for one in told.refit.lines for key in one.cautions)),
    )


def section_of(record: Record, told: Progress, line: LineView) -> str:
    """The section with what lies in place; the part of this move rises, the joint of it is marked (SVG)."""
    move = line.step.line
    joints = {joint.id: joint for joint in record.joints}
    parts = {part.id: part for part in record.parts}
    face = joints[move.joint].face if move.joint in joints else parts[move.parts[0]].face
    return stack_drawing(
        record,
        [move.parts] if move.parts else [],
        gone=told.state.aside - set(move.parts),
        marked_joints=[move.joint] if move.joint else [],
        up="front" if face == "front" else "back",
    )


def logged(record: Record, job: Job) -> dict[int, LogEntry]:
    """The entries of the log by the number of their move, where the refit was begun from the log."""
    begun = job.begun.telling if job.begun else None
    if not isinstance(begun, Begun) or begun.basis != "log":
        return {}
    entries = {(entry.open, entry.lift): entry for entry in record.log}
    found = (
        (number, entries.get((move.open, move.lift))) for number, move in enumerate(begun.moves, start=1)
    )
    return {number: entry for number, entry in found if entry is not None}


def line_of(step: Step, names: dict[str, str], entry: LogEntry | None) -> LineView:
    """One move back in words."""
    said = language()
    texts = tuple(
        tuple((not isinstance(piece, str), piece if isinstance(piece, str) else piece.text) for piece in line)
        for line in beside(step.line, names, said)
    )
    note, photo = (entry.note, entry.photo) if entry is not None else ("", "")
    return LineView(step, step.line.number, action(step.line, said), texts, note, photo)


def warned(record: Record, job: Job, told: Progress, lines: tuple[LineView, ...]) -> NotTaken | None:
    """The tick that was not taken, as long as its reason still stands."""
    line = next((one for one in lines if job.warned is not None and one.step.key == job.warned.line), None)
    if line is None or line.step.done:
        return None
    words = against(record, told, line.step.key)
    if not words:
        return None
    rest = tuple(one for one in words if one not in told.alarms)
    return NotTaken(line, rest, not before_it(record, told, line.step))


def basis_of(job: Job, names: dict[str, str]) -> str:
    """What the refit was begun from, in words."""
    begun = job.begun.telling if job.begun else None
    basis = begun.basis if isinstance(begun, Begun) else ""
    known = {"log": "the bench log", "everything": "everything taken apart"}
    return known.get(basis, f"the way in to {names.get(basis, basis)}")
