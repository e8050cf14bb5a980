"""`midframe heat` on the demo devices."""

from __future__ import annotations

import json

import pytest

from cli.small import run

BATTERY = ("heat", "demo:tern-3", "battery-bond", "--with", "hairdryer", "--draws", "0")


def test_the_answer_comes_first_and_the_cautions_are_there():
    printed = run(*BATTERY).output
    assert printed.index("plan ") < printed.index("limit") < printed.index("Cautions")
    assert "swollen" in printed


def test_a_swollen_cell_gets_no_plan():
    result = run(*BATTERY, "--cell", "swollen")
    assert result.exit_code == 0
    assert "No heat: the cell is swollen" in result.output
    assert "stop at" not in result.output


def test_readings_are_fitted_kept_and_used_again(tmp_path):
    kept = tmp_path / "mine.toml"
    first = run(*BATTERY, "--reading", "20=25.5", "--reading", "60=29", "--keep", str(kept))
    assert "fitted source" in first.output
    again = json.loads(run(*BATTERY, "--measured", str(kept), "--json").output)
    assert any("measured" in one["told"] for one in again["attempts"])


def test_pictures_are_written_and_never_over_a_file(tmp_path):
    chart, picture = tmp_path / "chart.svg", tmp_path / "section.svg"
    call = (*BATTERY, "--chart", str(chart), "--picture", str(picture))
    assert run(*call).exit_code == 0
    assert chart.read_text(encoding="utf-8").startswith("<svg")
    assert run(*call).exit_code == 1
    assert run(*call, "--force").exit_code == 0


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (("--limit", "cell"), "for example cell=55"),
        (("--limit", "hinge=50"), "found 'hinge'"),
        (("--limit", "cell=85"), "right: 25 to 70 °C"),
        (("--reading", "now=50"), "as seconds"),
        (("--keep", "x.toml"), "no fitted source"),
        (("--with", "fire"), "found fire"),
    ],
)
def test_a_wrong_option_is_told_with_what_would_be_right(more, said):
    result = run(*BATTERY, *more)
    assert result.exit_code == 1
    assert said in result.output


def test_a_joint_that_is_no_bond_is_refused():
    result = run("heat", "demo:tern-3", "porridge")
    assert result.exit_code == 1
    assert "adhesive joints" in result.output
