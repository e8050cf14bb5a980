from __future__ import annotations

import msgspec
import pytest

from midframe.faults import RecordFault, UnknownPart
from midframe.ways.count import count
from midframe.ways.rules import Rules
from midframe.ways.solve import Planner
from midframe.ways.toolbox import (
    Toolbox,
    best_without,
    check,
    missing,
    nearest,
    owned_planner,
    parse,
    with_toolbox,
)
from midframe.ways.way import NoWayFound, Way
from ways.brute import brute_value
from ways.generators import TOOLS, small
from ways.records import joint, opened, part, record, work
from ways.restricted import cheapest_of

FULL = Toolbox(("suction cup", "opening pick", "prying lever", "tweezers"), ("isopropanol",))


def phone():
    """A cell with a pull tab by hand and a bond that can also be soaked and pried."""
    soak = (work("soak", ["isopropanol"], 30.0), work("pry", ["prying lever"], 90.0))
    pull = (work("pull tab", ["tweezers"], 40.0),)
    return record(
        [part("lid"), part("cell", ["lid"])],
        [
            joint("lid-glue", "lid frame", work=((work("cut", ["opening pick"], 60.0),),)),
            joint("cell-bond", "cell frame", behind=["lid"], work=(pull, soak)),
        ],
    )


def without(*names):
    return Toolbox(
        tuple(name for name in FULL.tools if name not in names),
        tuple(name for name in FULL.consumables if name not in names),
    )


def test_a_toolbox_is_read_from_two_lists():
    text = 'tools = ["spudger", "hexalobular 4 driver"]\nconsumables = ["isopropanol"]\n'
    assert parse(text) == Toolbox(("spudger", "hexalobular 4 driver"), ("isopropanol",))
    assert parse('tools = ["spudger"]').consumables == ()


def test_every_fault_of_a_toolbox_is_told_at_once_with_its_place():
    text = 'tool = ["spudger"]\ntools = ["spudger", 4, ""]\nconsumables = "isopropanol"\n'
    with pytest.raises(RecordFault) as told:
        parse(text, "bench.toml")
    assert [(finding.file, finding.path) for finding in told.value.findings] == [
        ("bench.toml", "tool"),
        ("bench.toml", "tools[1]"),
        ("bench.toml", "tools[2]"),
        ("bench.toml", "consumables"),
    ]
    assert told.value.findings[0].right == 'the key "tools", if that is meant'
    assert all(finding.right for finding in told.value.findings)


@pytest.mark.parametrize("text", ["tools = [", "", "consumables = []"])
def test_a_text_that_is_no_toolbox_is_refused(text):
    with pytest.raises(RecordFault, match="found"):
        parse(text)


def test_a_name_that_stands_twice_is_noted():
    notes = check(
        Toolbox(("spudger", "Hexalobular 4 driver", "driver  hexalobular 4"), ("spudger",)), "b.toml"
    )
    assert [(finding.file, finding.path, finding.level) for finding in notes] == [
        ("b.toml", "tools[2]", "note"),
        ("b.toml", "consumables[0]", "note"),
    ]
    assert check(FULL) == ()


def test_case_and_spaces_do_not_make_another_tool():
    way = Planner(phone()).way("lid")
    assert missing(way, Toolbox(("  Opening   PICK ",))).things == ()


def test_what_is_missing_is_told_first_with_moves_and_the_nearest_name():
    whole = record(
        [part("lid")],
        [
            joint("a", "lid frame", "screw", drive="hexalobular 4", count=2),
            joint("b", "lid frame", "screw", drive="hexalobular 4", count=4),
            joint("c", "lid frame", work=((work("clean", ["isopropanol"]),),)),
        ],
    )
    way = Planner(whole).way("lid")
    told = missing(way, Toolbox(("driver hexalobular 4", "hexalobular 3 driver")))
    driver = next(thing for thing in told.things if not thing.consumable)
    assert (driver.name, driver.nearest) == ("hexalobular 4 driver", "driver hexalobular 4")
    assert [way.moves[number - 1].open for number in driver.moves] == ["a", "b"]
    assert 'hexalobular 4 driver (2 moves; is it "driver hexalobular 4"?)' in told.text
    assert {thing.name for thing in told.things if thing.consumable} == {"isopropanol"}


def test_a_tool_of_another_size_is_never_proposed():
    assert nearest("hexalobular 4 driver", ["hexalobular 3 driver", "hexalobular driver"]) is None
    assert nearest("prying lever", ["pry lever", "spudger"]) == "pry lever"


def test_the_best_way_with_owned_things_takes_the_other_way_of_opening():
    found = with_toolbox(Planner(phone()), "cell", without("tweezers"))
    assert [thing.name for thing in found.missing.things] == ["tweezers"]
    assert opened("cell-bond", 2) in found.owned.moves
    assert found.difference.text.startswith("cell bond: soak, pry instead of pull tab: ")
    assert found.difference.more_seconds == found.owned.seconds - found.best.seconds > 0


def test_a_consumable_that_is_used_up_bars_its_way_too():
    answer = best_without(Planner(phone()), "cell", without("tweezers", "isopropanol"))
    assert isinstance(answer, NoWayFound)
    assert answer.reason == "no way with what is in the toolbox; the best way needs tweezers besides"


def test_with_all_owned_the_best_way_is_the_answer():
    found = with_toolbox(Planner(phone()), "cell", FULL)
    assert (found.owned, found.missing.things, found.difference) == (found.best, (), None)
    assert found.missing.text == "all that is needed is in the toolbox"


def test_an_unknown_part_is_refused():
    with pytest.raises(UnknownPart):
        with_toolbox(Planner(phone()), "nothing", FULL)


@pytest.mark.parametrize("seed", range(40))
def test_ways_with_owned_things_are_those_of_a_record_without_the_others(seed):
    # The tools of generated records are drawn from TOOLS; every third one is not owned.
    whole = small(seed)
    toolbox = Toolbox(tuple(tool for number, tool in enumerate(TOOLS) if (number + seed) % 3), ())
    planner = owned_planner(Planner(whole), toolbox)
    names = [one.id for one in whole.parts if one.id != whole.device.body]
    bench = planner.bench
    for name, best in zip(names, brute_owned(whole, names, toolbox, bench), strict=True):
        way = planner.way(name)
        assert brute_value(best) == (way.value if isinstance(way, Way) else None)
        if isinstance(way, Way):
            assert not missing(way, toolbox).things
            assert count(whole, way.moves).seconds == way.seconds


def brute_owned(whole, names, toolbox, bench):
    """The cheapest ways by trying everything on the referee that owned tools can do."""
    owned, rules = set(toolbox.names), Rules(whole)

    def allowed(move):
        if move.open:
            steps = bench.operations(rules.joints[move.open])[move.by - 1]
        else:
            steps = (bench.lift_operation(rules.parts[move.lift[0]]),)
        return all(owned.issuperset(step.tools) for step in steps)

    return cheapest_of(whole, [(name,) for name in names], allowed, bench=bench)


def test_the_answer_can_be_written_as_json():
    found = with_toolbox(Planner(phone()), "cell", without("tweezers"))
    assert msgspec.json.decode(msgspec.json.encode(found))["missing"]["things"][0]["name"] == "tweezers"
