"""Function checks and seal tests on the command line: told, kept in a record, faults with their place."""

from __future__ import annotations

from pathlib import Path

import pytest

from cli.small import data, run
from midframe.record import read
from midframe.seal import result_of

ANSWERS = '[before]\ntouch = "works"\n[after]\ntouch = { outcome = "does not work", note = "dead strip" }\n'


def words(*arguments):
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return " ".join(result.output.split())


def test_without_answers_the_checks_that_apply_are_listed_with_a_box():
    text = words("trials", "demo:tern-3")
    assert "[ ] Touch: Drag a finger" in text
    assert "tries Display assembly" in text
    assert "Fingerprint" not in words("trials", "demo:tern-3", "--when", "before")


def test_what_is_worse_than_before_is_told_first():
    Path("answers.toml").write_text(ANSWERS, encoding="utf-8")
    text = words("trials", "demo:tern-3", "--answers", "answers.toml")
    assert "1 worse than before Worse than before Touch: before works, after does not work" in text
    assert "dead strip" in text
    assert data("trials", "demo:tern-3", "--answers", "answers.toml")["worse"] == ["touch"]


def test_answers_are_written_into_the_record_and_read_from_it_again():
    Path("answers.toml").write_text(ANSWERS, encoding="utf-8")
    words("trials", "demo:tern-3", "--answers", "answers.toml", "--write", "kept.device.toml")
    assert data("trials", "kept.device.toml")["worse"] == ["touch"]
    again = run("trials", "demo:tern-3", "--answers", "answers.toml", "--write", "kept.device.toml")
    assert again.exit_code == 1
    assert "a file of this name" in again.stderr


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("[before]\ntouch = fine\n", "line 2, column"),
        ('[before]\ntouch = "fine"\n', "answers.toml: before.touch: found 'fine'"),
        ('[before]\nhinge = "works"\n', "no check 'hinge'"),
        ('[befor]\ntouch = "works"\n', "right: the tables [before] and [after]"),
    ],
)
def test_answers_that_cannot_be_are_told_with_their_place(text, word):
    Path("answers.toml").write_text(text, encoding="utf-8")
    result = run("trials", "demo:tern-3", "--answers", "answers.toml")
    assert result.exit_code == 1
    assert word in result.stderr


TYPED = ("--reading", "0:10:20", "--reading", "1:9,95:20", "--volume-ml", "10", "--unit", "kPa", "--gauge")


def test_readings_are_typed_in_the_units_of_the_gauges():
    text = words("seal", *TYPED, "--time-unit", "min", "--pressure-uncertainty", "1")
    assert "8.33e-06 Pa·m³/s" in text
    assert "1 Pa, 0.05 K" in text
    fahrenheit = ("--reading", "0:10:68", "--reading", "60:9.95:68", "--temperature-unit", "F")
    assert "8.33e-06" in words("seal", *fahrenheit, *TYPED[4:])


def test_surer_gauges_give_a_narrower_interval():
    wide = data("seal", *TYPED, "--time-unit", "min")["uncertainty_pa_m3_s"]
    sure = (
        "--pressure-uncertainty",
        "0.5",
        "--temperature-uncertainty",
        "0.002",
        "--volume-uncertainty",
        "1",
    )
    assert data("seal", *TYPED, "--time-unit", "min", *sure)["uncertainty_pa_m3_s"] < wide / 5


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (("--reading", "0:10", "--reading", "x:9", "--reading", "9:y"), "--reading 2, time: found 'x'"),
        (("--reading", "0:10", "--reading", "x:9", "--reading", "9:y"), "--reading 3, pressure: found 'y'"),
        (("--reading", "0",), "right: TIME:PRESSURE"),
        ((), "found neither a file nor --reading"),
    ],
)  # fmt: skip
def test_typed_readings_that_cannot_be_are_told(arguments, word):
    result = run("seal", *arguments, "--volume-ml", "10")
    assert result.exit_code == 1
    assert word in result.stderr


def test_a_test_is_kept_in_a_record_with_a_chart_beside():
    kept = ("--record", "demo:tern-3", "--write", "kept.device.toml", "--note", "chamber 2")
    words("seal", *TYPED, "--time-unit", "min", "--chart", "decay.svg", *kept)
    assert "Decay of the seal test" in Path("decay.svg").read_text(encoding="utf-8")
    (test,) = read(Path("kept.device.toml").read_text(encoding="utf-8")).seal_tests
    assert (test.id[:5], test.note) == ("seal-", "chamber 2")
    assert result_of(test).rate_pa_m3_s == pytest.approx(8.333e-6, rel=1e-3)
    lonely = run("seal", *TYPED, "--write", "other.device.toml")
    assert lonely.exit_code == 1
    assert "right: --record FILE" in lonely.stderr


def test_another_gas_is_told_for_air_and_doubted():
    text = words("seal", *TYPED, "--time-unit", "min", "--gas", "helium")
    assert "by the viscosity of helium" in text
