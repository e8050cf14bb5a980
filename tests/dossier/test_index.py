"""From records to the index: the worked examples end to end, documented orders, segments, assumed conditions.

The examples are constructions of our own; their sums follow [lbl-2023-1669, Annex IV point 5].
"""

from __future__ import annotations

import msgspec
import pytest

from dossier.worked import glued, hand_opened, unpaired
from midframe.demo import load, names
from midframe.dossier.evidence import evidence_of, record_evidence
from midframe.dossier.index import assumed_in, device_index, without_assumed
from midframe.faults import BadSetting
from midframe.record import check, faults
from midframe.record.model import Order
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner, solve
from ways.records import joint, lifted, opened, part, record, with_joint, with_part, work

EXAMPLE_1 = {
    "battery": (2, 5, 5, 5),
    "display": (8, 3, 5, 4),
    "back_cover": (1, 5, 5, 5),
    "front_camera": (4, 4, 5, 4),
    "rear_camera": (4, 4, 5, 4),
    "charging_port": (4, 4, 5, 4),
    "button": (6, 3, 3, 4),
    "microphone": (4, 4, 5, 4),
    "speaker": (4, 4, 5, 4),
}
EXAMPLE_2 = {
    "battery": (11, 2, 3, 4),
    "display": (17, 1, 3, 1),
    "back_cover": (3, 4, 3, 1),
    "front_camera": (13, 2, 5, 4),
    "rear_camera": (9, 3, 5, 4),
    "charging_port": (9, 3, 5, 4),
    "button": (14, 2, 1, 4),
    "microphone": (9, 3, 5, 4),
    "speaker": (8, 3, 5, 4),
}
"""Steps with remote actions, points for depth, fasteners and tools, of each part."""


def rows(found):
    return {
        row.role: (row.n, row.depth.known, row.fastener.known, row.tool.known)
        for row in found.index.rows
        if row.state == "present"
    }


@pytest.mark.parametrize("make", [hand_opened, glued])
def test_the_examples_are_sound_records(make):
    assert not faults(check(make()))


@pytest.mark.parametrize(
    ("make", "table", "exact", "shown", "letter"),
    [(hand_opened, EXAMPLE_1, "4.6575", "4.66", "A"), (glued, EXAMPLE_2, "2.2050", "2.21", "D")],
)
def test_the_worked_examples_come_out_end_to_end(make, table, exact, shown, letter):
    found = device_index(make())
    assert rows(found) == table
    value = found.index.value
    assert (value.exact, value.shown, value.repair_class) == (exact, shown, letter)
    assert found.range is None


def test_without_pairing_the_second_example_gains_fifteen_hundredths():
    assert device_index(unpaired(glued())).index.value.exact == "2.3550"


def test_under_the_strict_reading_the_first_example_has_more_steps_and_the_same_index():
    found = device_index(hand_opened(), Readings(swaps="strict"))
    steps = {role: row[0] for role, row in rows(found).items()}
    assert (steps["display"], steps["button"], steps["rear_camera"], steps["front_camera"]) == (10, 8, 5, 5)
    assert found.index.value.exact == "4.6575"


def test_the_steps_of_the_second_example_read_like_its_description():
    lines = device_index(glued()).sequence("battery").step_lines
    assert [line.ends_with for line in lines] == [
        "heating",
        "tools at the same time",
        "removal",
        "removal",
        "removal",
        "removal",
    ]
    assert [line.tools for line in lines[3:]] == [("cross recess 00 driver",), ("spudger",), ("tweezers",)]
    assert lines[3].joints == ("shield-screws",)
    assert lines[5].parts == ("battery",)


@pytest.mark.parametrize("name", names())
@pytest.mark.parametrize("readings", [Readings(), Readings(swaps="strict", unplugging=True, first_tool=True)])
def test_every_counted_step_has_one_line(name, readings):
    if name == "avocet-fold":
        pytest.skip("the ways of the large record are tested by the ways")
    for sequence in device_index(load(name), readings).sequences:
        assert [line.number for line in sequence.step_lines] == list(range(1, (sequence.steps or 0) + 1))


