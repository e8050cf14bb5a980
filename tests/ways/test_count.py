"""Counting of documented orders: two worked examples of the index, each reading's switch, seconds and money.

Rules C1, C6, C7 are [lbl-2023-1669, Annex I (20) and Annex IV point 5]; the
worked examples and their counts are an own construction on paper, made before
the code.
"""

from __future__ import annotations

import pytest

from midframe.faults import IllegalMove
from midframe.record import check, faults
from midframe.record.model import Renewal
from midframe.ways.bench import Bench
from midframe.ways.count import count
from midframe.ways.readings import Readings
from midframe.ways.rules import Rules
from ways.records import by_hand, joint, lifted, opened, part, record, work

CROSS = "cross recess driver"


def plain_joint(name, holds, tool, behind=(), **more):
    """A joint opened in one operation with one tool, or by hand where the tool is empty."""
    tools = [tool] if tool else []
    return joint(name, f"{holds} frame", behind=behind, work=((work("undo", tools),),), **more)


def plug(name, holds, tool, behind):
    """A plug on a cable, opened with a tool or by hand."""
    tools = [tool] if tool else []
    return joint(name, holds, "connector", behind, tether=True, work=((work("unplug", tools),),))


def hand_opened():
    """Worked example V-1: an ordinary phone opened by hand."""
    seated = {"seat": "frame"}
    parts = [
        part("back-cover", **seated),
        part("battery", ["back-cover"], **seated),
        part("inner-cover", ["battery"], **seated),
        *(
            part(name, ["inner-cover"], **seated)
            for name in ("rear-camera", "front-camera", "port", "speaker")
        ),
        part("board", ["inner-cover"], **seated),
        part("flex", ["board"], **seated),
        part("button", ["flex"], **seated),
        part("display", ["board port rear-camera front-camera"], **seated),
    ]
    inner = ["inner-cover"]
    joints = [
        plain_joint("clips", "back-cover", ""),
        plain_joint("inner-screws", "inner-cover", CROSS, ["back-cover"]),
        plug("rear-plug", "rear-camera board", "spudger", inner),
        plug("front-plug", "front-camera board", "spudger", inner),
        plain_joint("port-screws", "port", CROSS, inner),
        plug("port-plug", "port board", "", inner),
        plain_joint("speaker-screws", "speaker", CROSS, inner),
        plain_joint("board-screws", "board", CROSS, inner),
        plug("flex-plug", "flex button", "spudger", ["board"]),
        plain_joint("button-tape", "button", "tweezers", ["flex"]),
        plain_joint("display-screws", "display", CROSS, ["board port"]),
    ]
    return record(parts, joints, name="V-1")


TO_COVER = (opened("clips"), lifted("back-cover"))
TO_BATTERY = (*TO_COVER, lifted("battery"))
INSIDE = (*TO_BATTERY, opened("inner-screws"), lifted("inner-cover"))
REAR = (opened("rear-plug"), lifted("rear-camera"))
FRONT = (opened("front-plug"), lifted("front-camera"))
PORT = (opened("port-screws"), opened("port-plug"), lifted("port"))
BOARD = (opened("board-screws"), lifted("board"))

HAND_OPENED = {
    "back-cover": TO_COVER,
    "battery": TO_BATTERY,
    "port": (*INSIDE, *PORT),
    "rear-camera": (*INSIDE, *REAR),
    "front-camera": (*INSIDE, *FRONT),
    "speaker": (*INSIDE, opened("speaker-screws"), lifted("speaker")),
    "button": (*INSIDE, *BOARD, opened("flex-plug"), lifted("flex"), opened("button-tape"), lifted("button")),
    "display": (*INSIDE, *REAR, *FRONT, *BOARD, *PORT, opened("display-screws"), lifted("display")),
}
"""The documented order to every part of V-1."""

SEGMENT = {"back-cover": 1, "battery": 2, "port": 4, "rear-camera": 4, "front-camera": 4, "speaker": 4}
SEGMENT |= {"button": 6, "display": 8}
STRICT = SEGMENT | {"display": 10, "button": 8, "rear-camera": 5, "front-camera": 5}


def steps(whole, moves, **readings):
    """How many steps a documented order takes."""
    return len(count(whole, moves, Readings(**readings)).steps)


def kinds(whole, moves, **readings):
    """What ends each step."""
    return [step.ends_with for step in count(whole, moves, Readings(**readings)).steps]


def test_the_worked_examples_are_sound_records():
    assert not faults(check(hand_opened()))
    assert not faults(check(glued()))


@pytest.mark.parametrize("target", SEGMENT)
def test_v1_takes_the_steps_of_the_worked_example(target):
    whole = hand_opened()
    assert steps(whole, HAND_OPENED[target]) == SEGMENT[target]
    rules = Rules(whole)
    assert rules.out(rules.replay(HAND_OPENED[target]), target)


@pytest.mark.parametrize("target", STRICT)
def test_v1_takes_the_strict_steps_of_the_worked_example(target):
    assert steps(hand_opened(), HAND_OPENED[target], swaps="strict") == STRICT[target]


