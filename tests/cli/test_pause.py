from __future__ import annotations

import msgspec
import pytest

from cli.small import data, run
from midframe.demo import load
from midframe.publish.pause import pause
from midframe.publish.refit import moves_of_log
from midframe.record import write
from midframe.record.model import LogEntry

PUT_AWAY = ["pause", "demo:tern-3", "--log", "10"]


def words(*arguments):
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return " ".join(result.output.split())


def test_the_sheet_says_where_things_lie_and_what_to_look_at():
    text = words(
        *PUT_AWAY,
        *("--order", "battery: Friday", "--place", "4=bin 4", "--place", "device=shelf 2"),
        *("--note", "call first"),
    )
    for piece in (
        "device lies shelf 2",
        "tray 4: Upper mid cover; 6 × A, 5 × B, 1 × C – bin 4",
        "[ ] Battery (Friday)",
        "[ ] call first",
        "[ ] Look at the cell first",
        "way back begins with Upper mid cover",
    ):
        assert piece in text


def test_the_state_is_that_of_the_library():
    record = load("tern-3")
    sheet = pause(record, moves_of_log(record, 10))
    found = data(*PUT_AWAY, "--place", "back-cover=bin 1")
    assert found["open"] == sorted(sheet.state.open)
    assert (found["screws_out"], found["on_return"]) == (12, list(sheet.on_return))
    assert [tray["place"] for tray in found["trays"]] == ["", "", "bin 1", ""]


def test_it_is_written_as_page_and_as_markdown(tmp_path):
    for name, piece in (("a.html", "Labels of the trays"), ("a.md", "| 4 | Upper mid cover |")):
        assert words(*PUT_AWAY, "-o", str(tmp_path / name)) == f"Pause sheet of Tern 3: {tmp_path / name}"
        assert piece in (tmp_path / name).read_text()
    run(*PUT_AWAY, "-o", str(tmp_path / "b.html"), "--language", "de")
    german = (tmp_path / "b.html").read_text()
    assert "weggelegt" in german
    assert "lifted Upper mid cover" not in german
    assert "Look at the cell first" not in german
    assert "A (M1.4×4 Linsenkopf)" in german
    assert "A (M1.4×4 pan)" in (tmp_path / "a.html").read_text()


def test_what_is_on_order_says_its_part_only_where_it_is_called_otherwise(tmp_path):
    target = tmp_path / "a.md"
    run(*PUT_AWAY, "--order", "battery: Friday", "-o", str(target))
    assert "- [ ] Battery: Friday" in target.read_text()


@pytest.mark.parametrize(
    ("options", "right"),
    [
        (["--place", "9=bin"], "one of 1 to 4"),
        (["--place", "bin"], "TRAY=PLACE"),
        (["--order", ":Friday"], "ITEM or ITEM:NOTE"),
        (["-o", "sheet.txt"], "a name that ends in .html, .pdf or .md"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(options, right):
    result = run(*PUT_AWAY, *options)
    assert (result.exit_code, right in result.output) == (1, True)


def test_a_weighing_says_what_the_scale_cannot_see():
    text = words("weigh", "demo:tern-3", "211.3", "211.2", "--spread", "0.05")
    assert "No difference that this scale can see. It sees 0.37 g or more" in text
    assert "one G (M1.2×1.6 countersunk), 0.013 g" in text
    found = data("weigh", "demo:tern-3", "211.30", "210.90", "--step", "0.01", "--changed", "-0.4")
    assert (found["verdict"], found["repeatability_assumed"]) == ("no difference seen", True)


def test_a_mass_that_cannot_be_is_refused():
    result = run("weigh", "demo:tern-3", "0", "210")
    assert (result.exit_code, "right: a mass in grams above 0" in result.output) == (1, True)


def test_a_log_against_the_record_is_told_and_goes_back_all_the_same(tmp_path):
    record = load("tern-3")
    log = (
        *record.log[:10],
        LogEntry(seconds=500.0, lift=("ground-tape",)),
        LogEntry(seconds=510.0, open="sim-latch"),
    )
    path = tmp_path / "mine.device.toml"
    path.write_text(write(msgspec.structs.replace(record, log=log)))
    for command in ("refit", "pause"):
        result = run(command, str(path))
        assert result.exit_code == 0, result.output
        assert "Not logged, but open because of what was lifted: Grounding tape bond." in result.output