def layered():
    """A lid, a camera under it, a cell under it held by glue; the camera may go before or after."""
    return record(
        [
            part("lid", role="back_cover"),
            part("camera", ("lid",), role="rear_camera"),
            part("cell", ("lid",), role="battery"),
        ],
        [
            joint("lid-clips", "lid frame", "clip", fastener="reusable", work=((work("unclip"),),)),
            joint("camera-plug", "camera frame", "connector", ("lid",), fastener="reusable"),
            joint(
                "cell-glue",
                "cell frame",
                "adhesive",
                ("camera",),
                fastener="removable",
                work=((work("pry", ["prying lever"]),),),
            ),
        ],
    )


def test_the_segment_begins_after_the_last_priority_part_put_aside_before():
    found = record_evidence(layered())
    cell = next(one for one in found.device.parts if one.role == "battery")
    assert cell.segment_start == "camera"
    assert [one.joint for one in cell.fasteners] == ["cell-glue"]
    assert [one.joint for one in cell.way_fasteners] == ["lid-clips", "camera-plug", "cell-glue"]
    assert [one.name for one in cell.tools] == ["prying lever"]
    assert cell.way_parts == ("lid", "camera")


def test_what_leaves_in_the_same_bundle_is_no_previous_part():
    whole = record(
        [part("lid", role="back_cover"), part("lens", role="rear_camera", seat="lid")],
        [
            joint("clips", "lid frame", "clip", fastener="removable"),
            joint("lens-tape", "lens lid", "adhesive", ("lid",), fastener="reusable"),
        ],
    )
    found = record_evidence(whole)
    lens = next(one for one in found.device.parts if one.role == "rear_camera")
    assert (lens.segment_start, [one.joint for one in lens.fasteners]) == ("", ["clips", "lens-tape"])


def test_of_ways_with_as_few_steps_the_one_with_the_better_points_counts():
    # The glued strip can be taken out before the camera: then it is not in the segment of the cell.
    whole = record(
        [
            part("camera", role="rear_camera"),
            part("strip"),
            part("cell", ("camera strip",), role="battery"),
        ],
        [
            joint("camera-fit", "camera frame", fastener="reusable", work=((work("free", seconds=1),),)),
            joint(
                "strip-glue",
                "strip frame",
                "adhesive",
                fastener="removable",
                work=((work("peel", seconds=1),),),
            ),
            joint("cell-fit", "cell frame", fastener="reusable", work=((work("free", seconds=1),),)),
        ],
    )
    found = record_evidence(whole)
    cell = next(one for one in found.device.parts if one.role == "battery")
    governing = next(one for one in found.sequences if one.part == "cell")
    assert [one.joint for one in cell.fasteners] == ["cell-fit"]
    assert governing.tried > 1
    assert governing.steps == 3
    assert governing.previous == "camera"
    assert governing.basis == "computed"
    assert "no documented order" in governing.why


def two_routes():
    """Over the strip (glued) or over the bar (a clip): both take two steps, the glued one is faster."""
    return record(
        [part("strip"), part("bar"), part("cell", ("strip", "bar"), role="battery")],
        [
            joint(
                "strip-glue",
                "strip frame",
                "adhesive",
                fastener="removable",
                work=((work("peel", seconds=1),),),
            ),
            joint("bar-clip", "bar frame", "clip", fastener="reusable", work=((work("free", seconds=9),),)),
            joint("cell-fit", "cell frame", fastener="reusable", work=((work("free", seconds=1),),)),
        ],
    )


def levels(evidence):
    (cell,) = [one for one in evidence.parts if one.role == "battery"]
    return cell.steps, [one.level for one in cell.fasteners]


def test_further_ways_of_as_few_steps_are_compared_where_they_are_given():
    whole = two_routes()
    planner = Planner(whole)
    clipped = solve(with_part(whole, "cell", under=(("bar",),)), "cell")
    assert levels(evidence_of(planner.counter, planner.way).device) == (2, ["removable", "reusable"])
    given = evidence_of(planner.counter, planner.way, lambda part: (clipped,))
    assert levels(given.device) == (2, ["reusable", "reusable"])


