"""Every form of a record; here those of joints, layers, seals, checks and tools."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from midframe.record import model
from midframe.web.edit_fields import ASSUMED, FACE, NOTE, OPERATION, RENEW, Field, Group, Section, choices
from midframe.web.edit_parts import DEVICE, PART

JOINT = Section(
    name="joints",
    one="joint",
    groups=(
        Group(
            "The joint",
            (
                Field("name", "Name", hint="May stay empty"),
                Field("kind", "Kind", "choice", options=choices(model.JointKind, "")),
                Field("holds", "Holds together", "chips", of="parts"),
                Field("behind", "Behind", "condition", hint="What must be aside before it can be reached"),
                ASSUMED,
                FACE,
                Field("tether", "A cable: its part can be folded aside while it is attached", "tick"),
                NOTE,
            ),
            closed=False,
        ),
        Group(
            "Screws",
            (
                Field("count", "How many", "whole"),
                Field("drive", "Drive", hint="Such as hexalobular 4"),
                Field("thread", "Thread", hint="Such as M1.4"),
                Field("head", "Head"),
                Field("length_mm", "Length", "number", unit="mm"),
                Field("hole_depth_mm", "Depth of the hole", "number", unit="mm"),
                Field("torque_nm", "Torque", "number", unit="N m"),
                Field(
                    "spots_mm",
                    "Spots on the plan",
                    "points",
                    unit="mm",
                    hint="One spot a line: from the left, from the top",
                ),
            ),
        ),
        Group("How it is opened", (Field("work", "Work", "work", inner=OPERATION),)),
        Group(
            "What it costs",
            (
                Field(
                    "fastener",
                    "As the regulation has it",
                    "choice",
                    options=choices(model.FastenerLevel),
                ),
                Field(
                    "ruins",
                    "What opening it always ruins",
                    "names",
                    hint="Names of parts, with commas between them",
                ),
                RENEW,
            ),
        ),
        Group(
            "Bond and place",
            (
                Field("material", "Material"),
                Field("soft_c", "Soft from", "number", unit="°C"),
                Field("width_mm", "Width", "number", unit="mm"),
                Field("thickness_mm", "Thickness", "number", unit="mm"),
                Field("area_mm2", "Area", "number", unit="mm²"),
                Field("depth_mm", "Depth from the front", "number", unit="mm"),
            ),
        ),
    ),
)

LAYER = Section(
    name="layers",
    one="thermal layer",
    groups=(
        Group(
            "The layer",
            (
                Field(
                    "kind",
                    "Kind",
                    "choice",
                    options=tuple(
                        (one, one) for one in ("pad", "paste", "graphite", "copper", "putty", "gap")
                    ),
                ),
                Field("between", "Between", "chips", of="parts", hint="Two parts"),
                Field("thickness_mm", "Thickness", "number", unit="mm"),
                Field("conductivity_w_mk", "Conductivity", "number", unit="W/(m K)"),
                Field("area_mm2", "Area", "number", unit="mm²"),
                Field("stacked", "Lies on other stacked layers between the same two parts", "tick"),
                RENEW,
                NOTE,
            ),
            closed=False,
        ),
    ),
)

SEAL = Section(
    name="seals",
    one="seal",
    groups=(
        Group(
            "The seal",
            (
                Field(
                    "kind",
                    "Kind",
                    "choice",
                    options=tuple((one, one) for one in ("gasket", "adhesive", "mesh", "plug", "ring")),
                ),
                Field("at", "At", "chips", of="all", hint="Parts or joints"),
                Field("material", "Material"),
                RENEW,
                NOTE,
            ),
            closed=False,
        ),
    ),
)

CHECK = Section(
    name="checks",
    one="function check",
    groups=(
        Group(
            "The check",
            (
                Field("text", "What to try, and what is right"),
                Field("parts", "For these parts", "chips", of="parts"),
                Field(
                    "when",
                    "When",
                    "choice",
                    options=(
                        ("both", "before and after"),
                        ("before", "before the work"),
                        ("after", "after the work"),
                    ),
                ),
            ),
            closed=False,
        ),
    ),
)

TOOL = Section(
    name="tools",
    one="tool",
    key="name",
    groups=(
        Group(
            "The tool",
            (
                Field("name", "Name"),
                Field(
                    "group",
                    "Group",
                    "choice",
                    options=choices(model.ToolGroup, "as in the list of basic tools"),
                ),
                Field(
                    "supplied",
                    "Comes with",
                    "choice",
                    options=choices(model.Supply, "neither spare part nor product"),
                ),
                Field("consumable", "Used up", "tick"),
                Field("price", "Price", "number"),
                NOTE,
            ),
            closed=False,
        ),
    ),
)

SECTIONS: Mapping[str, Section] = MappingProxyType(
    {section.name: section for section in (DEVICE, PART, JOINT, LAYER, SEAL, CHECK, TOOL)}
)
"""Every form by the name of its list in the file."""
