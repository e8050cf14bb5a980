from __future__ import annotations

import io
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cli.small import SMALL, data, run
from midframe.cli import COMMANDS, shared
from midframe.cli.sheets.table import cells

READERS = {
    "check": [],
    "ways": [],
    "index": [],
    "what-if": [],
    "upkeep": [],
    "compare": ["demo:tern-2"],
    "instruct": ["battery"],
}
"""Commands that read a record, and what else they are called with."""


@pytest.fixture
def bad(tmp_path):
    """Files that are no record, by what is wrong with them."""
    files = {name: tmp_path / name for name in ("empty", "binary", "folder", "missing", "text", "null")}
    files["empty"].write_bytes(b"")
    files["binary"].write_bytes(bytes(range(256)))
    files["folder"].mkdir()
    files["text"].write_text("this is no record", encoding="utf-8")
    return {name: str(path) for name, path in files.items()} | {"null": "a\0b", "demo": "demo:tern-4", "": ""}


@pytest.mark.parametrize("command", READERS)
@pytest.mark.parametrize("what", ["empty", "binary", "folder", "missing", "text", "null", "demo", ""])
def test_a_file_that_is_no_record_is_refused_in_words(command, what, bad):
    result = run(command, bad[what], *READERS[command])
    said = result.output
    assert result.exit_code == 1
    assert "right" in said
    assert "found" in said
    assert "Traceback" not in said


@pytest.mark.parametrize("command", READERS)
def test_a_file_without_permission_is_refused_in_words(command, small, monkeypatch):
    def refuse(self, *_arguments, **_settings):
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "open", refuse)
    result = run(command, small, *READERS[command])
    assert result.exit_code == 1
    assert "no permission" in result.output


@pytest.mark.parametrize("command", READERS)
def test_faults_of_a_record_are_all_told_and_end_with_one(command, tmp_path):
    file = tmp_path / "spoilt.toml"
    text = SMALL.replace('kind = "clip"', 'kind = "clap"').replace("count = 4", "count = 0")
    file.write_text(text, encoding="utf-8")
    result = run(command, str(file), *READERS[command])
    assert result.exit_code == 1
    assert "joints[1].kind" in result.output
    assert "joints[3].count" in result.output


def test_every_command_takes_json():
    names = [*COMMANDS, *(f"battery {one}" for one in ("label", "health", "handling", "compare"))]
    without = [name for name in names if "--json" not in run(*name.split(), "--help").output]
    # A group, whose four are asked themselves, and three that compute nothing.
    assert without == ["battery", "serve", "backup", "restore"]


def test_an_unknown_demo_device_is_answered_with_the_nearest():
    assert "demo:tern-3, if that is meant" in run("index", "demo:tern3").stderr


def test_a_record_may_come_from_the_standard_input():
    assert run("check", "-", input=SMALL).exit_code == 0


@pytest.mark.parametrize("command", ["ways", "instruct"])
def test_an_unknown_part_is_answered_with_the_nearest(command, small):
    result = run(command, small, "batery")
    assert (result.exit_code, result.stdout) == (1, "")
    assert (
        result.stderr
        == "no part 'batery' in Wren; right: battery, if that is meant (midframe ways lists all)\n"
    )


def test_a_part_that_is_like_no_other_is_answered_with_all(small):
    said = run("ways", small, "zzz").stderr
    assert "one of lid, display, board, battery" in said


@given(st.binary(max_size=200))
def test_any_bytes_end_in_words(content):
    result = run("check", "-", input=content)
    assert result.exit_code in (0, 1)


@given(st.text(max_size=300))
def test_any_text_ends_in_words(content):
    assert run("ways", "-", input=content.encode("utf-8", "replace")).exit_code == 1


@pytest.mark.parametrize(
    "call",
    [
        ["check", "{}"],
        ["ways", "{}"],
        ["ways", "{}", "battery", "--alternatives", "0"],
        ["index", "{}", "--trace"],
        ["upkeep", "{}", "--draws", "1000"],
        ["what-if", "{}", "--no-times"],
        ["compare", "{}", "{}", "--no-upkeep"],
    ],
    ids=" ".join,
)
def test_a_sheet_keeps_within_80_columns_and_holds_no_control_codes(call, small):
    output = run(*(word.format(small) for word in call)).stdout
    assert max(cells(line) for line in output.splitlines()) <= 80
    assert output.replace("\n", "").isprintable()


def test_signs_that_the_output_cannot_hold_are_replaced(monkeypatch):
    raw = io.BytesIO()
    monkeypatch.setattr("sys.stdout", io.TextIOWrapper(raw, encoding="ascii"))
    shared.echo(["─ × é"])
    assert raw.getvalue() == b"- ? ?\n"


def test_a_control_code_in_a_name_does_not_reach_the_terminal(tmp_path):
    file = tmp_path / "red.toml"
    file.write_text(SMALL.replace('"Battery"', '"Bat\\u001B[31mtery"'), encoding="utf-8")
    assert "\x1b" not in run("ways", str(file)).stdout


def test_json_names_the_device_and_its_digest(small):
    device = data("ways", small)["device"]
    assert (device["name"], device["invented"], len(device["digest"])) == ("Wren", True, 64)


def test_a_record_in_utf_16_is_named_as_such(tmp_path):
    file = tmp_path / "wide.toml"
    file.write_text(SMALL, encoding="utf-16")
    result = run("check", str(file))
    assert result.exit_code == 1
    assert "UTF-16" in result.output
    assert "UTF-8" in result.output