def test_a_thorough_index_finds_a_quite_different_way_of_as_few_steps():
    assert levels(device_index(two_routes(), thorough=True).evidence) == (2, ["reusable", "reusable"])


def test_a_documented_order_governs_even_if_it_takes_more_steps():
    whole = layered()
    more = with_part(whole, "cell", under=(("lid",),))
    more = with_joint(more, "cell-glue", behind=(("lid",),))
    moves = (
        opened("lid-clips"),
        lifted("lid"),
        opened("camera-plug"),
        lifted("camera"),
        opened("cell-glue"),
        lifted("cell"),
    )
    ordered = msgspec.structs.replace(more, orders=(Order(target="cell", moves=moves, title="Cell"),))
    plain, governed = device_index(more).sequence("cell"), device_index(ordered).sequence("cell")
    assert (plain.basis, plain.steps) == ("computed", 2)
    assert (governed.basis, governed.steps) == ("documented", 3)
    assert "documented order: Cell" in governed.why


def test_an_order_the_rules_forbid_is_set_aside_and_named():
    wrong = (Order(target="cell", moves=(lifted("cell"),), title="Cell"),)
    found = device_index(msgspec.structs.replace(layered(), orders=wrong)).sequence("cell")
    assert found.basis == "computed"
    assert "documented order Cell not used: move 1" in found.why


def test_moves_after_the_target_is_out_do_not_count():
    moves = (opened("lid-clips"), lifted("lid"), opened("camera-plug"), lifted("camera"))
    whole = msgspec.structs.replace(layered(), orders=(Order(target="lid", moves=moves),))
    assert device_index(whole).sequence("lid").moves == moves[:2]


def test_a_part_without_a_way_leaves_a_gap_that_gives_the_reason():
    stuck = with_joint(layered(), "cell-glue", behind=(("cell",),))
    found = device_index(stuck)
    assert found.sequence("cell").basis == "none"
    assert any("a way out of cell" in gap.what for gap in found.index.missing)


def test_tools_of_the_record_go_before_the_table():
    from midframe.record.model import Tool

    whole = msgspec.structs.replace(layered(), tools=(Tool(name="prying lever", group="proprietary"),))
    cell = next(one for one in record_evidence(whole).device.parts if one.role == "battery")
    assert cell.tools[0].group == "proprietary"


def test_what_a_removal_ruins_beside_itself_is_damage():
    ruined = with_joint(layered(), "cell-glue", ruins=("camera", "cell"))
    cell = next(one for one in record_evidence(ruined).device.parts if one.role == "battery")
    assert cell.damages == ("camera",)


def test_heat_and_solvent_on_the_way_are_told():
    hot = with_joint(layered(), "lid-clips", work=((work("heat", ["heating mat"]), work("pry")),))
    wet = with_joint(hot, "cell-glue", work=((work("soak", ["isopropanol"]), work("pry")),))
    cell = next(one for one in record_evidence(wet).device.parts if one.role == "battery")
    assert (cell.uses_heat, cell.uses_solvent) == (True, True)


def test_assumed_conditions_give_a_range_from_ignored_to_kept():
    whole = glued()
    assumed = with_part(whole, "speaker", assumed=True)
    assumed = with_joint(assumed, "speaker-screws", assumed=True)
    assert assumed_in(assumed) == ("speaker", "speaker-screws")
    found = device_index(assumed).range
    free = device_index(without_assumed(assumed)).index.value
    # Screws and speaker by themselves: 1 step instead of 8, 5 points instead of 3 in a part of weight 0.05.
    assert (found.worst, found.best) == (22_050, 22_050 + 250)
    assert free.ten_thousandths == found.best
    assert "2.2050" in found.text


def test_every_regulation_is_judged_and_can_be_asked_for():
    found = device_index(load("tern-2"))
    assert found.judgement("eco-2023-1670").findings
    assert found.judgement("bat-2023-1542").findings
    assert len(found.findings) > 10
    with pytest.raises(BadSetting, match="lbl-2023-1669"):
        found.judgement("no-such-act")
    with pytest.raises(BadSetting, match="battery"):
        found.sequence("no-such-part")