def test_unplugging_alone_ends_a_step_only_where_reading_q2_says_so():
    whole = hand_opened()
    assert steps(whole, HAND_OPENED["rear-camera"], unplugging=True) == 5
    assert steps(whole, HAND_OPENED["port"], unplugging=True) == 5
    assert steps(whole, HAND_OPENED["speaker"], unplugging=True) == 4
    assert "unplugging" in kinds(whole, HAND_OPENED["port"], unplugging=True)


def test_the_first_tool_picked_up_counts_only_where_reading_q4_says_so():
    whole = hand_opened()
    assert steps(whole, HAND_OPENED["battery"], first_tool=True) == 2
    assert steps(whole, HAND_OPENED["speaker"], first_tool=True) == 5
    assert steps(whole, HAND_OPENED["display"], first_tool=True) == 9


def test_the_bare_hand_is_a_tool_only_where_reading_q5_says_so():
    whole = hand_opened()
    assert steps(whole, HAND_OPENED["battery"], bare_hand=True) == 2
    # The driver is put down for each lift after screws; taking it up right after a removal is free.
    assert steps(whole, HAND_OPENED["speaker"], bare_hand=True) == 6
    # Strict: up and down count both times.
    assert steps(whole, HAND_OPENED["speaker"], bare_hand=True, swaps="strict") == 4 + 4


def two_sizes(first="hexalobular 4 driver", second="hexalobular 3 driver"):
    """A plate under screws of two sizes."""
    joints = [plain_joint("long", "plate", first), plain_joint("short", "plate", second)]
    return record([part("plate", seat="frame")], joints)


PLATE = (opened("long"), opened("short"), lifted("plate"))


def test_another_size_of_the_same_tool_is_another_tool_unless_reading_q6_says_otherwise():
    assert kinds(two_sizes(), PLATE) == ["tool change", "removal"]
    assert kinds(two_sizes(), PLATE, bit_size=False) == ["removal"]
    other = two_sizes(second="five-lobe 0.8 driver")
    assert kinds(other, PLATE, bit_size=False) == ["tool change", "removal"]


def test_a_swap_just_after_a_removal_is_free_and_one_in_mid_work_counts():
    whole = hand_opened()
    assert kinds(whole, HAND_OPENED["rear-camera"]) == ["removal"] * 4
    assert kinds(whole, HAND_OPENED["rear-camera"], swaps="strict") == [
        *["removal"] * 3,
        "tool change",
        "removal",
    ]


def test_openings_after_the_last_removal_make_one_more_step_unless_reading_m1_is_off():
    whole = record(
        [part("display", seat="frame"), part("board", ["display"], seat="frame")],
        [
            plain_joint("bond", "display", "opening pick"),
            plug("flex", "display board", "spudger", ["display"]),
        ],
    )
    moves = (opened("bond"), lifted("display"), opened("flex"))
    assert kinds(whole, moves) == ["removal", "last openings"]
    assert kinds(whole, moves, tail=False) == ["removal"]
    assert count(whole, moves).steps[-1].move == 3


def glued():
    """Worked example V-2: a glued back, heated, lifted with suction cup and lever together."""
    back = (work("heat rear edge", ["heating mat"], 90), work("pry", ["suction cup", "prying lever"], 60))
    seated = {"seat": "frame"}
    parts = [
        part("back-cover", **seated),
        part("shield", ["back-cover"], **seated),
        part("battery-flex", ["shield"], **seated),
        part("battery", ["battery-flex"], **seated),
    ]
    joints = [
        joint("back-glue", "back-cover frame", "adhesive", work=(back,)),
        plain_joint("shield-screws", "shield", CROSS, ["back-cover"]),
        plain_joint("flex-plug", "battery-flex", "spudger", ["shield"], kind="connector"),
        plain_joint("strips", "battery", "tweezers", ["battery-flex"], kind="adhesive"),
    ]
    return record(parts, joints, name="V-2")


GLUED_COVER = (opened("back-glue"), lifted("back-cover"))
GLUED_BATTERY = (
    *GLUED_COVER,
    opened("shield-screws"),
    lifted("shield"),
    opened("flex-plug"),
    lifted("battery-flex"),
    opened("strips"),
    lifted("battery"),
)


def test_v2_heating_is_a_step_and_so_is_each_tool_used_at_the_same_time():
    assert kinds(glued(), GLUED_COVER) == ["heating", "tools at the same time", "removal"]
    assert steps(glued(), GLUED_BATTERY) == 6


def test_v2_strictly_each_of_its_four_swaps_counts_as_well():
    assert steps(glued(), GLUED_BATTERY, swaps="strict") == 10


def test_v2_unplugging_and_folding_the_flex_aside_is_one_step_or_two_by_reading_q2():
    assert steps(glued(), GLUED_BATTERY, unplugging=True) == 7


@pytest.mark.parametrize("do", ["clean seat", "remove residue", "reheat edge", "warm frame"])
def test_heating_and_cleaning_are_steps_of_their_own(do):
    whole = record(
        [part("cell", seat="frame")],
        [joint("bond", "cell frame", work=((work("pull", ["tweezers"]), work(do, ["tweezers"])),))],
    )
    assert len(kinds(whole, (opened("bond"), lifted("cell")))) == 2


