"""Notes on figures that look like a slip: centimetres for millimetres, kilograms for grams.

Nothing here is a fault: a rare device may be right where the range is not.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from midframe.record.findings import Finding, note
from midframe.record.model import Joint, Part, Record

SLACK = 1.5
"""How far beyond the 5th and 95th percentile a size may lie unremarked: own construction."""

LENGTH_SLIPS = (("centimetres", 10.0), ("inches", 25.4), ("metres", 1000.0))
MASS_SLIPS = (("kilograms", 1000.0), ("ounces", 28.35), ("milligrams", 0.001))
CHARGE_SLIPS = (("ampere-hours", 1000.0),)

JOINT_RANGES = (
    ("length_mm", 0.8, 12.0, LENGTH_SLIPS),
    ("hole_depth_mm", 0.5, 15.0, LENGTH_SLIPS),
    ("torque_nm", 0.005, 1.0, (("newton centimetres", 0.01), ("newton millimetres", 0.001))),
    ("width_mm", 0.2, 60.0, LENGTH_SLIPS),
    ("thickness_mm", 0.01, 3.0, (("micrometres", 0.001), ("centimetres", 10.0))),
    ("soft_c", 35.0, 450.0, (("kelvin", None),)),
)
"""Usual ranges of joints in phones and tablets: common practice, no source."""

THREAD_MM = (0.6, 3.0)
"""Usual screw threads in phones and tablets: common practice, no source."""

MASS_G = MappingProxyType({"phone": (60.0, 500.0), "tablet": (200.0, 1500.0)})
"""Usual masses of devices: common practice, no source."""


@cache
def geometry() -> Mapping[tuple[str, str], tuple[float, float]]:
    """5th and 95th percentile by kind of device and quantity [lineage-geometry, _data/devices].

    >>> geometry()["phone", "thickness_mm"]
    (7.3, 9.9)
    """
    text = files("midframe.record").joinpath("data/device_geometry.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return MappingProxyType(
        {(row["device"], row["quantity"]): (float(row["p5"]), float(row["p95"])) for row in rows}
    )


def slip(value: float, low: float, high: float, slips: tuple[tuple[str, float | None], ...]) -> str:
    """What the value would be in another unit, where that falls into the range; else the range.

    >>> slip(15.7, 90, 250, LENGTH_SLIPS)
    '157, if 15.7 was in centimetres; usual is 90 to 250'
    """
    usual = f"usual is {low:g} to {high:g}"
    for unit, factor in slips:
        other = value * factor if factor is not None else value - 273.15
        if low <= other <= high:
            return f"{other:.4g}, if {value:g} was in {unit}; {usual}"
    return f"a look at the figure and its unit; {usual}"


def device_notes(record: Record) -> Iterator[Finding]:
    """Size and mass of the device against what phones and tablets have."""
    device = record.device
    for number, (name, value) in enumerate(
        zip(("height_mm", "width_mm", "thickness_mm"), device.size_mm or (), strict=False)
    ):
        p5, p95 = geometry()[device.kind, name]
        slack = SLACK * 2 if device.foldable else SLACK
        low, high = round(p5 / slack, 1), round(p95 * slack, 1)
        if not low <= value <= high:
            yield note(
                f"device.size_mm[{number}]",
                "",
                f"a {name.partition('_')[0]} of {value:g} mm for a {device.kind}",
                slip(value, low, high, LENGTH_SLIPS),
            )
    if device.size_mm is not None and min(device.size_mm) != device.size_mm[2]:
        yield note(
            "device.size_mm",
            "",
            f"a thickness of {device.size_mm[2]:g} mm that is not the smallest figure",
            "height, width, thickness, in this order",
        )
    low, high = MASS_G[device.kind]
    if device.mass_g is not None and not low <= device.mass_g <= high:
        yield note(
            "device.mass_g",
            "",
            f"{device.mass_g:g} g for a {device.kind}",
            slip(device.mass_g, low, high, MASS_SLIPS),
        )


def mass_notes(record: Record) -> Iterator[Finding]:
    """Masses of the parts against the mass of the device."""
    whole = record.device.mass_g
    if whole is None:
        return
    known = [part.mass_g for part in record.parts if part.mass_g is not None]
    for number, part in enumerate(record.parts):
        if part.mass_g is not None and part.mass_g > whole:
            right = slip(part.mass_g, 0.001, whole, (("milligrams", 0.001),))
            yield note(
                f"parts[{number}].mass_g", part.id, f"{part.mass_g:g} g in a device of {whole:g} g", right
            )
    total = sum(known)
    if total > 1.02 * whole and max(known) <= whole:
        yield note(
            "parts",
            "",
            f"parts of {total:.4g} g together in a device of {whole:g} g",
            "parts that weigh no more than the device",
        )
    if len(known) == len(record.parts) and total < 0.6 * whole:
        yield note(
            "parts",
            "",
            f"parts of {total:.4g} g together in a device of {whole:g} g, though each has a mass",
            "masses in grams that come near the device's",
        )


def battery_notes(record: Record) -> Iterator[Finding]:
    """Charges read off a battery's label, in milliampere-hours."""
    p5, p95 = geometry()[record.device.kind, "battery_mAh"]
    low, high = round(p5 / 2), round(p95 * 2)
    for number, part in enumerate(record.parts):
        if part.role != "battery":
            continue
        for place, spec in enumerate(part.specs):
            if spec.unit not in ("mAh", "mA·h", "mA h") or not isinstance(spec.value, int | float):
                continue
            if not low <= spec.value <= high:
                yield note(
                    f"parts[{number}].specs[{place}]",
                    part.id,
                    f"a battery of {spec.value:g} {spec.unit} in a {record.device.kind}",
                    slip(spec.value, low, high, CHARGE_SLIPS),
                )


