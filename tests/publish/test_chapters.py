from __future__ import annotations

import io
import itertools
import re

import msgspec
import pytest
import webvtt
from hypothesis import given
from hypothesis import strategies as st

from midframe.demo import load
from midframe.publish.chapters import SHORTEST_SECONDS, Chapter, chapters, to_timestamps, to_webvtt
from midframe.publish.language import language
from midframe.record.model import LogEntry

HOSTILE = "a --> b\n\n00:00.000 --> 00:01.000\n<v X>&nbsp;\x07"


def seconds(stamp):
    hours, minutes, rest = stamp.split(":")
    return int(hours) * 3600 + int(minutes) * 60 + float(rest)


def logged(*seconds_):
    record = load("tern-3")
    log = tuple(LogEntry(seconds=at, lift=("battery",)) for at in seconds_)
    return msgspec.structs.replace(record, log=log)


def test_the_chapters_file_is_read_back_by_a_reader_of_the_format():
    found = chapters(load("tern-3"))
    read = list(webvtt.from_buffer(io.StringIO(to_webvtt(found))))
    assert len(read) == len(found) > 40
    for cue, one in zip(read, found, strict=True):
        assert seconds(cue.start) == pytest.approx(one.begins, abs=0.001)
        assert seconds(cue.end) == pytest.approx(one.ends, abs=0.001)
        assert cue.text == one.title


def test_chapters_begin_at_zero_and_each_where_the_one_before_ends():
    found = chapters(load("tern-3"))
    assert found[0].begins == 0
    assert [one.ends for one in found[:-1]] == [one.begins for one in found[1:]]
    assert all(one.begins < one.ends for one in found)


def test_a_name_can_neither_begin_a_cue_nor_hold_markup():
    record = load("tern-3")
    parts = tuple(msgspec.structs.replace(part, name=HOSTILE) for part in record.parts)
    text = to_webvtt(chapters(msgspec.structs.replace(record, parts=parts)))
    assert len(list(webvtt.from_buffer(io.StringIO(text)))) == len(chapters(record))
    payload = [line for line in text.splitlines() if "nbsp" in line]
    assert payload
    assert not any("-->" in line or "<" in line for line in payload)


def test_plain_times_begin_at_zero_ascend_and_are_at_least_ten_seconds_apart():
    text = to_timestamps(chapters(load("tern-3"), shortest_seconds=SHORTEST_SECONDS))
    stamps = [re.match(r"(?:(\d+):)?(\d{1,2}):(\d{2}) \S", line) for line in text.splitlines()]
    assert all(stamps)
    at = [int(s[1] or 0) * 3600 + int(s[2]) * 60 + int(s[3]) for s in stamps]
    assert at[0] == 0
    assert min(later - earlier for earlier, later in itertools.pairwise(at)) >= 9
    assert text.startswith("0:00 ")


@given(st.lists(st.integers(min_value=0, max_value=20_000), min_size=1, max_size=30))
def test_any_log_gives_chapters_that_hold_the_rules(times):
    record = logged(*times)
    for shortest in (0.0, 10.0):
        found = chapters(record, shortest_seconds=shortest)
        assert found[0].begins == 0
        assert found[-1].ends == max(times)
        assert [one.ends for one in found[:-1]] == [one.begins for one in found[1:]]
        assert sum(one.title.count("Lift") for one in found) == len(times)
        if len(found) > 1:
            assert all(one.ends - one.begins >= shortest for one in found)


def test_notes_and_photos_between_moves_begin_no_chapter():
    record = load("tern-3")
    notes = tuple(LogEntry(seconds=at + 0.5, note="looked") for at in range(0, 900, 30))
    longer = msgspec.structs.replace(
        record, log=tuple(sorted((*record.log, *notes), key=lambda one: one.seconds))
    )
    assert chapters(longer) == chapters(record)


def test_titles_are_in_the_language_and_names_those_of_the_record():
    assert chapters(load("tern-3"), language("de"))[1].title == "Abnehmen: SIM tray"


def test_hours_are_written_where_there_are_some():
    assert to_timestamps([Chapter(3725.0, 3800.0, "x")]) == "1:02:05 x\n"


def test_a_recording_that_began_before_or_after_the_log_has_its_own_clock():
    plain = chapters(load("tern-3"))
    early = chapters(load("tern-3"), log_begins_seconds=30.0)
    assert (early[0].begins, early[0].ends, early[0].title) == (0.0, plain[0].ends + 30, plain[0].title)
    assert [one.ends - 30 for one in early] == [one.ends for one in plain]
    late = chapters(load("tern-3"), log_begins_seconds=-600.0)
    assert late[0].begins == 0
    assert [one.title for one in late] == [one.title for one in plain if one.ends >= 600]
    assert late[-1].ends == plain[-1].ends - 600
