from __future__ import annotations

from pathlib import Path

from cli.small import data, run
from midframe.demo import load
from midframe.publish.refit import moves_of_log, refit


def words(*arguments):
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return " ".join(result.output.split())


def test_the_way_back_from_a_part_tells_trial_bond_torque_and_cautions():
    text = words("refit", "demo:tern-3", "battery")
    for piece in (
        "Trial: switch the device on",
        "730 mm² (record)",
        "0.029 N·m (record",
        "screws still out: 0",
    ):
        assert piece in text
    assert "seated" in text
    assert "Local rules go first" in text
    assert (
        text.index("screws still out: 0")
        < text.index("Trial:")
        < text.index("730 mm²")
        < text.index("Cautions")
    )


def test_a_record_without_checks_of_its_own_points_to_those_that_apply(small):
    assert "Checks at the end none in the record; midframe trials lists" in words("refit", small, "battery")


def test_the_way_back_from_the_log_is_that_of_the_library():
    record = load("tern-3")
    found = data("refit", "demo:tern-3", "--log", "40")
    assert [line["of"] for line in found["lines"]] == [
        line.of for line in refit(record, moves_of_log(record, 40)).lines
    ]


def test_a_record_without_a_log_asks_for_a_part(small):
    result = run("refit", small)
    assert result.exit_code == 1
    assert "the PART that was taken out" in result.stderr


def test_the_seal_check_says_rate_verdict_and_that_no_rating_is_restored():
    Path("decay.csv").write_text("seconds,pressure,celsius\n0,10,20\n60,9.95,20\n", encoding="utf-8")
    text = words("seal", "decay.csv", "--volume-ml", "10", "--unit", "kPa", "--gauge")
    assert "8.33e-06 Pa·m³/s" in text
    assert "restores no rating" in text


def test_a_bad_line_of_readings_is_named():
    Path("bad.csv").write_text("seconds,pressure\n0,x\n", encoding="utf-8")
    result = run("seal", "bad.csv", "--volume-ml", "10")
    assert result.exit_code == 1
    assert "bad.csv, line 2" in result.stderr


def test_readings_that_are_not_there_are_called_readings_and_no_record():
    from click.testing import CliRunner

    from midframe.cli import main

    told = CliRunner().invoke(main, ["seal", "nowhere.csv", "--volume-ml", "10"])
    assert told.exit_code == 1
    assert "right: the path of the readings of a decay test (CSV)" in told.stderr
    assert "midframe new" not in told.stderr


def test_the_way_back_is_printed_with_boxes(tmp_path):
    out = tmp_path / "back.html"
    assert words("refit", "demo:tern-3", "--log", "10", "-o", str(out)) == f"Way back of Tern 3: {out}"
    assert out.read_text().count('class="number">') == 10
    assert "found a file of this name" in run("refit", "demo:tern-3", "-o", str(out)).output
    assert "right: a name that ends in" in run("refit", "demo:tern-3", "-o", "back.txt").output
