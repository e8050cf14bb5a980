"""A spoken or typed sentence as a move of the strip-down, with what was not understood."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, cast

import msgspec

from midframe.record.model import Face, Record
from midframe.stripdown.done import Done, Verb, clean
from midframe.stripdown.naming import part_named
from midframe.stripdown.words import folded, lexicon, term_of

LONGEST_HEARD = 600
DROPPED = "·"
"""Stands where words were understood, so that what is left and right of them does not run together."""

NUMBER = r"\d+(?:[.,]\d+)?"


class Heard(msgspec.Struct, frozen=True):
    """The move that was understood, and the words that were not; `done` is None where no verb was found."""

    done: Done | None
    left: tuple[str, ...]


class Listener:
    """The words of one sentence, struck out as they are understood."""

    def __init__(self, text: str) -> None:
        self.text = f" {numbers_written(folded(clean(text, LONGEST_HEARD)))} "

    def take(self, pattern: str) -> re.Match[str] | None:
        """Strike out the first match between word ends, and give it."""
        found = re.search(rf"(?<![\w.])(?:{pattern})(?![\w])", self.text)
        if found is not None:
            self.text = f"{self.text[: found.start()]} {DROPPED} {self.text[found.end() :]}"
        return found


def hear(text: str, record: Record) -> Heard:
    """What was said to be done, as far as it is understood.

    >>> from midframe.record.draft import begin
    >>> said = "undid four hexalobular four screws, three millimetres, from the mid cover"
    >>> done = hear(said, begin("Tern", "phone")).done
    >>> done.verb, done.what, done.count, done.drive, done.length_mm
    ('unscrew', 'Mid cover', 4, 'hexalobular 4', 3.0)
    """
    said, note = without_note(text)
    heard = Listener(said)
    facts: dict[str, Any] = {"note": note} if note else {}
    facts |= measures(heard)
    facts |= tools(heard)
    facts |= drive(heard)
    facts |= face(heard)
    verb = verb_of(heard) or ("note" if note else None)
    facts |= count(heard)
    facts |= things(heard, record, verb)
    if verb is None:
        return Heard(None, left(heard))
    if verb not in ("unscrew", "unclip", "desolder"):
        facts.pop("count", None)
    return Heard(Done(verb=verb, **facts), left(heard))


def without_note(text: str) -> tuple[str, str]:
    """A sentence up to the word "note", and what follows it, as it was said.

    >>> without_note("Unclipped the cover, note that one clip broke")
    ('Unclipped the cover,', 'one clip broke')
    """
    said, *rest = re.split(r"(?i)\bnote(?: that)?\b[:,]?", clean(text, LONGEST_HEARD), maxsplit=1)
    return said.strip(), rest[0].strip() if rest else ""


def numbers_written(text: str) -> str:
    """The sentence with its number words as figures.

    >>> numbers_written("twenty two screws of one point four"), numbers_written("cross recess double zero")
    ('22 screws of 1.4', 'cross recess 00')
    """
    known = lexicon().numbers
    text = re.sub(r"\b(?:double zero|zero zero)\b", "00", text)
    text = re.sub(r"\btriple zero\b", "000", text)
    words = "|".join(sorted(map(re.escape, known), key=len, reverse=True))
    text = re.sub(rf"\b({words})\b", lambda found: f"{known[found[1]]:g}", text)
    text = re.sub(
        r"\b([2-9]0) ([1-9])\b(?! ?(?:mm|s|min)\b)", lambda found: str(int(found[1]) + int(found[2])), text
    )
    return re.sub(r"\b(\d+) (?:point|comma) (\d+)\b", r"\1.\2", text)


def measures(heard: Listener) -> dict[str, Any]:
    """Length of screws in mm, thread, seconds."""
    units = lexicon().units
    found: dict[str, Any] = {}
    thread = heard.take(rf"m ?(?P<size>{NUMBER})")
    if thread is not None:
        found["thread"] = f"M{thread['size'].replace(',', '.')}"
    seconds = 0.0
    for meaning, factor in (("min", 60.0), ("s", 1.0)):
        words = "|".join(
            sorted(
                (re.escape(word) for word, unit in units.items() if unit == meaning), key=len, reverse=True
            )
        )
        time = heard.take(rf"(?:for |in |took )?(?:about )?(?P<size>{NUMBER}) ?(?:{words})")
        seconds += factor * figure(time["size"]) if time is not None else 0.0
    if seconds:
        found["seconds"] = seconds
    words = "|".join(
        sorted((re.escape(word) for word, unit in units.items() if unit == "mm"), key=len, reverse=True)
    )
    length = heard.take(rf"(?P<size>{NUMBER}) ?(?:{words})(?: long| screws?)?")
    if length is not None and figure(length["size"]) > 0:
        found["length_mm"] = figure(length["size"])
    return found


def figure(text: str) -> float:
    """A number with a decimal point or comma."""
    return float(text.replace(",", "."))


def tools(heard: Listener) -> dict[str, Any]:
    """The tools after "with" or "using"."""
    names = spoken((one.tool, (one.tool, *one.said)) for one in lexicon().tools)
    either = phrase(names)
    found = []
    first = heard.take(rf"(?:with|using|by) (?:an? |the |my )*(?P<tool>{either})")
    while first is not None:
        found.append(names[first["tool"]])
        first = (
            heard.take(rf"and (?:with )?(?:an? |the |my )*(?P<tool>{either})(?= {DROPPED}|\s*$)")
            if found
            else None
        )
    return {"tools": tuple(dict.fromkeys(found))} if found else {}


def drive(heard: Listener) -> dict[str, Any]:
    """The drive of screws with its size."""
    names = spoken((one.drive, (one.drive, *one.said)) for one in lexicon().drives)
    found = heard.take(
        rf"(?P<drive>{phrase(names)})(?: size| number)? ?(?P<size>{NUMBER})?(?: drive)?(?: screws?)?"
    )
    if found is None:
        return {}
    size = (found["size"] or "").replace(",", ".")
    return {"drive": f"{names[found['drive']]} {size}".strip()}


def face(heard: Listener) -> dict[str, Any]:
    """The side worked from."""
    names = spoken((one.face, one.said) for one in lexicon().faces)
    found = heard.take(rf"(?P<face>{phrase(names)})(?= *[,.{DROPPED}]| *$)")
    return {"face": cast(Face, names[found["face"]])} if found is not None else {}


def verb_of(heard: Listener) -> Verb | None:
    """What was done; the words for screws, plugs and clips tell it where "removed" alone does not."""
    names = spoken((one.verb, (one.verb, *one.said)) for one in lexicon().verbs)
    found = heard.take(rf"(?P<verb>{phrase(names)})")
    verb = names[found["verb"]] if found is not None else None
    if verb not in (None, "lift", "unscrew"):
        return cast(Verb, verb)
    objects = spoken(lexicon().objects.items())
    thing = re.search(rf"\b({phrase(objects)})\b", heard.text)
    if thing is not None and (verb is not None or re.search(r"\d", heard.text)):
        return cast(Verb, objects[thing[1]])
    return cast(Verb | None, verb)


def count(heard: Listener) -> dict[str, Any]:
    """The number of fasteners: the first whole number that is left."""
    found = heard.take(r"(?P<count>[1-9]\d{0,3})(?: of)?(?: them)?")
    return {"count": int(found["count"])} if found is not None else {}


def things(heard: Listener, record: Record, verb: Verb | None) -> dict[str, Any]:
    """The part that comes off and what it was held to: known names and terms, else the words left over."""
    names = part_words(record)
    around = phrase(folded(word) for word in lexicon().qualifiers.words)
    pattern = (
        r"(?P<before>from |off |to |on )?(?:the |its |an? )*"
        rf"(?P<name>(?:(?P<whole>{phrase(names)})|(?P<around>(?:(?:{around}) )+)(?P<part>{phrase(names)})))"
    )
    found: list[tuple[int, bool, str]] = []
    match = heard.take(pattern)
    while match is not None:
        apart = (match["before"] or "").strip() in ("from", "to", "on")
        whole = names[match["whole"]] if match["whole"] else qualified(match["around"], match["part"], record)
        found.append((match.start(), apart, whole))
        match = heard.take(pattern)
    found.sort()
    if not found:
        rest = " ".join(left(heard)) if verb not in (None, "note") else ""
        heard.text = heard.text if not rest else ""
        return {"what": rest} if rest else {}
    first = next((one for one in found if not one[1]), found[0])
    others = [name for place, apart, name in found if name != first[2] and apart]
    return {"what": first[2]} | ({"to": others[0]} if others else {})


def qualified(around: str, word: str, record: Record) -> str:
    """A term with the words that tell it from others of its kind, as the name of a part."""
    said = f"{around}{term_words().get(word, word)}"
    known = part_named(record, said)
    return said[:1].upper() + said[1:].lower() if known is None else known.id


def part_words(record: Record) -> dict[str, str]:
    """Every way of naming a part of the record, and terms for others, with what goes into the move."""
    names = dict(term_words())
    terms = [term_of(part.name) for part in record.parts]
    for part, term in zip(record.parts, terms, strict=True):
        if term is not None and terms.count(term) == 1:
            names |= {folded(word): part.id for word in (term.term, *term.said)}
    for part in record.parts:
        names[folded(part.name)] = part.id
        names[folded(part.id)] = part.id
    return names


@cache
def term_words() -> Mapping[str, str]:
    """The terms of the trade and other words for them."""
    return spoken((one.term, (one.term, *one.said)) for one in lexicon().parts)


def spoken(pairs: Iterable[tuple[str, Iterable[str]]]) -> dict[str, str]:
    """Each way of saying something, folded, with what it means; the first meaning wins."""
    found: dict[str, str] = {}
    for meaning, words in pairs:
        for word in words:
            found.setdefault(folded(word), meaning)
    return found


def phrase(words: Iterable[str]) -> str:
    """A pattern for any of the phrases, the longest first."""
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True)) or r"(?!)"


def left(heard: Listener) -> tuple[str, ...]:
    """The words that were not understood and are no mere filling."""
    return tuple(filling_out(re.findall(r"[^\s,.;:!?·]+", heard.text)))


def filling_out(words: Iterable[str]) -> Iterator[str]:
    """The words without those that carry nothing."""
    idle = {folded(word) for word in lexicon().passed_over.words}
    return (word for word in words if word not in idle)
