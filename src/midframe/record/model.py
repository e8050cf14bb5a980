"""The record of one device: frozen structs with a unit in every name.

The file format (TOML) and this model differ in two places only: a condition (`behind`, `under`) and a
`work` list may be written flat in the file, here they are always a tuple of alternatives.
"""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta

from midframe.record.results import Measurement, Outcome, SealTest, Tried
from midframe.record.values import (
    Celsius,
    Coordinate,
    Count,
    Id,
    NotNegative,
    Percent,
    Positive,
    Share,
    Spec,
    Struct,
    Text,
    Year,
)

__all__ = [
    "Count",
    "Id",
    "Measurement",
    "NotNegative",
    "Outcome",
    "Positive",
    "SealTest",
    "Spec",
    "Struct",
    "Text",
    "Tried",
]
"""What the model gives of its two other files; everything that is defined here is public too."""

Face: TypeAlias = Literal["front", "back", "edge"]
"""The side one works from; absent means any side will do."""

Condition: TypeAlias = tuple[tuple[Id, ...], ...]
"""Alternatives of part ids: one of them must be wholly aside. Empty: no condition."""

DeviceKind: TypeAlias = Literal["phone", "tablet"]
JointKind: TypeAlias = Literal["screw", "connector", "clip", "adhesive", "solder", "other"]
FastenerLevel: TypeAlias = Literal["reusable", "resupplied", "removable", "none"]
SpareOffer: TypeAlias = Literal["end_user", "professional", "none"]
RemoteDuty: TypeAlias = Literal["notification", "authorisation"]
RepairInformation: TypeAlias = Literal["public", "free_professional", "paid_professional", "none"]
ToolGroup: TypeAlias = Literal["basic", "commercial", "proprietary"]
Supply: TypeAlias = Literal["spare", "product"]
CellCondition: TypeAlias = Literal["sound", "damaged", "swollen"]
"""How a cell was seen to be; one that is damaged or swollen gets no heat and no charge."""

Role: TypeAlias = Literal[
    "battery",
    "display",
    "back_cover",
    "front_camera",
    "rear_camera",
    "charging_port",
    "button",
    "microphone",
    "speaker",
    "hinge",
    "main_board",
    "sub_board",
    "sim_tray",
    "card_tray",
    "audio_connector",
    "protective_foil",
    "other",
]

PRIORITY_ROLES: tuple[Role, ...] = (
    "battery",
    "display",
    "back_cover",
    "front_camera",
    "rear_camera",
    "charging_port",
    "button",
    "microphone",
    "speaker",
    "hinge",
)
"""Priority parts of the index [lbl-2023-1669, Annex IV point 5]."""


class Device(Struct, frozen=True, kw_only=True):
    """The device as a whole: size, mass, protection, what its maker promises.

    `size_mm` is height, width, thickness of the closed device lying face up; `language` is that of names
    and notes, such as "de". Figures that are not known stay absent; nothing is guessed for them.
    """

    name: Text
    kind: DeviceKind
    body: Id
    foldable: bool = False
    invented: bool = False
    size_mm: tuple[Positive, Positive, Positive] | None = None
    mass_g: Positive | None = None
    ingress: str | None = None
    released_year: Year | None = None
    updates_years: NotNegative | None = None
    repair_information: RepairInformation | None = None
    remaining_after_500_percent: Percent | None = None
    remaining_after_1000_percent: Percent | None = None
    full_cycles: Annotated[int, Meta(ge=0, le=1_000_000)] | None = None
    absent: tuple[Role, ...] = ()
    predecessor: str = ""
    currency: str = "EUR"
    language: str = "en"
    note: str = ""


class Operation(Struct, frozen=True, kw_only=True):
    """One thing done with one set of tools, part of opening a joint or of a lift.

    `tools` (in the file: `with`) are used together; none means the bare hand.
    `risk` is the chance (0…1) per opening that what it `harms` is harmed;
    what it `ruins` is lost every time.
    """

    do: Text
    tools: tuple[Text, ...] = msgspec.field(name="with", default=())
    seconds: NotNegative | None = None
    risk: Share = 0.0
    harms: tuple[Id, ...] = ()
    ruins: tuple[Id, ...] = ()
    note: str = ""


class Lift(Struct, frozen=True, kw_only=True):
    """How a part is lifted, where not by bare hand in the default time."""

    tools: tuple[Text, ...] = msgspec.field(name="with", default=())
    seconds: NotNegative | None = None
    risk: Share = 0.0
    harms: tuple[Id, ...] = ()
    note: str = ""


class Renewal(Struct, frozen=True, kw_only=True):
    """What a joint or part needs new on refit, how much of it, and the price of that amount."""

    item: Text
    amount: Positive | None = None
    unit: str = ""
    price: NotNegative | None = None