def test_soaking_is_no_step_and_a_consumable_beside_a_tool_no_tool():
    ways = ((work("soak", ["isopropanol", "tweezers"]), work("pull", ["tweezers"])),)
    whole = record([part("cell", seat="frame")], [joint("bond", "cell frame", work=ways)])
    counted = count(whole, (opened("bond"), lifted("cell")))
    assert [step.ends_with for step in counted.steps] == ["removal"]
    assert counted.tools == ("tweezers",)
    assert counted.consumables == ("isopropanol",)


def test_each_alternative_is_counted_as_the_move_says():
    ways = ((work("pull", [], 40),), (work("soak", ["isopropanol"], 30), work("pry", ["prying lever"], 90)))
    whole = record([part("cell", seat="frame", lift=by_hand(2))], [joint("bond", "cell frame", work=ways)])
    assert count(whole, (opened("bond", 1), lifted("cell"))).seconds == 42
    # 4 s each to take up the solvent and the lever, between them one counted change.
    second = count(whole, (opened("bond", 2), lifted("cell")))
    assert second.seconds == 30 + 90 + 4 + 4 + 2
    assert [step.ends_with for step in second.steps] == ["tool change", "removal"]


def test_seconds_are_work_and_tool_changes_and_turns_of_the_device():
    whole = record(
        [part("lid", face="back", lift=by_hand(2)), part("glass", ["lid"], seat="frame", face="front")],
        [joint("screws", "lid frame", face="back", work=((work("unscrew", [CROSS], 12),),))],
    )
    bench = Bench(change_seconds=5.0, flip_seconds=7.0, lift_seconds=3.0)
    counted = count(whole, (opened("screws"), lifted("lid"), lifted("glass")), None, bench)
    assert [move.seconds for move in counted.moves] == [12 + 5 + 7, 2, 3 + 7]
    assert counted.seconds == 36
    assert [move.flipped for move in counted.moves] == [True, False, True]


def test_a_ruined_part_is_paid_once_and_every_renewal_each_time():
    tape = Renewal(item="tape", price=1.5)
    ways = ((work("pull", [], 36, ruins=("foil",), risk=0.1, harms=("cell",)),),)
    whole = record(
        [part("cell", seat="frame", price=30.0), part("foil", seat="frame", price=4.0)],
        [
            joint(name, "cell frame", "adhesive", renew=tape, ruins=("foil",), work=ways)
            for name in ("a", "b")
        ],
    )
    counted = count(whole, (opened("a"), opened("b")), None, Bench(labour_per_hour=50.0))
    assert counted.ruined == ("foil",)
    assert counted.renewed_joints == ("a", "b")
    assert counted.renewals_price == 4.0 + 2 * 1.5
    assert counted.breakage == pytest.approx(2 * 0.1 * 30.0)
    assert counted.labour == pytest.approx(72 / 3600 * 50)
    assert counted.money == pytest.approx(7.0 + 6.0 + 1.0)


def test_what_has_no_price_is_named():
    whole = record(
        [part("cell", seat="frame")],
        [joint("bond", "cell frame", renew=Renewal(item="tape"), ruins=("cell",))],
    )
    assert count(whole, (opened("bond"),)).unpriced == ("cell", "bond")


def test_a_forbidden_order_is_not_counted():
    with pytest.raises(IllegalMove, match="open strips: strips lies behind battery-flex"):
        count(glued(), (opened("strips"),))


def test_a_count_names_the_readings_it_used():
    texts = count(glued(), GLUED_COVER, Readings(swaps="strict")).readings
    assert [text.split()[0] for text in texts] == ["Q2", "Q3", "Q4", "Q5", "Q6", "M1"]
    assert texts[1] == "Q3 every swap between two tools counts"


def test_parts_that_leave_together_are_one_step():
    whole = record(
        [part("camera", seat="frame"), part("board", seat="frame")],
        [joint("pads", "camera board"), plain_joint("screws", "board", CROSS)],
    )
    counted = count(whole, (opened("screws"), lifted("board")))
    assert len(counted.steps) == 1
    assert counted.moves[1].group == ("camera", "board")


def test_alcohol_on_a_wipe_is_no_second_tool():
    # [lbl-2023-1669, Annex IV point 5, C6]: each tool used at the same time; a consumable is none (reading).
    wiped = record(
        [part("a")],
        [joint("j1", "a frame", "adhesive", work=((work("clean", ["isopropanol", "lint-free wipe"]),),))],
    )
    assert [step.ends_with for step in count(wiped, (opened("j1"), lifted("a"))).steps] == [
        "cleaning",
        "removal",
    ]


def test_a_connector_of_several_operations_is_unplugged_once():
    steps = (work("unlatch", ["spudger"]), work("pull", ["tweezers"]))
    latched = joint("plug", "lid frame", "connector", work=(steps,))
    whole = record([part("lid")], [latched])
    counted = count(whole, [opened("plug"), lifted("lid")], Readings(unplugging=True))
    assert [step.ends_with for step in counted.steps] == ["tool change", "unplugging", "removal"]
