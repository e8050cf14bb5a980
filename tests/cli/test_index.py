from __future__ import annotations

import pytest

from cli.small import data, run
from midframe import demo
from midframe.cli.sheets.index import index_sheet
from midframe.dossier.index import device_index
from midframe.ways.readings import Readings


@pytest.fixture(scope="module")
def sheet():
    """The index of the predecessor device as text, with its trace."""
    return run("index", "demo:tern-2", "--trace").output


def test_the_index_is_that_of_the_library():
    found = data("index", "demo:tern-2")
    library = device_index(demo.load("tern-2"))
    assert found["index"]["value"]["ten_thousandths"] == library.index.value.ten_thousandths
    assert [row["part"] for row in found["index"]["rows"]] == [row.part for row in library.index.rows]
    assert len(found["judgements"]) == len(library.judgements)


def test_the_sheet_says_r_class_clauses_and_that_it_is_no_legal_advice(sheet):
    found = data("index", "demo:tern-2")["index"]["value"]
    assert f"R = {found['shown']} of 5 (exactly {found['exact']}), class {found['repair_class']}" in sheet
    assert "Annex IV point 5" in sheet
    assert "not legal advice" in sheet


def test_the_sheet_lists_every_score_and_part(sheet):
    for symbol in ("SDD", "SF", "ST", "SSP", "SSU", "SRI"):
        assert f"\n{symbol} " in sheet
    assert "Battery" in sheet


def test_the_trace_holds_the_sum_of_r(sheet):
    assert "R = 0.25·" in sheet
    assert "R = 0.25·" not in run("index", "demo:tern-2").output


def test_the_sheet_ends_with_readings_and_the_sources_used(sheet):
    assert "Readings (choices where the act is silent)" in sheet
    assert "[lbl-2023-1669]" in sheet.partition("\nSources\n")[2]
    assert "[mil-hdbk-472]" not in sheet


def test_duties_that_are_not_met_are_listed_before_open_ones(sheet):
    part = sheet.partition("ecodesign of smartphones")[2].partition("Regulation (EU) 2023/1542")[0]
    assert part.index("\nnot met ") < part.index("\nopen ")
    assert part.index("\nopen ") < part.index("\nmet ")


def test_met_duties_are_only_counted_without_trace():
    assert "\nmet " not in run("index", "demo:tern-2").output


def test_missing_data_gives_a_range_and_what_each_value_could_move(tmp_path):
    text = demo.text("tern-2").replace('repair_information = "free_professional"\n', "")
    (tmp_path / "gap.toml").write_text(text, encoding="utf-8")
    output = run("index", "gap.toml").output
    assert " to " in output.splitlines()[1]
    assert "could move R by" in output
    assert data("index", "gap.toml")["index"]["state"] == "range"


def test_a_reading_changes_what_is_counted():
    strict = data("index", "demo:tern-2", "--strict-swaps")["index"]["rows"]
    library = device_index(demo.load("tern-2"), Readings(swaps="strict")).index.rows
    assert [row["steps"] for row in strict] == [row.steps for row in library]


def test_the_sheet_says_which_steps_are_those_of_a_documented_order(sheet):
    orders = [
        one["name"] for one in data("index", "demo:tern-2")["sequences"] if one["basis"] == "documented"
    ]
    assert orders
    assert f"documented  {'; '.join(orders)}: steps of the documented order" in " ".join(sheet.split("\n"))


def test_a_search_ended_early_is_told_by_the_parts_it_leaves_unproven():
    library = device_index(demo.load("tern-2"), limit=1)
    found = data("index", "demo:tern-2", "--limit", "1")
    assert [row["proven"] for row in found["sequences"]] == [row.proven for row in library.sequences]
    lines = index_sheet("Wren", library.index, "", unproven=["Main board"])
    assert "not proven  Main board" in lines
