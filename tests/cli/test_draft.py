from __future__ import annotations

import json

import pytest

from cli.small import run
from midframe.record import check, faults, read

TALK = "[0:02] back cover off\n[0:05] four star twos on the mid cover, no, five\n[0:09] my tea is cold\n"


@pytest.fixture
def talk(tmp_path, monkeypatch):
    """A folder with the captions of a talk."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "dunlin_4.txt").write_text(TALK, encoding="utf-8")
    return tmp_path


def test_every_item_is_printed_with_its_words_and_the_rest_is_kept_aside(talk):
    printed = run("draft", "dunlin_4.txt").output
    assert "2    0:05  Unscrew mid cover (5 × hexalobular 2)" in printed
    assert "“four star twos on the mid cover, no, five”" in printed
    assert "corrected in the words: count" in printed
    assert "“my tea is cold” (nothing of it is understood)" in printed
    assert "Nothing is written" in printed
    assert list(talk.iterdir()) == [talk / "dunlin_4.txt"]


def test_the_record_is_written_passes_its_check_and_is_never_written_over(talk):
    assert run("draft", "dunlin_4.txt", "--out", "d.device.toml", "--invented").exit_code == 0
    record = read((talk / "d.device.toml").read_text(encoding="utf-8"), "d")
    assert (record.device.name, record.device.invented) == ("Dunlin 4", True)
    assert faults(check(record)) == ()
    again = run("draft", "dunlin_4.txt", "--out", "d.device.toml")
    assert again.exit_code == 1
    assert "found a file of this name" in again.output
    assert run("draft", "dunlin_4.txt", "--out", "d.device.toml", "--force").exit_code == 0


def test_items_can_be_thrown_out(talk):
    given = json.loads(run("draft", "dunlin_4.txt", "--without", "2", "--json").output)
    assert {one["id"] for one in given["made"]} == {"back-cover"}


@pytest.mark.parametrize(
    ("arguments", "found"),
    [
        (["none.vtt"], "no such file"),
        (["bad.txt"], "no time in front of any of 1 lines"),
        (["dunlin_4.txt", "--without", "9"], "numbers of items from 1 to 2"),
        (["dunlin_4.txt", "--words", "bad.txt"], "no TOML"),
    ],
)
def test_what_cannot_be_used_is_told(talk, arguments, found):
    (talk / "bad.txt").write_text("hello", encoding="utf-8")
    result = run("draft", *arguments)
    assert result.exit_code == 1
    assert found in result.output


def test_a_damaged_file_is_read_as_far_as_it_goes(talk):
    text = "1\n00:00:01,000 --> 00:00:02,000\nback cover off\n\n2\n00:00:0x --> 1\nlost\n"
    (talk / "bad.srt").write_text(text, encoding="utf-8")
    printed = run("draft", "bad.srt").output
    assert "left out, line 6" in printed
    assert "Lift back cover" in printed
