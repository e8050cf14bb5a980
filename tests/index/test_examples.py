"""Worked examples, from the steps, fasteners and tools of each part to R and its class.

The method is [lbl-2023-1669, Annex IV point 5], the classes [lbl-2023-1669, Annex II Table 4].
The devices are our own constructions, recomputed by hand with exact fractions.
"""

from __future__ import annotations

from msgspec.structs import replace

from index.builders import device, offered, part
from midframe.index import DeviceEvidence, RepairabilityIndex, repairability_index

V1 = [
    part("battery", 2, 5, 5),
    part("display", 8, 5, 4),
    part("back_cover", 1, 5, 5),
    part("front_camera", 4, 5, 4),
    part("rear_camera", 4, 5, 4),
    part("charging_port", 4, 5, 4),
    part("button", 6, 3, 4),
    part("microphone", 4, 5, 4),
    part("speaker", 4, 5, 4),
]
V2 = [
    part("battery", 6, 3, 4, remote=("authorisation",)),
    part("display", 12, 3, 1, remote=("authorisation",)),
    part("back_cover", 3, 3, 1),
    part("front_camera", 13, 5, 4),
    part("rear_camera", 9, 5, 4),
    part("charging_port", 9, 5, 4),
    part("button", 14, 1, 4),
    part("microphone", 9, 5, 4),
    part("speaker", 8, 5, 4),
]
V3 = [
    part("battery", 8, 3, 4),
    part("display", 4, 3, 1),
    part("back_cover", 12, 1, 1),
    part("front_camera", 8, 5, 4),
    part("charging_port", 9, 5, 4),
    part("button", 11, 5, 4),
    part("microphone", 9, 5, 4),
    part("speaker", 7, 5, 4),
]
V4 = [
    part("battery", 7, 3, 3, part="battery-left"),
    part("battery", 9, 3, 3, part="battery-right"),
    part("display", 14, 3, 1, part="display-inner"),
    part("display", 9, 3, 1, part="display-outer"),
    part("back_cover", 3, 3, 3),
    part("front_camera", 7, 5, 4),
    part("rear_camera", 6, 5, 4),
    part("charging_port", 8, 5, 4),
    part("button", 9, 5, 4),
    part("microphone", 8, 5, 4),
    part("speaker", 7, 5, 4),
    part("hinge", 16, 1, 1),
]
V5 = [
    part("battery", 5, 3, 4),
    part("display", 8, 3, 1),
    part("back_cover", 3, 3, 2),
    part("front_camera", 9, 3, 4),
    part("rear_camera", 7, 3, 4),
    part("charging_port", 10, 3, 4),
    part("button", 12, 3, 4),
    part("microphone", 11, 3, 4),
    part("speaker", 11, 3, 4),
]


def scored(evidence: DeviceEvidence) -> tuple[RepairabilityIndex, list[str]]:
    found = repairability_index(evidence)
    return found, [score.shown for score in found.scores]


def test_a_hand_opened_phone_reaches_class_a() -> None:
    found, scores = scored(device(V1))
    assert scores == ["4.05", "4.90", "4.40", "5.00", "5.00", "5.00"]
    assert found.value is not None
    assert (found.value.exact, found.value.shown, found.value.repair_class) == ("4.6575", "4.66", "A")
    assert not found.missing
    assert not found.undefined


def test_the_strict_reading_of_tool_changes_crosses_no_threshold_on_the_hand_opened_phone() -> None:
    strict = {"display": 10, "button": 8, "rear_camera": 5, "front_camera": 5}
    parts = [replace(one, steps=strict.get(one.role, one.steps)) for one in V1]
    assert repairability_index(device(parts)).value == repairability_index(device(V1)).value


def test_a_glued_phone_with_paired_battery_and_display_is_class_d() -> None:
    evidence = device(offered(V2, 1), updates_years=5, repair_information="free_professional")
    found, scores = scored(evidence)
    assert scores == ["2.10", "3.40", "2.80", "1.00", "1.00", "3.00"]
    assert found.value is not None
    assert (found.value.exact, found.value.repair_class) == ("2.2050", "D")
    battery = found.rows[0]
    assert (battery.steps, battery.remote_extra, battery.n, str(battery.depth)) == (6, 5, 11, "2")


def test_without_pairing_the_glued_phone_gains_0_15() -> None:
    parts = [replace(one, remote=()) for one in offered(V2, 1)]
    found, scores = scored(device(parts, updates_years=5, repair_information="free_professional"))
    assert scores[0] == "2.70"
    assert found.value is not None
    assert (found.value.exact, found.value.repair_class) == ("2.3550", "D")


def test_a_tablet_without_rear_camera_gets_full_points_for_the_camera() -> None:
    evidence = device(
        offered(V3, 2),
        kind="tablet",
        absent=("rear_camera",),
        updates_years=6,
        repair_information="free_professional",
    )
    found, scores = scored(evidence)
    assert scores == ["3.25", "3.40", "2.85", "2.00", "3.00", "3.00"]
    assert found.value is not None
    assert (found.value.exact, found.value.repair_class) == ("2.9500", "C")
    camera = next(row for row in found.rows if row.role == "rear_camera")
    assert (camera.state, str(camera.depth), str(camera.fastener), str(camera.tool)) == (
        "absent",
        "5",
        "5",
        "5",
    )


def test_a_foldable_phone_with_two_displays_and_two_cells_is_class_b() -> None:
    found, scores = scored(device(offered(V4, 4), foldable=True, has_hinge=True))
    assert scores == ["2.50", "3.14", "2.40", "4.00", "5.00", "5.00"]
    assert found.value is not None
    assert (found.value.exact, found.value.shown, found.value.repair_class) == ("3.5560", "3.56", "B")
    counting = {row.part for row in found.rows if "SDD" in row.counts_for}
    assert "display-inner" in counting
    assert "display-outer" not in counting
    assert "Q15" in {reading.id for reading in found.readings}


def test_the_rounding_trap_is_class_c_with_a_flag() -> None:
    evidence = device(V5, updates_years=6, repair_information="free_professional")
    found, scores = scored(evidence)
    assert scores == ["3.25", "3.00", "2.90", "5.00", "3.00", "3.00"]
    assert found.value is not None
    assert (found.value.exact, found.value.shown, found.value.repair_class) == ("3.3475", "3.35", "C")
    assert found.value.depends_on_rounding
    assert found.value.class_if_rounded == "B"
    assert any("rounding rule" in note for note in found.notes)


def test_the_lowest_value_an_authority_may_find_is_96_percent_of_r() -> None:
    # [lbl-2023-1669, Annex IX Table 10]: 4.6575 x 0.96 = 4.4712; 3.5560 x 0.96 = 3.41376.
    first, folding = device(V1), device(offered(V4, 4), foldable=True, has_hinge=True)
    found = repairability_index(first).value, repairability_index(folding).value
    assert [value.lowest_found for value in found if value] == ["4.471200", "3.413760"]
    assert [value.class_of_lowest_found for value in found if value] == ["A", "B"]


def test_the_trace_writes_every_sum_out_with_its_clause() -> None:
    trace = repairability_index(device(V5, updates_years=6, repair_information="free_professional")).trace
    assert len(trace) == 9 + 6 + 1
    assert all("[lbl-2023-1669, Annex IV point 5" in line for line in trace)
    assert trace[-1].startswith(
        "R = 0.25·3.25 + 0.15·3.00 + 0.15·2.90 + 0.15·5.00 + 0.15·3.00 + 0.15·3.00 = 3.3475"
    )
    assert trace[9].startswith("SDD = 0.30·4 + 0.30·3 + 0.10·4 + 0.05·3")
