from __future__ import annotations

import json

import msgspec
import pytest

from cli.small import SMALL, data, run
from midframe.dossier.compare import CompareOptions, compare
from midframe.dossier.firmness import FirmnessOptions, firmness
from midframe.dossier.upkeep import device_upkeep
from midframe.dossier.what_if import what_if
from midframe.record import read
from midframe.upkeep import UpkeepSettings

RECORD = read(SMALL)


def test_what_if_ranks_as_the_library_does(small):
    found = data("what-if", small)
    library = what_if(RECORD)
    assert [change["id"] for change in found["changes"]] == [change.id for change in library.changes]
    assert found["tried"] == library.tried


def test_what_if_shows_as_many_as_are_asked_for(small):
    output = run("what-if", small, "--top", "2", "--no-times").output
    assert " 2  " in output
    assert " 3  " not in output
    assert "more: --top" in output
    assert "min saved" not in output


def test_what_if_can_put_minutes_first(small):
    saved = [
        change["seconds_saved_mean"] for change in data("what-if", small, "--sort", "minutes")["changes"]
    ]
    assert saved == sorted(saved, reverse=True)


def test_upkeep_is_that_of_the_library_and_repeats_its_seed(small):
    found = data("upkeep", small, "--seed", "7", "--draws", "1000")["upkeep"]
    library = device_upkeep(RECORD, settings=UpkeepSettings(seed=7, draws=1000)).upkeep
    assert found["mean_seconds"] == pytest.approx(library.mean_seconds)
    assert (found["seed"], found["draws"]) == (7, 1000)


def test_own_counts_move_the_mix(small, tmp_path):
    (tmp_path / "counts.toml").write_text("battery = 400\n", encoding="utf-8")

    def share(*more):
        parts = data("upkeep", small, "--draws", "1000", *more)["upkeep"]["parts"]
        return next(part["share"] for part in parts if part["role"] == "battery")

    assert share("--counts", "counts.toml") > share() + 0.2


@pytest.mark.parametrize("text", ["batery = 4", 'battery = "many"', "battery = -1", "battery = true"])
def test_wrong_counts_are_refused_in_words(text, small, tmp_path):
    (tmp_path / "counts.toml").write_text(text, encoding="utf-8")
    result = run("upkeep", small, "--counts", "counts.toml", "--draws", "1000")
    assert result.exit_code == 1
    assert "bat" in result.stderr


def test_the_upkeep_sheet_says_what_it_rests_on(small):
    output = run("upkeep", small, "--draws", "1000").output
    assert "mean time to repair" in output
    assert "common practice, no source" in output
    assert "Sources" in output


def test_compare_is_that_of_the_library(small, tmp_path):
    other = SMALL.replace('"Wren"', '"Wren 2"').replace("count = 4", "count = 7")
    (tmp_path / "other.toml").write_text(other, encoding="utf-8")
    found = data("compare", small, "other.toml", "--no-upkeep")
    library = compare([RECORD, read(other)], CompareOptions(upkeep=None))
    assert [device["name"] for device in found["devices"]] == ["Wren", "Wren 2"]
    assert [row["counts"] for row in found["screws"]] == [list(row.counts) for row in library.screws]
    output = run("compare", small, "other.toml", "--no-upkeep").output
    assert "hexalobular 4, M1.4, 3 mm" in output
    assert "time to repair" not in output


def test_the_ranking_of_a_comparison_is_that_of_the_library(small, tmp_path):
    other = SMALL.replace('"Wren"', '"Wren 2"').replace("updates_years = 5", "updates_years = 7")
    assert other.count("updates_years = 7") == 1
    (tmp_path / "other.toml").write_text(other, encoding="utf-8")
    call = ("compare", small, "other.toml", "--no-upkeep", "--ranking", "--draws", "1000", "--seed", "3")
    found = data(*call)["ranking"]
    library = firmness([RECORD, read(other)], FirmnessOptions(draws=1000, seed=3))
    assert found["standings"] == json.loads(msgspec.json.encode(library.standings))
    assert found["standings"][0]["first"] == [0.0, 1.0]
    output = run(*call).output
    assert "How firm the order is: 1000 draws, seed 3" in output
    assert "100 %" in output
    assert data("compare", small, "other.toml", "--no-upkeep")["ranking"] is None


def test_too_few_draws_are_refused_in_words(small):
    result = run("compare", small, small, "--ranking", "--draws", "5")
    assert result.exit_code == 1
    assert "1000" in result.stderr


def test_compare_of_one_record_is_refused_in_words(small):
    result = run("compare", small)
    assert result.exit_code == 1
    assert "two or more" in result.stderr


def test_what_if_says_where_r_is_only_the_lower_end(small, tmp_path):
    assert "Values are missing" not in run("what-if", small, "--no-times").output.replace("\n", " ")
    open_ended = tmp_path / "open.toml"
    open_ended.write_text(SMALL.replace('repair_information = "public"\n', ""), encoding="utf-8")
    assert "Values are missing" in run("what-if", str(open_ended), "--no-times").output


def test_what_if_says_where_a_change_only_makes_a_score_defined(small, tmp_path):
    file = tmp_path / "closed.toml"
    file.write_text(SMALL.replace('spare = "end_user"', 'spare = "professional"'), encoding="utf-8")
    rows = data("what-if", str(file), "--no-times")["changes"]
    assert any(one["class_before"] != one["class_after"] and not one["scores"] for one in rows)
    text = run("what-if", str(file), "--no-times", "--top", "99").output
    assert "score now" in text


def test_upkeep_names_the_dead_lock_where_nothing_comes_out(tmp_path):
    file = tmp_path / "locked.toml"
    text = 'format = 1\n[device]\nname = "W"\nkind = "phone"\nbody = "frame"\n'
    text += '[[parts]]\nid = "frame"\nname = "Frame"\n[[parts]]\nid = "lid"\nname = "Lid"\n'
    text += '[[joints]]\nid = "g"\nkind = "adhesive"\nholds = ["lid", "frame"]\nbehind = ["lid"]\n'
    file.write_text(text, encoding="utf-8")
    result = run("upkeep", str(file))
    assert result.exit_code == 1
    assert "dead lock: lid waits for joint g" in result.stderr