def test_the_result_goes_into_plain_values():
    plain = msgspec.to_builtins(device_index(load("tern-2")))
    assert plain["index"]["value"]["repair_class"] == "C"
    assert plain["sequences"][0]["step_lines"]


def test_a_way_that_ruins_another_part_is_left_for_one_that_spares_it():
    # [lbl-2023-1669, Annex IV point 5]: the removal must not damage the product.
    tear, soften = work("tear"), (work("soak", ["isopropanol"]), work("pry", ["spudger"]))
    whole = record(
        [part("mesh"), part("cell", role="battery")],
        [
            joint("mesh-glue", "mesh frame", "adhesive", work=((work("peel"),),)),
            joint(
                "cell-glue",
                "cell frame",
                "adhesive",
                fastener="resupplied",
                work=((msgspec.structs.replace(tear, ruins=("mesh",)),), soften),
            ),
        ],
    )
    assert [move.by for move in solve(whole, "cell").moves if move.open] == [1]
    found = device_index(whole)
    (cell,) = [one for one in found.evidence.parts if one.role == "battery"]
    assert ([one.name for one in cell.tools], cell.damages) == (["isopropanol", "spudger"], ())
    only = with_joint(whole, "cell-glue", work=((msgspec.structs.replace(tear, ruins=("mesh",)),),))
    (cell,) = [one for one in device_index(only).evidence.parts if one.role == "battery"]
    assert cell.damages == ("mesh",)
    assert any("ruins mesh" in note for note in device_index(only).index.notes)


def test_what_is_split_off_the_bundle_before_the_target_is_its_previous_part():
    # [lbl-2023-1669, Annex IV point 5, Fasteners]: from the state in which the previous part is removed.
    whole = record(
        [
            part("board"),
            part("camera", ("board",), role="rear_camera", seat="board"),
            part("port", ("camera",), role="charging_port", seat="board"),
        ],
        [
            joint("board-glue", "board frame", "adhesive", fastener="removable"),
            joint("camera-plug", "camera board", "connector", ("board",), fastener="reusable"),
            joint("port-screws", "port board", "screw", ("camera",), fastener="reusable", drive="slotted"),
        ],
    )
    evidence = device_index(whole).evidence
    found = {one.part: (one.segment_start, [f.joint for f in one.fasteners]) for one in evidence.parts}
    assert found["camera"] == ("", ["board-glue", "camera-plug"])
    assert found["port"] == ("camera", ["port-screws"])


def test_a_part_that_hangs_on_while_another_leaves_does_not_count_the_work_on_that_one():
    # [lbl-2023-1669, Annex IV point 5, Fasteners]: the work on the cell is the cell's segment only.
    whole = record(
        [part("display", role="display"), part("cell", ("display",), role="battery")],
        [
            joint("clips", "display frame", "clip", fastener="reusable"),
            joint("glue", "cell frame", "adhesive", ("display",), fastener="removable"),
            joint("flex", "display frame", "connector", ("cell",), tether=True, fastener="reusable"),
        ],
    )
    found = {one.part: one for one in device_index(whole).evidence.parts}
    assert [one.joint for one in found["display"].fasteners] == ["clips", "flex"]
    assert [one.joint for one in found["display"].way_fasteners] == ["clips", "glue", "flex"]
    assert (found["cell"].segment_start, [one.joint for one in found["cell"].fasteners]) == (
        "display",
        ["glue"],
    )


def test_the_evidence_says_which_fasteners_are_the_parts_own_and_which_openings_are_guessed():
    found = {
        f.joint: (f.own, f.assumed)
        for one in record_evidence(layered()).device.parts
        if one.role == "battery"
        for f in one.way_fasteners
    }
    assert found == {
        "lid-clips": (False, False),
        "camera-plug": (False, True),
        "cell-glue": (True, False),
    }
    notes = device_index(layered()).index.notes
    assert any("usual tools where the record gives none: camera plug" in note for note in notes)
