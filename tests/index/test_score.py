"""Missing data, undefined scores, instances, hinges: how evidence becomes an index."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from index.builders import STEPS, all_parts, device, fastener, offered, part, tool
from midframe.faults import BadSetting
from midframe.index import PRIORITY_ROLES, Reading, ToolUse, repairability_index
from midframe.index.lbl_2023_1669 import ORDINARY_WEIGHTS

POINTS = st.integers(1, 5)


def swap(parts, role, **changes):
    return [replace(one, **changes) if one.role == role else one for one in parts]


def r_of(parts, **more):
    value = repairability_index(device(parts, **more)).value
    assert value is not None
    return value.ten_thousandths


@given(st.lists(st.tuples(POINTS, st.sampled_from([1, 3, 5]), POINTS), min_size=9, max_size=9), st.data())
def test_r_never_falls_when_one_criterion_of_one_part_rises(table, data):
    roles = [role for role in PRIORITY_ROLES if role != "hinge"]
    build = lambda rows: [part(role, STEPS[d], f, t) for role, (d, f, t) in zip(roles, rows, strict=True)]  # noqa: E731
    at = data.draw(st.integers(0, 8))
    column = data.draw(st.integers(0, 2))
    better = list(table)
    row = list(better[at])
    row[column] = 5
    better[at] = tuple(row)
    rise = (5 - table[at][column]) * ORDINARY_WEIGHTS[roles[at]] * (25 if column == 0 else 15)
    assert r_of(build(better)) - r_of(build(table)) == rise


@pytest.mark.parametrize("level", ["public", "free_professional", "paid_professional"])
@pytest.mark.parametrize("years", [5, 6, 7])
@pytest.mark.parametrize("rung", [1, 2, 3, 4, 5])
def test_the_product_level_scores_move_r_by_fifteen_hundredths_a_point(rung, years, level):
    points = (
        rung
        + {5: 1, 6: 3, 7: 5}[years]
        + {"public": 5, "free_professional": 3, "paid_professional": 1}[level]
    )
    r = r_of(offered(all_parts(), rung), updates_years=years, repair_information=level)
    assert r == 27_500 + 1500 * points


def test_several_instances_count_at_the_lowest_separately_for_each_score():
    first = part("button", 2, 1, 5, part="power-button")
    second = part("button", 20, 5, 1, part="volume-button")
    rest = [one for one in all_parts() if one.role != "button"]
    found = repairability_index(device([*rest, first, second]))
    assert [score.low for score in found.scores[:3]] == [480, 480, 480]
    counts = {row.part: row.counts_for for row in found.rows if row.role == "button"}
    assert counts == {"power-button": ("SF",), "volume-button": ("SDD", "ST")}


def test_an_absent_part_scores_highest_and_asks_nothing_of_the_spare_offer():
    rest = [one for one in offered(all_parts(1, 1, 1), 5) if one.role != "rear_camera"]
    found = repairability_index(device(rest, absent=("rear_camera",)))
    assert [score.low for score in found.scores[:4]] == [120, 120, 120, 500]


def test_the_hinge_switches_the_depth_formula_and_foldable_the_other_two():
    # [lbl-2023-1669, Annex IV point 5]: SDD by presence of a hinge, SF and ST by foldable.
    parts = swap(all_parts(1, 1, 1), "battery", steps=2, fasteners=(fastener(5),), tools=(tool(5),))
    hinge = part("hinge", 16, 1, 1)
    plain = repairability_index(device(parts))
    folding = repairability_index(device([*parts, hinge], foldable=True, has_hinge=True))
    bare = repairability_index(device(parts, foldable=True))
    stand = repairability_index(device([*parts, hinge], has_hinge=True))
    lows = [[score.low for score in found.scores[:3]] for found in (plain, folding, bare, stand)]
    assert lows == [[220, 220, 220], [200, 200, 200], [220, 268, 268], [200, 220, 220]]
    assert any("Foldable without hinge" in note for note in bare.notes)
    assert any("Hinge but not foldable" in note for note in stand.notes)


def test_the_hinge_spare_counts_on_foldable_phones_and_not_on_foldable_tablets():
    parts = [*all_parts(), part("hinge", 2, 5, 5, spare="professional")]
    phone = repairability_index(device(parts, foldable=True, has_hinge=True))
    tablet = repairability_index(device(parts, kind="tablet", foldable=True, has_hinge=True))
    assert [found.scores[3].low for found in (phone, tablet)] == [400, 500]
    assert "index-foldable-tablet" in {reading.id for reading in tablet.readings}


def test_the_worst_fastener_and_tool_of_the_segment_decide_and_are_named():
    mixed = (fastener(5, "screws"), fastener(1, "glue"), fastener(3, "tape"))
    parts = swap(all_parts(), "display", fasteners=mixed, tools=(tool(4, "spudger"), tool(1, "suction cup")))
    row = next(row for row in repairability_index(device(parts)).rows if row.role == "display")
    assert row.deciding_fastener is not None
    assert row.deciding_tool is not None
    assert (row.deciding_fastener.joint, row.deciding_tool.name) == ("glue", "suction cup")
    assert (row.fastener.known, row.tool.known) == (1, 1)


UNDEFINED = [
    ("SF", lambda parts: swap(parts, "speaker", fasteners=(replace(fastener(1, "weld"), level="none"),)), {}),
    ("ST", lambda parts: swap(parts, "speaker", tools=(ToolUse(name="moon key", group="proprietary"),)), {}),
    ("SSP", lambda parts: swap(parts, "speaker", spare="none"), {}),
    ("SSP", lambda parts: swap(parts, "display", spare="professional"), {}),
    ("SSU", lambda parts: parts, {"updates_years": 4.9}),
    ("SRI", lambda parts: parts, {"repair_information": "none"}),
]


@pytest.mark.parametrize(("symbol", "change", "more"), UNDEFINED)
def test_below_the_lowest_level_there_is_no_r_and_the_rule_is_named(symbol, change, more):
    found = repairability_index(device(change(all_parts()), **more))
    assert found.state == "no score defined"
    assert found.value is found.lowest is found.highest is None
    assert [one.scores for one in found.undefined] == [(symbol,)]
    assert found.undefined[0].rule
    assert found.undefined[0].clause.startswith("Annex IV point 5")
    shown = {score.symbol: score.shown for score in found.scores}
    assert shown.pop(symbol) == "no score defined"
    assert set(shown.values()) == {"5.00"}
    assert found.lowest_if_defined is not None
    assert found.highest_if_defined is not None
    assert found.lowest_if_defined.ten_thousandths <= found.highest_if_defined.ten_thousandths <= 50_000


def test_a_weld_on_the_speaker_would_leave_r_between_4_97_and_5_if_it_had_a_level():
    parts = swap(all_parts(), "speaker", fasteners=(replace(fastener(1, "weld"), level="none"),))
    found = repairability_index(device(parts))
    assert found.lowest_if_defined is not None
    assert found.highest_if_defined is not None
    assert (found.lowest_if_defined.exact, found.highest_if_defined.exact) == ("4.9700", "5.0000")


def test_missing_values_are_named_with_what_each_could_move_and_the_largest_first():
    parts = swap(all_parts(), "battery", steps=None, unreachable_reason="the glue has no work")
    parts = swap(parts, "speaker", fasteners=(fastener(None, "gasket"),))
    found = repairability_index(device(parts, updates_years=None))
    assert found.state == "range"
    assert found.value is None
    # Battery: 0.30 x 4 x (0.25 + 0.15 + 0.15); updates 0.15 x 4; speaker fastener 0.05 x 4 x 0.15.
    assert [(one.id, one.moves_ten_thousandths) for one in found.missing] == [
        ("way:battery", 6600),
        ("updates_years", 6000),
        ("fastener:gasket", 300),
    ]
    assert "the glue has no work" in found.missing[0].what
    assert found.lowest is not None
    assert found.highest is not None
    assert (found.lowest.exact, found.highest.exact) == ("3.7100", "5.0000")
    assert (found.lowest.repair_class, found.highest.repair_class) == ("B", "A")


def test_remote_actions_bound_the_depth_even_where_the_steps_are_missing():
    parts = swap(all_parts(), "battery", steps=None, remote=("notification", "authorisation"))
    row = repairability_index(device(parts)).rows[0]
    assert (row.depth.low, row.depth.high) == (1, 3)


def test_damage_on_the_way_is_a_note_of_the_result():
    notes = repairability_index(device(swap(all_parts(), "battery", damages=("back glass",)))).notes
    assert any("back glass" in note for note in notes)


@pytest.mark.parametrize(
    ("parts", "more", "match"),
    [
        (all_parts(), {"absent": ("speaker",)}, "speaker.*absent"),
        (all_parts(), {"unknown_roles": ("speaker",)}, "speaker.*unknown presence"),
        ([part("hinge", 3, 5, 5)], {}, "has_hinge must be true"),
        (all_parts(), {"has_hinge": True, "absent": ("hinge",)}, "listed as absent"),
        ([part("speaker", -1, 5, 5)], {}, "-1 steps"),
        ([part("speaker", 1, 5, 5, way_fasteners=())], {}, "speaker-joint.*way_fasteners"),
        ([part("speaker", 1, 5, 5, way_tools=())], {}, "speaker-tool.*way_tools"),
    ],
)
def test_evidence_that_contradicts_itself_is_refused(parts, more, match):
    with pytest.raises(BadSetting, match=match):
        repairability_index(device(parts, **more))


def test_a_result_names_the_readings_it_rests_on_and_no_others():
    own = Reading(id="Q3", text="Segment reading.")
    plain = {reading.id for reading in repairability_index(device(all_parts(), readings=(own,))).readings}
    assert {"Q3", "index-class-exact", "index-shown-half-up", "index-rung-down", "tool-basic-wins"} <= plain
    assert not plain & {"Q15", "index-spare-absent", "index-foldable-tablet"}
    absent = [one for one in all_parts() if one.role != "speaker"]
    assert "index-spare-absent" in {
        r.id for r in repairability_index(device(absent, absent=("speaker",))).readings
    }
