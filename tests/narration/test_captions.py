from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.faults import LogFault
from midframe.narration.captions import read_captions, stamp

SRT = """1
00:00:01,000 --> 00:00:04,000
hello

2
00:00:05 -> 00:00:06,000
lost

3
00:00:07,000 --> 00:00:06,000
backwards

4
00:00:08,500 --> 00:00:09,000
<i>four</i> &amp; five
"""


def test_a_damaged_block_is_told_with_its_line_and_the_rest_is_read():
    read = read_captions(SRT, "talk.srt")
    assert [(cue.text, cue.start) for cue in read.cues] == [("hello", 1.0), ("four & five", 8.5)]
    assert [(one.file, one.path) for one in read.damaged] == [("talk.srt", "line 5"), ("talk.srt", "line 10")]
    assert "lost" in read.damaged[0].found
    assert "00:00:07,000 --> 00:00:06,000" in read.damaged[1].found


def test_times_inside_a_caption_are_kept_and_other_marks_are_not():
    text = "WEBVTT\n\nNOTE not said\n\nid\n00:01.000 --> 00:04.000 align:start\n"
    text += "<v Ann>so <00:00:02.500><c>four</c>"
    (cue,) = read_captions(text).cues
    assert (cue.start, cue.end, cue.text) == (1.0, 4.0, "so <00:00:02.500>four")


@pytest.mark.parametrize(
    ("line", "start", "said"),
    [
        ("[1:02] four twos", 62.0, "four twos"),
        ("1:02 four twos", 62.0, "four twos"),
        ("(0:01:02) four twos", 62.0, "four twos"),
        ("0:05.5 - four twos", 5.5, "four twos"),
        ("75:00 four twos", 4500.0, "four twos"),
    ],
)
def test_a_plain_line_begins_with_its_time(line, start, said):
    (cue,) = read_captions(line).cues
    assert (cue.start, cue.text) == (start, said)


def test_a_plain_line_without_a_time_goes_on_with_the_one_before():
    read = read_captions("[0:01] four\nstar twos\n\n[0:09] out")
    assert [cue.text for cue in read.cues] == ["four star twos", "out"]


@pytest.mark.parametrize("text", ["", "WEBVTT", "no time at all", "-->", "1\nnothing --> here\nlost"])
def test_a_text_without_captions_is_refused_with_what_would_be_right(text):
    with pytest.raises(LogFault) as caught:
        read_captions(text, "talk.txt")
    assert "talk.txt" in str(caught.value)
    assert "right:" in str(caught.value)


def test_captions_out_of_order_are_put_in_order():
    assert [cue.text for cue in read_captions("[0:09] second\n[0:01] first").cues] == ["first", "second"]


@given(st.text())
def test_no_text_crashes_the_reader(text):
    try:
        read = read_captions(text)
    except LogFault:
        return
    assert all(0 <= cue.start <= cue.end for cue in read.cues)


@given(st.integers(0, 10**7))
def test_a_time_is_written_as_it_is_read(milliseconds):
    (cue,) = read_captions(f"WEBVTT\n\n{stamp(milliseconds / 1000)} --> 999:59:59.000\nout").cues
    assert cue.start == milliseconds / 1000
