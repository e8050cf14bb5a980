"""The moves of a way told one by one: work, tally, reasons, cautions, and the drawings beside them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from midframe.publish.contents import MoveIn, Screws, Work
from midframe.publish.names import title_of
from midframe.publish.plan import plan_drawing
from midframe.publish.section import stack_drawing
from midframe.record.model import Face, Operation, Record
from midframe.ways.bench import HEATING_WORDS
from midframe.ways.count import CountedMove, ruined_by
from midframe.ways.rules import Rules, State
from midframe.ways.way import Way, whys

WAITING = ("soak", "wait", "dwell", "let ", "cool", "cure")
"""First words of operations in which the clock works, not the hand (own construction)."""


def clock_of(do: str) -> str:
    """Whether the clock rules an operation: "heat", "wait" or nothing."""
    said = do.casefold()
    if said.startswith(HEATING_WORDS):
        return "heat"
    return "wait" if said.startswith(WAITING) else ""


class Teller:
    """Tells the moves of a way; `targets` are what it is for, `live` moves with the battery connected.

    `code` is the language of what the drawings say.
    """

    def __init__(
        self, record: Record, way: Way, targets: Sequence[str], live: Sequence[int], code: str = "en"
    ) -> None:
        self.code = code
        self.record, self.way, self.targets, self.live = record, way, tuple(targets), frozenset(live)
        self.rules = Rules(record)
        self.parts, self.joints = self.rules.parts, self.rules.joints
        reasons = [whys(record, way.moves, target, self.rules) for target in targets]
        self.reasons = [tuple(sorted({n for r in each for n in r})) for each in zip(*reasons, strict=True)]
        self.out_of = sum(self.joints[m.open].count or 1 for m in way.moves if self.is_screw(m.open))

    def is_screw(self, joint: str) -> bool:
        """Whether an id is that of a screw joint."""
        return bool(joint) and self.joints[joint].kind == "screw"

    def part_name(self, part: str) -> str:
        """The name of a part."""
        return self.parts[part].name

    def moves(self) -> tuple[MoveIn, ...]:
        """Every move in order."""
        return tuple(self.told())

    def told(self) -> Iterator[MoveIn]:
        """The moves one after the other, with the state and the side that is up carried along."""
        state, up = State(), self.overview_side()
        for number, (move, counted) in enumerate(
            zip(self.way.moves, self.way.count.moves, strict=True), start=1
        ):
            if counted.face in ("front", "back"):
                up = counted.face
            tell = self.opening if move.open else self.lifting
            yield tell(number, counted, state, up)
            state = self.rules.apply(state, move)

    def overview_side(self) -> Face:
        """The side most of the moves are worked from."""
        faces = [move.face for move in self.way.count.moves]
        return "front" if faces.count("front") > faces.count("back") else "back"

    def opening(self, number: int, counted: CountedMove, state: State, up: Face) -> MoveIn:
        """A move that opens a joint."""
        joint = self.joints[counted.move.open]
        others = tuple(work for by, work in enumerate(joint.work, start=1) if by != counted.move.by)
        section = stack_drawing(self.record, (), state.aside, [joint.id], self.targets[0], up, code=self.code)
        screws = joint.kind == "screw"
        plan = plan_drawing(self.record, [joint], joint.holds, up, code=self.code) if screws else ""
        return self.common(
            number,
            counted,
            kind=joint.kind,
            name=title_of(joint),
            holds=tuple(map(self.part_name, joint.holds)),
            otherwise=others,
            screws=self.screws(number),
            along=(),
            hanging=(),
            ruins=tuple(map(self.part_name, ruined_by(joint, counted.operations))),
            assumed=joint.assumed,
            note=joint.note,
            section=section,
            plan=plan,
        )

    def lifting(self, number: int, counted: CountedMove, state: State, up: Face) -> MoveIn:
        """A move that lifts parts."""
        group = self.gripped_first(counted)
        part = self.parts[group[0]]
        hanging = tuple(
            title_of(joint)
            for joint in self.record.joints
            if joint.tether and joint.id not in state.open and len(set(joint.holds) & set(group)) == 1
        )
        lift = part.lift
        return self.common(
            number,
            counted,
            kind=None,
            name=part.name,
            holds=(),
            otherwise=(),
            screws=None,
            along=tuple(map(self.part_name, group[1:])),
            hanging=hanging,
            ruins=(),
            assumed=part.assumed,
            note=(lift.note if lift else "") or part.note,
            section=stack_drawing(
                self.record, [group], state.aside - set(group), (), self.targets[0], up, code=self.code
            ),
            plan="",
        )

    def common(self, number: int, counted: CountedMove, **rest: object) -> MoveIn:
        """A move with what is told of every kind."""
        return MoveIn(
            number=number,
            face=counted.face,
            turned=counted.flipped,
            work=tuple(map(self.work, counted.operations)),
            seconds=counted.seconds,
            default_times=counted.default_times,
            whys=self.reasons[number - 1],
            live=number in self.live,
            **rest,  # type: ignore[arg-type]
        )

    def gripped_first(self, counted: CountedMove) -> tuple[str, ...]:
        """The parts that leave with a lift, those named in the move first."""
        named = counted.move.lift
        return (*named, *(part for part in counted.group if part not in named))

    def work(self, step: Operation) -> Work:
        """One operation with names for ids."""
        harms, ruins = (tuple(map(self.part_name, ids)) for ids in (step.harms, step.ruins))
        return Work(step.do, step.tools, step.seconds, step.risk, harms, ruins, step.note, clock_of(step.do))

    def screws(self, number: int) -> Screws | None:
        """The screws of a move with the tally after it; None where it opens no screw joint."""
        opened = [self.joints[move.open] for move in self.way.moves[:number] if self.is_screw(move.open)]
        if not self.is_screw(self.way.moves[number - 1].open):
            return None
        joint = opened[-1]
        groups = [self.joints[move.open] for move in self.way.moves if self.is_screw(move.open)]
        alike = [
            other.length_mm for other in groups if (other.drive, other.thread) == (joint.drive, joint.thread)
        ]
        mixed = {length for length in alike if length is not None} - {joint.length_mm}
        return Screws(
            count=joint.count or 1,
            drive=joint.drive,
            thread=joint.thread,
            head=joint.head,
            length_mm=joint.length_mm,
            torque_nm=joint.torque_nm,
            out_after=sum(other.count or 1 for other in opened),
            out_in_all=self.out_of,
            mixed_lengths_mm=tuple(sorted(mixed)),
        )