class Part(Struct, frozen=True, kw_only=True):
    """Anything that can come out.

    `depth_mm` is where the part begins and ends, from the front surface;
    `outline_mm` its outline on the plan seen from the front (x from the left,
    y from the top): a polygon, or two points as opposite corners of a box.
    `bundle` names the parts its spare is sold with. `also` holds further roles
    of the same part (a microphone on the charging-port module). `condition` is that of a cell, as seen.
    """

    id: Id
    name: Text
    role: Role = "other"
    also: tuple[Role, ...] = ()
    mass_g: Positive | None = None
    spare: SpareOffer | None = None
    price: NotNegative | None = None
    remote: tuple[RemoteDuty, ...] = ()
    bundle: tuple[Id, ...] = ()
    seat: Id | None = None
    face: Face | None = None
    lift: Lift | None = None
    under: Condition = ()
    assumed: bool = False
    depth_mm: tuple[Coordinate, Coordinate] | None = None
    outline_mm: tuple[tuple[Coordinate, Coordinate], ...] = ()
    material: str = ""
    specs: tuple[Spec, ...] = ()
    condition: CellCondition | None = None
    renew: Renewal | None = None
    photos: tuple[Text, ...] = ()
    note: str = ""


class Joint(Struct, frozen=True, kw_only=True):
    """What holds two or more parts together: a group of like screws, a connector, a bond.

    `work` holds the ways of opening it, each a sequence of operations; empty
    means the bench's default for its kind. `spots_mm` are hole centres on the
    plan of the device seen from the front.
    """

    id: Id
    kind: JointKind
    holds: tuple[Id, ...]
    name: str = ""
    fastener: FastenerLevel | None = None
    tether: bool = False
    face: Face | None = None
    behind: Condition = ()
    assumed: bool = False
    work: tuple[tuple[Operation, ...], ...] = ()
    ruins: tuple[Id, ...] = ()
    count: Count | None = None
    drive: str = ""
    thread: str = ""
    head: str = ""
    length_mm: Positive | None = None
    hole_depth_mm: Positive | None = None
    torque_nm: Positive | None = None
    spots_mm: tuple[tuple[Coordinate, Coordinate], ...] = ()
    depth_mm: Coordinate | None = None
    width_mm: Positive | None = None
    thickness_mm: Positive | None = None
    area_mm2: Positive | None = None
    material: str = ""
    soft_c: Celsius | None = None
    renew: Renewal | None = None
    photos: tuple[Text, ...] = ()
    note: str = ""


class Tool(Struct, frozen=True, kw_only=True):
    """A tool or consumable whose group or supply the record knows better than the table."""

    name: Text
    group: ToolGroup | None = None
    supplied: Supply | None = None
    consumable: bool = False
    price: NotNegative | None = None
    note: str = ""


class Move(Struct, frozen=True, kw_only=True):
    """One thing done: a joint opened (by its alternative `by`, from 1), or parts lifted.

    Exactly one of `open` and `lift` is filled. A lift names at least one part;
    what is rigidly joined to it or sits on it comes along.
    """

    open: str = ""
    by: Count = 1
    lift: tuple[Id, ...] = ()


class Order(Struct, frozen=True, kw_only=True):
    """A documented order of work, as a repair manual gives it."""

    target: Id
    moves: tuple[Move, ...]
    title: str = ""
    source: str = ""
    note: str = ""


class Layer(Struct, frozen=True, kw_only=True):
    """One thermal layer between two parts: pad, paste, graphite, copper or gap.

    Layers between the same two parts lie beside one another; those that are
    `stacked` lie on one another, in the order of the record.
    """

    id: Id
    kind: Literal["pad", "paste", "graphite", "copper", "putty", "gap"]
    between: tuple[Id, Id]
    thickness_mm: Positive | None = None
    conductivity_w_mk: Positive | None = None
    area_mm2: Positive | None = None
    stacked: bool = False
    renew: Renewal | None = None
    note: str = ""


class Seal(Struct, frozen=True, kw_only=True):
    """A seal against water and dust, and where it sits."""

    id: Id
    kind: Literal["gasket", "adhesive", "mesh", "plug", "ring"]
    at: tuple[Id, ...]
    material: str = ""
    renew: Renewal | None = None
    note: str = ""


class Check(Struct, frozen=True, kw_only=True):
    """A function check: what to try, for which parts, before or after the work."""

    id: Id
    text: Text
    parts: tuple[Id, ...] = ()
    when: Literal["before", "after", "both"] = "both"


class Photo(Struct, frozen=True, kw_only=True):
    """A photo by content hash, and what it shows."""

    hash: Text
    caption: str = ""
    parts: tuple[Id, ...] = ()


class LogEntry(Struct, frozen=True, kw_only=True):
    """One line of the bench log: seconds since the start, the move, a note, a photo.

    `on` names the joint that was worked on without opening it (heated, soaked),
    or the part or joint that a note or photo is about.
    """

    seconds: NotNegative
    open: str = ""
    by: Count = 1
    lift: tuple[Id, ...] = ()
    on: str = ""
    note: str = ""
    photo: str = ""


class Record(Struct, frozen=True, kw_only=True):
    """What is known about one device: its parts, its joints, how they are reached."""

    format: Literal[1]
    device: Device
    parts: tuple[Part, ...]
    joints: tuple[Joint, ...] = ()
    tools: tuple[Tool, ...] = ()
    orders: tuple[Order, ...] = ()
    layers: tuple[Layer, ...] = ()
    seals: tuple[Seal, ...] = ()
    checks: tuple[Check, ...] = ()
    tried: tuple[Tried, ...] = ()
    seal_tests: tuple[SealTest, ...] = ()
    measurements: tuple[Measurement, ...] = ()
    photos: tuple[Photo, ...] = ()
    log: tuple[LogEntry, ...] = ()
