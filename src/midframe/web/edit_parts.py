"""The forms of the device and of a part: their fields in the order in which they are asked."""

from __future__ import annotations

from midframe.record import model
from midframe.web.edit_fields import (
    ASSUMED,
    HARMS,
    NOTE,
    RENEW,
    RISK,
    SECONDS,
    TOOLS,
    Field,
    Group,
    Section,
    choices,
)

DEVICE = Section(
    name="device",
    one="device",
    key="name",
    groups=(
        Group(
            "The device",
            (
                Field("name", "Name"),
                Field("kind", "Kind", "choice", options=choices(model.DeviceKind, "")),
                Field("body", "Body, which all others are judged against", "choice", of="parts"),
                Field(
                    "size_mm",
                    "Size of the closed device",
                    "group",
                    unit="mm",
                    options=(("0", "Height"), ("1", "Width"), ("2", "Thickness")),
                    hint="Height and width give photos their scale",
                ),
                Field("mass_g", "Mass", "number", unit="g"),
                Field("ingress", "Protection code", hint="Such as IP68"),
                Field("foldable", "Foldable", "tick"),
                Field("invented", "Invented, no such device exists", "tick"),
                NOTE,
            ),
            closed=False,
        ),
        Group(
            "What its maker promises",
            (
                Field("released_year", "Year of release", "whole"),
                Field("updates_years", "Updates", "number", unit="years"),
                Field(
                    "repair_information",
                    "Repair information",
                    "choice",
                    options=choices(model.RepairInformation),
                ),
                Field("remaining_after_500_percent", "Battery after 500 cycles", "number", unit="%"),
                Field("remaining_after_1000_percent", "Battery after 1000 cycles", "number", unit="%"),
                Field("full_cycles", "Full cycles promised", "whole"),
                Field("currency", "Currency of all prices", hint="Three letters, such as EUR"),
                Field("language", "Language of names and notes", hint="Two letters, such as en or de"),
                Field("predecessor", "Record of the model before"),
                Field("absent", "What the device does not have", "chips", of="roles"),
            ),
        ),
    ),
)

PART = Section(
    name="parts",
    one="part",
    groups=(
        Group(
            "The part",
            (
                Field("name", "Name"),
                Field("role", "Role", "choice", options=choices(model.Role, "")),
                Field("under", "Under", "condition", hint="What must be aside before it can be lifted"),
                ASSUMED,
                Field("seat", "Sits on", "choice", of="seats"),
                Field(
                    "face", "Lifted from", "choice", options=choices(model.Face, "the face of its last joint")
                ),
                NOTE,
            ),
            closed=False,
        ),
        Group(
            "Read off its label",
            (
                Field(
                    "specs",
                    "Figures",
                    "rows",
                    inner=(
                        Field("label", "What it says"),
                        Field("value", "Value", "value"),
                        Field("unit", "Unit"),
                    ),
                ),
                Field(
                    "condition",
                    "Condition of a cell, as seen",
                    "choice",
                    options=choices(model.CellCondition, "not said"),
                ),
            ),
        ),
        Group(
            "Spare part",
            (
                Field("spare", "Sold to", "choice", options=choices(model.SpareOffer)),
                Field("price", "Price", "number"),
                Field("bundle", "Sold together with", "chips", of="parts"),
                Field("remote", "Duties of its serial number", "chips", of="remote"),
                Field("also", "Further roles", "chips", of="roles"),
                RENEW,
            ),
        ),
        Group(
            "Size and place",
            (
                Field("mass_g", "Mass", "number", unit="g"),
                Field(
                    "depth_mm",
                    "Depth from the front",
                    "group",
                    unit="mm",
                    options=(("0", "Begins at"), ("1", "Ends at")),
                ),
                Field(
                    "outline_mm",
                    "Outline on the plan",
                    "points",
                    unit="mm",
                    hint="One corner a line: from the left, from the top",
                ),
                Field("material", "Material"),
            ),
        ),
        Group(
            "How it is lifted",
            (
                Field(
                    "lift",
                    "Where not by bare hand",
                    "table",
                    inner=(TOOLS, SECONDS, RISK, HARMS, Field("note", "Note")),
                ),
            ),
        ),
    ),
)
