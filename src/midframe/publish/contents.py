"""What a work instruction holds before it becomes a page: frozen structs, no markup, no prose."""

from __future__ import annotations

import msgspec

from midframe.record.model import Face, JointKind, Operation, RemoteDuty
from midframe.sources import Source


class Screws(msgspec.Struct, frozen=True):
    """A group of like screws, with the tally: how many are out after it, of how many in the whole way."""

    count: int
    drive: str
    thread: str
    head: str
    length_mm: float | None
    torque_nm: float | None
    out_after: int
    out_in_all: int
    mixed_lengths_mm: tuple[float, ...] = ()
    """Other lengths of the same drive and thread on this way: they must not be mixed up."""


class Renewed(msgspec.Struct, frozen=True):
    """Something that must be new on the way back: how much, at what price each, and for what."""

    item: str
    needed_for: str
    amount: float | None = None
    unit: str = ""
    price: float | None = None


class Work(msgspec.Struct, frozen=True):
    """One operation with part names instead of ids; `clock` is "heat", "wait" or nothing."""

    do: str
    tools: tuple[str, ...]
    seconds: float | None
    risk: float
    harms: tuple[str, ...]
    ruins: tuple[str, ...]
    note: str
    clock: str


class MoveIn(msgspec.Struct, frozen=True, kw_only=True):
    """One move of the way in with all that stands beside it.

    `whys` are the numbers of later moves that need it, 0 for the target itself. `along` leaves with
    the lifted part; `hanging` are the tethers it still hangs on. `live`: an electrical joint is
    opened while the battery is still connected. Drawings are SVG text.
    """

    number: int
    kind: JointKind | None
    name: str
    holds: tuple[str, ...]
    face: Face | None
    turned: bool
    work: tuple[Work, ...]
    otherwise: tuple[tuple[Operation, ...], ...]
    seconds: float
    default_times: bool
    screws: Screws | None
    along: tuple[str, ...]
    hanging: tuple[str, ...]
    ruins: tuple[str, ...]
    whys: tuple[int, ...]
    assumed: bool
    live: bool
    note: str
    section: str
    plan: str


class StepGroup(msgspec.Struct, frozen=True):
    """Moves up to the next in which steps of the regulation end; their numbers and what ends them."""

    steps: tuple[int, ...]
    ends_with: tuple[str, ...]
    moves: tuple[MoveIn, ...]


class BackLine(msgspec.Struct, frozen=True):
    """One move of the way back; `of` is the number of the move in that it undoes."""

    number: int
    of: int
    action: str
    kind: JointKind | None
    names: tuple[str, ...]
    new_parts: tuple[str, ...]
    renewals: tuple[str, ...]
    screws: Screws | None
    live: bool
    still_out: int
    """Screws still out after it."""


class CountedStep(msgspec.Struct, frozen=True):
    """One counted step: what ends it, in which move, and the clause or reading it rests on."""

    number: int
    ends_with: str
    move: int
    rests_on: str


class Hazard(msgspec.Struct, frozen=True):
    """A caution that applies, by key, and the moves it is about; none means the whole job."""

    key: str
    moves: tuple[int, ...] = ()


class Summary(msgspec.Struct, frozen=True, kw_only=True):
    """The job in figures. Seconds: the sum of the medians, and the middle 90 % of the total."""

    steps: int
    moves: int
    seconds: float
    low_seconds: float
    high_seconds: float
    tools: int
    screws: int
    money: float
    labour_per_hour: float
    currency: str
    unpriced: tuple[str, ...]
    proven: bool
    assumed: tuple[str, ...]
    default_times: int
    minimised: str


class Instruction(msgspec.Struct, frozen=True, kw_only=True):
    """A whole work instruction: way in and refit for one target of one device.

    `missing_tools` is None where no toolbox was compared, else what it lacks. `standby` are tools and
    consumables of the other ways of opening the joints. `language` is that of the sheet's own words,
    `written` that of the record, whose names and notes stay as they are.
    """

    device: str
    target: str
    invented: bool
    digest: str
    program: str
    date: str
    summary: Summary
    hazards: tuple[Hazard, ...]
    missing_tools: tuple[str, ...] | None
    tools: tuple[str, ...]
    consumables: tuple[str, ...]
    standby: tuple[str, ...]
    renewals: tuple[Renewed, ...]
    before: tuple[str, ...]
    after: tuple[str, ...]
    duties: tuple[RemoteDuty, ...]
    groups: tuple[StepGroup, ...]
    untouched: tuple[str, ...]
    untouched_joints: int
    back: tuple[BackLine, ...]
    steps: tuple[CountedStep, ...]
    readings: tuple[str, ...]
    sources: tuple[Source, ...]
    overview: str
    depth_stretch: float | None
    marks: tuple[JointKind, ...]
    language: str = "en"
    written: str = "en"

    @property
    def moves(self) -> tuple[MoveIn, ...]:
        """The moves in, in order."""
        return tuple(move for group in self.groups for move in group.moves)

    def moves_with(self, tool: str) -> tuple[int, ...]:
        """Numbers of the moves in that use a tool or a consumable."""
        return tuple(
            move.number for move in self.moves if any(tool in operation.tools for operation in move.work)
        )

    def hazards_of(self, move: int) -> tuple[str, ...]:
        """Keys of the cautions that are about one move; a live joint has a sentence of its own."""
        return tuple(hazard.key for hazard in self.hazards if move in hazard.moves and hazard.key != "live")