def joint_notes(record: Record) -> Iterator[Finding]:
    """Figures of joints against what is usual."""
    for number, joint in enumerate(record.joints):
        for key, low, high, slips in JOINT_RANGES:
            value = getattr(joint, key)
            if value is not None and not low <= value <= high:
                yield note(
                    f"joints[{number}].{key}", joint.id, f"{key} = {value:g}", slip(value, low, high, slips)
                )
        yield from thread_notes(f"joints[{number}].thread", joint)


def thread_notes(path: str, joint: Joint) -> Iterator[Finding]:
    """A thread that is no metric designation, or unusual in such devices."""
    if not joint.thread:
        return
    match = re.match(r"M(\d+(?:\.\d+)?)(?![\d.])", joint.thread)
    if match is None:
        yield note(
            path, joint.id, f'the thread "{joint.thread}"', 'a metric thread such as "M1.4", if it is one'
        )
    elif not THREAD_MM[0] <= float(match[1]) <= THREAD_MM[1]:
        yield note(
            path,
            joint.id,
            f'the thread "{joint.thread}"',
            f"a look at it; usual is M{THREAD_MM[0]:g} to M{THREAD_MM[1]:g}",
        )


def place_notes(record: Record) -> Iterator[Finding]:
    """Depths, outlines and spots that lie outside the device."""
    if record.device.size_mm is None:
        return
    height, width, thickness = record.device.size_mm
    for number, part in enumerate(record.parts):
        if part.depth_mm is not None and not inside(part, thickness):
            yield note(
                f"parts[{number}].depth_mm",
                part.id,
                f"a depth from {part.depth_mm[0]:g} to {part.depth_mm[1]:g} mm in {thickness:g} mm of device",
                "millimetres from the front surface",
            )
        yield from point_notes(f"parts[{number}].outline_mm", part.id, part.outline_mm, width, height)
    for number, joint in enumerate(record.joints):
        yield from point_notes(f"joints[{number}].spots_mm", joint.id, joint.spots_mm, width, height)


def inside(part: Part, thickness: float) -> bool:
    """Whether a part lies within the device, give or take 6 mm for what stands out (common practice)."""
    return part.depth_mm is None or (part.depth_mm[0] >= -6 and part.depth_mm[1] <= thickness + 6)


def point_notes(
    path: str, subject: str, points: tuple[tuple[float, float], ...], width: float, height: float
) -> Iterator[Finding]:
    """The first point that lies off the plan of the device, by more than 2 mm."""
    for number, (x, y) in enumerate(points):
        if not (-2 <= x <= width + 2 and -2 <= y <= height + 2):
            found = f"a point at {x:g}, {y:g} on a plan of {width:g} × {height:g} mm"
            yield note(
                f"{path}[{number}]",
                subject,
                found,
                "millimetres from the left and from the top, seen from the front",
            )
            return
