"""Faults within one part, joint, order or log line that the types alone cannot see."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator

from midframe.record.findings import Finding, fault, note
from midframe.record.model import Joint, LogEntry, Move, Record

SCREW_ONLY = ("drive", "thread", "head", "length_mm", "hole_depth_mm", "torque_nm")
BOND_ONLY = ("soft_c", "width_mm", "thickness_mm", "area_mm2")


def device_faults(record: Record) -> Iterator[Finding]:
    """The protection code, the currency, the language, and roles said to be absent that a part carries."""
    device = record.device
    if device.ingress is not None and not re.fullmatch(r"IP[0-6X][0-9X]K?[A-D]?[HMSWf]?", device.ingress):
        yield fault(
            "device.ingress",
            "",
            f'"{device.ingress}"',
            'a protection code such as "IP68": IP, two digits or X',
        )
    if not re.fullmatch(r"[A-Z]{3}", device.currency):
        yield note(
            "device.currency",
            "",
            f'"{device.currency}"',
            'the three capital letters of a currency, such as "EUR"',
        )
    if not re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})*", device.language):
        yield fault(
            "device.language",
            "",
            f'"{device.language}"',
            'the tag of the language of names and notes, such as "en" or "de"',
        )
    for number, part in enumerate(record.parts):
        for role in sorted({part.role, *part.also} & set(device.absent)):
            yield fault(
                "device.absent",
                part.id,
                f'the role "{role}" as absent, and {part.id} carries it',
                f"{role} taken out of `absent`, or another role for parts[{number}]",
            )


def part_faults(record: Record) -> Iterator[Finding]:
    """Bundles, depths and outlines of parts."""
    for number, part in enumerate(record.parts):
        at = f"parts[{number}]"
        if part.id in part.bundle:
            yield fault(
                f"{at}.bundle",
                part.id,
                "a bundle that names the part itself",
                "only the other parts that its spare is sold with",
            )
        if part.depth_mm is not None and part.depth_mm[0] > part.depth_mm[1]:
            begin, end = part.depth_mm
            yield fault(
                f"{at}.depth_mm",
                part.id,
                f"a part that begins at {begin:g} and ends at {end:g} mm",
                f"depth_mm = [{end:g}, {begin:g}], counted from the front",
            )
        if len(part.outline_mm) == 1:
            yield fault(
                f"{at}.outline_mm",
                part.id,
                "an outline of one point",
                "two opposite corners of a box, or three points and more",
            )


def joint_faults(record: Record) -> Iterator[Finding]:
    """What a joint holds, its count and spots, and fields that belong to another kind."""
    for number, joint in enumerate(record.joints):
        at = f"joints[{number}]"
        different = set(joint.holds)
        if len(different) < 2:
            held = f'only "{joint.holds[0]}"' if different else "nothing"
            yield fault(f"{at}.holds", joint.id, f"a joint that holds {held}", "two or more different parts")
        elif len(different) < len(joint.holds):
            twice = next(one for one in joint.holds if joint.holds.count(one) > 1)
            yield note(f"{at}.holds", joint.id, f'"{twice}" twice', "each part once")
        yield from count_faults(at, joint)
        yield from foreign_fields(at, joint)


def count_faults(at: str, joint: Joint) -> Iterator[Finding]:
    """Spots that do not fit the count, and screws of unknown number or drive."""
    spots = len(joint.spots_mm)
    if joint.count is not None and spots > joint.count:
        yield fault(
            f"{at}.spots_mm",
            joint.id,
            f"{spots} spots for a count of {joint.count}",
            "one spot for each, or a count that fits",
        )
    if joint.count is not None and 0 < spots < joint.count:
        yield note(
            f"{at}.spots_mm", joint.id, f"{spots} spots for a count of {joint.count}", "one spot for each"
        )
    if joint.kind != "screw":
        return
    if joint.count is None:
        right = (
            f"count = {spots}, if the spots are all of them"
            if spots
            else "count = the number of screws; without it, one is taken"
        )
        yield note(f"{at}.count", joint.id, "screws without a count", right)
    if not joint.drive:
        yield note(
            f"{at}.drive",
            joint.id,
            "screws without a drive",
            'a drive such as "hexalobular 4", which names the driver',
        )


def foreign_fields(at: str, joint: Joint) -> Iterator[Finding]:
    """Fields of screws on other joints, fields of bonds on screws and connectors."""
    for keys, kinds in (
        (SCREW_ONLY, ("screw", "other")),
        (BOND_ONLY, ("adhesive", "solder", "clip", "other")),
    ):
        for key in keys:
            if joint.kind not in kinds and getattr(joint, key) not in (None, ""):
                yield note(
                    f"{at}.{key}",
                    joint.id,
                    f"`{key}` on a joint of kind {joint.kind}",
                    f"no `{key}`, or kind = {' or '.join(kinds)}",
                )
    if joint.tether and joint.kind in ("screw", "adhesive", "clip"):
        yield note(
            f"{at}.tether",
            joint.id,
            f"a tether of kind {joint.kind}",
            "tether only where the part can be folded aside while attached, as on a flex cable",
        )


def move_faults(record: Record) -> Iterator[Finding]:
    """Moves of orders and the log: one thing each, by an alternative that there is."""
    alternatives = {joint.id: max(1, len(joint.work)) for joint in record.joints}
    for number, order in enumerate(record.orders):
        if order.target == record.device.body:
            yield fault(
                f"orders[{number}].target", order.target, "the body as target", "a part that can come out"
            )
        if not order.moves:
            yield note(
                f"orders[{number}].moves", order.target, "an order without moves", "the moves in their order"
            )
        for place, move in enumerate(order.moves):
            yield from one_move(f"orders[{number}].moves[{place}]", move, alternatives, record.device.body)
    last = 0.0
    for number, entry in enumerate(record.log):
        yield from one_move(f"log[{number}]", entry, alternatives, record.device.body)
        if entry.seconds < last:
            yield note(
                f"log[{number}].seconds",
                "",
                f"{entry.seconds:g} s after {last:g} s",
                "seconds since the start, never going back",
            )
        last = entry.seconds


def one_move(at: str, move: Move | LogEntry, alternatives: dict[str, int], body: str) -> Iterator[Finding]:
    """The faults of one move."""
    only_note = isinstance(move, LogEntry) and bool(move.note or move.photo)
    if move.open and move.lift:
        yield fault(
            at, move.open, "a move that opens and lifts at once", "two moves, or one of `open` and `lift`"
        )
    if not move.open and not move.lift and not only_note:
        yield fault(at, "", "a move that neither opens nor lifts", "`open` with a joint or `lift` with parts")
    if move.open and move.by > alternatives.get(move.open, move.by):
        there = alternatives[move.open]
        right = f"by = 1 to {there}" if there > 1 else "no `by`: there is one way of opening it"
        yield fault(f"{at}.by", move.open, f"by = {move.by}, {move.open} has {there}", right)
    if move.lift and not move.open and move.by != 1:
        yield note(
            f"{at}.by", move.lift[0], "`by` on a lift", "no `by`: only joints have other ways of opening"
        )
    if body in move.lift:
        yield fault(f"{at}.lift", body, "the body lifted", "the parts that come off the body")


def seal_faults(record: Record) -> Iterator[Finding]:
    """Readings of seal tests: one pressure a time, and a temperature for each or for none."""
    for number, test in enumerate(record.seal_tests):
        many, at = len(test.seconds), f"seal_tests[{number}]"
        if many < 2:
            yield fault(f"{at}.seconds", test.id, f"{many} readings", "two or more")
        for key in ("pressure_pa", "celsius"):
            held = len(getattr(test, key))
            if held != many and (held or key == "pressure_pa"):
                yield fault(f"{at}.{key}", test.id, f"{held} values for {many} times", "one for each time")
        if any(late <= early for early, late in itertools.pairwise(test.seconds)):
            yield fault(f"{at}.seconds", test.id, "a time not later than the one before", "rising seconds")
