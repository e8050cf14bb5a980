"""Timed captions from a file: WebVTT, SRT, or plain lines with a time in front."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Literal

import msgspec

from midframe.faults import LogFault
from midframe.record.findings import Finding

MOST_CUES = 20_000
WORDS_PER_SECOND = 2.5
"""Usual speed of speech, for a line of plain text that gives no end (common practice, no source)."""

STAMP = r"(?:\d{1,3}:)?\d{1,2}:\d{1,2}[.,]\d{1,3}"
TIMING = re.compile(rf"\s*({STAMP})\s*-->\s*({STAMP})(?=\s|$)")
IN_FRONT = re.compile(r"\s*[\[(]?((?:\d{1,3}:)?\d{1,3}:\d{2}(?:[.,]\d{1,3})?)[\])]?(?:\s*[-–:]\s+|\s+|$)(.*)")
RIGHT_TIMING = "two times such as 00:01:02.500 --> 00:01:05.000"
RIGHT_PLAIN = "a time in front of a line, such as: [1:02] unscrewed the mid cover"

Format = Literal["WebVTT", "SRT", "plain"]


class Cue(msgspec.Struct, frozen=True):
    """One caption: its number in the file from 1, from when to when (s), its text with any times inside."""

    number: int
    start: float
    end: float
    text: str


class Captions(msgspec.Struct, frozen=True):
    """The captions of a file in order of time, and what of the file is damaged, each with its line."""

    format: Format
    cues: tuple[Cue, ...]
    damaged: tuple[Finding, ...] = ()


def read_captions(text: str, file: str = "") -> Captions:
    r"""The captions in a text; a damaged block is told and left out, the others are read.

    Raises `LogFault` where no caption can be read at all.

    >>> read_captions("[0:05] back cover off\n[0:09] four screws").cues[1]
    Cue(number=2, start=9.0, end=9.8, text='four screws')
    """
    clean = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").replace("\0", " ")
    if clean.startswith("WEBVTT") or re.search(r"(?m)^\s*[\d:.,x]+\s*-->", clean):
        found = blocks(clean, file)
    else:
        found = plain(clean, file)
    if not found.cues:
        right = "WebVTT, SRT, or " + RIGHT_PLAIN
        why = found.damaged or (Finding("fault", file, "line 1", "", "no caption with a time", right),)
        raise LogFault(why)
    if len(found.cues) > MOST_CUES:
        raise LogFault(
            [
                Finding(
                    "fault",
                    file,
                    "",
                    "",
                    f"{len(found.cues)} captions",
                    f"at most {MOST_CUES}, the rest apart",
                )
            ]
        )
    return msgspec.structs.replace(
        found, cues=tuple(sorted(found.cues, key=lambda cue: (cue.start, cue.number)))
    )


def seconds_of(stamp: str) -> float:
    """A time of hours, minutes and seconds in seconds.

    >>> seconds_of("1:02"), seconds_of("01:00:02,500")
    (62.0, 3602.5)
    """
    total = 0.0
    for part in stamp.replace(",", ".").split(":"):
        total = total * 60 + float(part)
    return round(total, 3)


def blocks(text: str, file: str) -> Captions:
    """The cues of WebVTT or SRT; blocks whose times cannot be read are told and skipped."""
    import webvtt
    from webvtt.errors import MalformedCaptionError, MalformedFileError

    web = text.startswith("WEBVTT")
    sane, damaged = sound_blocks(text, file)
    whole = "\n\n".join(("WEBVTT", *sane))
    try:
        parsed = webvtt.from_buffer(io.StringIO(whole))
    except (MalformedFileError, MalformedCaptionError) as error:  # what the scan let through
        fault = Finding("fault", file, "", "", str(error).lower(), RIGHT_TIMING)
        return Captions("WebVTT" if web else "SRT", (), (*damaged, fault))
    cues = tuple(
        Cue(number, seconds_of(one.start), seconds_of(one.end), unvoiced(one.raw_text))
        for number, one in enumerate(parsed.captions, start=1)
    )
    return Captions("WebVTT" if web else "SRT", cues, damaged)


def unvoiced(text: str) -> str:
    """A caption without its marks, times inside it kept; signs written as names are put back.

    >>> unvoiced("<v Speaker>four <i>star</i> twos &amp; a <00:00:01.500>clip")
    'four star twos & a <00:00:01.500>clip'
    """
    import html

    marks = re.sub(r"<(?!\d+:)[^<>\n]*>|\{\\[^{}]*\}", "", text)
    return html.unescape(marks).strip()


def sound_blocks(text: str, file: str) -> tuple[list[str], tuple[Finding, ...]]:
    """The blocks that hold one timing that can be read, and a finding for each other line with an arrow."""
    sane: list[str] = []
    damaged: list[Finding] = []
    for line, block in cut(text):
        place = next((number for number, one in enumerate(block) if "-->" in one), None)
        if place is None:
            if line > 1 and block[0].strip().isdecimal() and len(block) > 1:
                found = f"a caption without times: {' '.join(block)[:60]}"
                damaged.append(Finding("fault", file, f"line {line}", "", found, RIGHT_TIMING))
            continue
        timing = TIMING.match(block[place])
        if timing is None:
            found = f"no times in '{block[place].strip()[:60]}'"
        elif seconds_of(timing[2]) < seconds_of(timing[1]):
            found = f"an end before its start, {timing[1]} --> {timing[2]}"
        else:
            times = " --> ".join(stamp(seconds_of(one)) for one in timing.groups())
            rest = [one for one in block[place + 1 :] if one.strip()]
            sane.append("\n".join((times, *rest)))
            continue
        damaged.append(Finding("fault", file, f"line {line + place}", "", found, RIGHT_TIMING))
    return sane, tuple(damaged)


def stamp(seconds: float) -> str:
    """Seconds as a time in a caption file.

    >>> stamp(3602.5)
    '01:00:02.500'
    """
    minutes, rest = divmod(round(seconds * 1000), 60_000)
    return f"{minutes // 60:02d}:{minutes % 60:02d}:{rest // 1000:02d}.{rest % 1000:03d}"


def cut(text: str) -> Iterator[tuple[int, list[str]]]:
    """Blocks of lines with the line on which each begins; an arrow in mid-block begins another."""
    block: list[str] = []
    start = 1
    for number, line in enumerate((*text.split("\n"), ""), start=1):
        again = "-->" in line and any("-->" in one for one in block)
        if block and (not line.strip("\n") or again):
            yield start, block
            block = []
        if line:
            start = start if block else number
            block.append(line)


def plain(text: str, file: str) -> Captions:
    """The cues of lines with a time in front; a line without one goes on with the line before."""
    begun: list[tuple[float, str]] = []
    damaged: list[Finding] = []
    for number, line in enumerate(text.split("\n"), start=1):
        timed = IN_FRONT.match(line)
        if timed is not None:
            begun.append((seconds_of(timed[1]), timed[2].strip()))
        elif line.strip() and begun:
            begun[-1] = (begun[-1][0], f"{begun[-1][1]} {line.strip()}".strip())
        elif line.strip():
            damaged.append(
                Finding("fault", file, f"line {number}", "", f"no time: {line.strip()[:60]}", RIGHT_PLAIN)
            )
    if not begun and damaged:
        found = f"no time in front of any of {len(damaged)} lines"
        damaged = [Finding("fault", file, damaged[0].path, "", found, f"WebVTT, SRT, or {RIGHT_PLAIN}")]
    begun = [one for one in begun if one[1]]
    following = [after[0] for _, after in pairwise([*begun, (float("inf"), "")])]
    cues = tuple(
        Cue(number, start, max(start, min(after, start + len(said.split()) / WORDS_PER_SECOND)), said)
        for number, ((start, said), after) in enumerate(zip(begun, following, strict=True), start=1)
    )
    return Captions("plain", cues, tuple(damaged))
