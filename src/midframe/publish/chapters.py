"""Chapters of a recording, from the bench log: when each move of the log begins and ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from itertools import pairwise

import msgspec

from midframe.publish.language import Language, language
from midframe.publish.names import title_of
from midframe.publish.svg import legible
from midframe.record.model import LogEntry, Record

SHORTEST_SECONDS = 10.0
"""Players that read chapters from plain text take none that is shorter (common practice, no source)."""


class Chapter(msgspec.Struct, frozen=True):
    """One chapter: from when to when, in seconds since the log began, and its title on one line."""

    begins: float
    ends: float
    title: str


def chapters(
    record: Record,
    words: Language | None = None,
    *,
    shortest_seconds: float = 0.0,
    log_begins_seconds: float = 0.0,
) -> tuple[Chapter, ...]:
    """A chapter for every move of the log.

    A line of the log is written when its move is done; the move began when the one before was. So the
    first chapter begins at 0, none overlaps, and together they last until the last move. Notes and
    photos between two moves begin no chapter.

    Parameters
    ----------
    words
        The language of the titles; names are those of the record.
    shortest_seconds
        A chapter that would be shorter is drawn together with the one that follows.
    log_begins_seconds
        When the log begins on the clock of the recording; negative where the recording was started later.
        The first chapter begins with the recording; what was done before it has none.

    Examples
    --------
    >>> from midframe.demo import load
    >>> [(one.begins, one.ends, one.title) for one in chapters(load("tern-3"))][:2]
    [(0.0, 8.0, 'Open: SIM tray latch'), (8.0, 12.0, 'Lift: SIM tray')]
    """
    said = words or language()
    moves = sorted((entry for entry in record.log if entry.open or entry.lift), key=lambda one: one.seconds)
    moves = [entry for entry in moves if entry.seconds + log_begins_seconds >= 0]
    ends = [0.0, *(entry.seconds + log_begins_seconds for entry in moves)]
    each = [
        Chapter(begins, end, title(record, entry, said))
        for (begins, end), entry in zip(pairwise(ends), moves, strict=True)
    ]
    return tuple(drawn_together(each, max(shortest_seconds, 0.001)))


def title(record: Record, entry: LogEntry, said: Language) -> str:
    """The title of a move of the log; ids that the record does not know stand as they are."""
    if entry.open:
        names = {joint.id: title_of(joint) for joint in record.joints}
        return one_line(said.say("site-chapter", does="open", name=names.get(entry.open, entry.open)))
    parts = {part.id: part.name for part in record.parts}
    lifted = said.listed(parts.get(part, part) for part in entry.lift)
    return one_line(said.say("site-chapter", does="lift", name=lifted))


def one_line(text: str) -> str:
    """A text without line ends and control characters."""
    return " ".join(legible(text).split())


def drawn_together(each: Sequence[Chapter], shortest: float) -> Iterator[Chapter]:
    """The chapters, each at least so long; what remains at the end joins the last one."""
    done: list[Chapter] = []
    waiting: list[Chapter] = []
    for one in each:
        waiting.append(one)
        if one.ends - waiting[0].begins >= shortest:
            done.append(joined(waiting))
            waiting = []
    if waiting:
        last = [done.pop()] if done else []
        done.append(joined([*last, *waiting]))
    return iter(done)


def joined(some: Sequence[Chapter]) -> Chapter:
    """Chapters that follow one another as one."""
    return Chapter(some[0].begins, some[-1].ends, "; ".join(one.title for one in some))


def to_webvtt(found: Sequence[Chapter]) -> str:
    """A chapters file for a video element [w3c-webvtt, section 4.1].

    Times are rounded to milliseconds and no cue is empty; `&`, `<` and `>` are escaped, so that a title
    holds neither markup nor the arrow of a timing line.

    >>> print(to_webvtt([Chapter(0.0, 8.0, "Open: clips & latch")]))
    WEBVTT
    <BLANKLINE>
    1
    00:00:00.000 --> 00:00:08.000
    Open: clips &amp; latch
    <BLANKLINE>
    """
    cues = [
        f"{number}\n{stamp(one.begins)} --> {stamp(max(one.ends, one.begins + 0.001))}\n"
        f"{escape(one.title, quote=False)}\n"
        for number, one in enumerate(found, start=1)
    ]
    return "\n".join(["WEBVTT\n", *cues])


def stamp(seconds: float) -> str:
    """A time as WebVTT writes it.

    >>> stamp(3725.5)
    '01:02:05.500'
    """
    thousandths = round(seconds * 1000)
    whole, rest = divmod(thousandths, 1000)
    return f"{whole // 3600:02}:{whole // 60 % 60:02}:{whole % 60:02}.{rest:03}"


def to_timestamps(found: Sequence[Chapter]) -> str:
    """Chapters as plain lines of time and title, the first at 0:00 (common practice, no source).

    >>> print(to_timestamps([Chapter(0.0, 75.0, "Open: latch"), Chapter(75.0, 90.0, "Lift: tray")]))
    0:00 Open: latch
    1:15 Lift: tray
    <BLANKLINE>
    """
    return "".join(f"{clock(one.begins)} {one.title}\n" for one in found)


def clock(seconds: float) -> str:
    """A time of a recording: minutes and seconds, hours where there are some.

    >>> clock(7.9), clock(3725)
    ('0:07', '1:02:05')
    """
    whole = int(seconds)
    hours = f"{whole // 3600}:{whole // 60 % 60:02}" if whole >= 3600 else f"{whole // 60}"
    return f"{hours}:{whole % 60:02}"
