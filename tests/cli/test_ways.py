from __future__ import annotations

import msgspec
import pytest

from cli.small import SMALL, data, run
from midframe.cli.sheets.way import proof
from midframe.cli.sheets.ways import mostly_default
from midframe.record import read
from midframe.ways.objective import Objective
from midframe.ways.readings import Readings
from midframe.ways.solve import solve, solve_all

RECORD = read(SMALL)


def test_the_table_holds_every_part_but_the_body_with_the_figures_of_the_library(small):
    rows = {row["part"]: row for row in data("ways", small)["ways"]}
    answers = solve_all(RECORD)
    assert list(rows) == list(answers)
    for part, way in answers.items():
        assert (rows[part]["steps"], rows[part]["seconds"]) == (way.steps, pytest.approx(way.seconds))
        assert (rows[part]["proven"], rows[part]["tools"]) == (True, list(way.count.tools))


def test_priority_parts_come_first(small):
    output = run("ways", small).output
    assert output.index("Battery") < output.index("Main board")


@pytest.mark.parametrize("by", ["steps", "seconds", "money", "seconds,steps"])
def test_what_is_least_can_be_said(by, small):
    rows = {row["part"]: row for row in data("ways", small, "--by", by)["ways"]}
    way = solve(RECORD, "battery", Objective.parse(by))
    assert rows["battery"]["value"] == list(way.value)


def test_an_unknown_cost_is_answered_with_the_known_ones(small):
    result = run("ways", small, "--by", "beauty")
    assert result.exit_code == 1
    assert "steps, seconds or money" in result.stderr


@pytest.mark.parametrize(
    ("option", "readings"),
    [
        ("--strict-swaps", Readings(swaps="strict")),
        ("--unplugging-counts", Readings(unplugging=True)),
        ("--first-tool-counts", Readings(first_tool=True)),
        ("--bare-hand-counts", Readings(bare_hand=True)),
        ("--sizes-alike", Readings(bit_size=False)),
        ("--no-last-openings", Readings(tail=False)),
    ],
)
def test_each_reading_has_a_switch(option, readings, small):
    found = data("ways", small, option)
    assert found["readings"] == list(readings.described())
    steps = {row["part"]: row["steps"] for row in found["ways"]}
    assert steps == {part: way.steps for part, way in solve_all(RECORD, readings=readings).items()}


def test_one_way_tells_every_move_and_what_needs_it(small):
    found = data("ways", small, "battery", "--alternatives", "0")
    assert [move["number"] for move in found["moves"]] == list(range(1, len(found["moves"]) + 1))
    assert all(move["needed_by"] for move in found["moves"])
    assert found["moves"][-1]["needed_by"] == [0]


def test_a_part_may_be_named_by_its_name(small):
    assert "way in to Battery" in run("ways", small, "BATTERY", "--alternatives", "0").output


def test_the_sheet_of_a_way_says_what_stays_untouched_and_compares_the_documented_order(small):
    output = run("ways", small, "battery", "--alternatives", "0").output
    assert "untouched" in output
    assert "Documented order: Battery (Invented manual)" in output
    assert "2 conditions are assumed" in output


def test_the_toolbox_comes_first(small, toolbox):
    for part in ([], ["display", "--alternatives", "0"]):
        first = run("ways", small, *part, "--toolbox", toolbox).output
        assert first.startswith("Toolbox ")
        assert "prying lever" in first.partition("way in to")[0]


def test_a_way_without_what_is_missing_is_given(small, toolbox):
    found = data("ways", small, "battery", "--toolbox", toolbox, "--alternatives", "0")["toolbox"]
    assert [thing["name"] for thing in found["missing"]] == ["prying lever"]
    assert not found["without"]["found"]
    assert "prying lever" in found["without"]["reason"]


def test_a_toolbox_with_a_fault_is_refused_in_words(small, tmp_path):
    wrong = tmp_path / "box.toml"
    wrong.write_text("tools = 3\n", encoding="utf-8")
    result = run("ways", small, "--toolbox", str(wrong))
    assert result.exit_code == 1
    assert "box.toml" in result.stderr


def test_alternatives_are_told_with_what_differs(small):
    others = data("ways", small, "battery")["alternatives"]["others"]
    assert others
    assert all(other["difference"]["text"] for other in others)


def test_assumed_conditions_give_a_range_and_a_question(small):
    found = data("ways", small, "--assumed")["assumed"]
    assert (found["parts"], found["joints"]) == (["board"], ["board-screws"])
    assert found["question"]["subject"] in ("board", "board-screws")
    assert "Look at:" in run("ways", small, "--assumed").output


def test_the_sheet_says_whether_a_way_is_proven():
    way = solve(RECORD, "lid")
    assert "; proven: no way" in proof(way, "steps")
    assert "not proven" in proof(msgspec.structs.replace(way, proven=False), "steps")


def test_the_limit_reaches_the_search(small):
    with_limit = solve_all(RECORD, limit=1)
    for row in data("ways", small, "--limit", "1")["ways"]:
        way = with_limit[row["part"]]
        assert row["proven"] == way.proven if row["found"] else "limit" in way.reason


@pytest.mark.parametrize("command", ["ways", "instruct"])
def test_a_precaution_that_costs_something_limits_the_proof(command):
    passing = run(command, "demo:tern-3", "display").output
    strict = run(command, "demo:tern-3", "display", "--power", "strict").output
    kept = "with the battery unplugged first" if command == "instruct" else "that unplug the battery first"
    assert kept in " ".join(strict.split())
    assert kept not in " ".join(passing.split())
    assert "no way under the rules costs less" not in strict


def test_a_plug_opened_early_at_a_cost_is_no_part_of_the_proof():
    sheet = run("ways", "demo:avocet-fold", "main-board", "--alternatives", "0").output
    costs = " more" in sheet[sheet.index("power") : sheet.index("(--power passing)")]
    assert ("but for the battery plug opened early" in " ".join(sheet.split())) == costs


def test_a_way_that_opens_joints_live_points_to_the_one_that_unplugs_first():
    hint = "a way that unplugs the battery first, where there is one: --power strict"
    live = " ".join(run("ways", "demo:tern-3", "front-camera").output.split())
    assert "opened live" in live
    assert hint in live
    assert hint not in " ".join(run("ways", "demo:tern-3", "battery").output.split())
    strict = " ".join(run("ways", "demo:tern-3", "front-camera", "--power", "strict").output.split())
    assert "opened live" not in strict
    assert hint not in strict


def test_the_table_says_what_rests_on_default_times_and_assumed_conditions(small):
    output = " ".join(run("ways", small).output.split())
    answers = solve_all(RECORD)
    starred = sum(mostly_default(way) for way in answers.values())
    assert starred > 0
    assert output.count("* ") == starred
    assert "2 conditions are assumed, not yet confirmed" in output


@pytest.mark.parametrize("command", ["ways", "instruct"])
def test_the_wage_behind_the_money_is_told_as_a_default(command, small):
    output = " ".join(run(command, small, "battery").output.split())
    assert (
        "at 45.00 EUR an hour, the bench's default" if command == "ways" else "at 45 EUR an hour"
    ) in output
