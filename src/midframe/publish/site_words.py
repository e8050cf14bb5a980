"""Words that several pages of a published device share: heads of tables, texts in another language, units."""

from __future__ import annotations

import re

from midframe.publish.blocks import Link, Other, Piece
from midframe.publish.language import FIRST, Language
from midframe.publish.site_contents import Published
from midframe.publish.site_paths import instruction_paths


def heads(said: Language, *columns: str) -> tuple[str, ...]:
    """The heads of a table by the keys of its columns."""
    return tuple(said.say("site-head", of=column) for column in columns)


def english(text: str, said: Language) -> Piece:
    """A text of the program that it has in English only, marked so on a page in another language."""
    return text if said.code == FIRST else Other(text, FIRST)


def free(text: str, said: Language, written: str) -> Piece:
    """A text of the record as it stands, marked where the page is in another language."""
    return text if said.code == written else Other(text, written)


def part_named(of: Published, part: str, said: Language) -> Piece:
    """The name of a part, which leads to its instruction where it has one."""
    name = next((one.name for one in of.record.parts if one.id == part), part)
    if part not in of.instructions:
        return free(name, said, of.written)
    code = "" if said.code == of.written else of.written
    return Link(name, page=instruction_paths(of.record)[part], code=code)


def word(text: str, said: Language, written: str) -> Piece:
    """A word of the common vocabulary in the language of the page, else as the record has it."""
    if said.code == written:
        return text
    known = said.term(text)
    return known if known is not None else free(text, said, written)


def words(text: str, said: Language) -> str:
    """The same as text alone, for the middle of a sentence."""
    return said.term(text) or text


def adhesive_words(key: str, text: str, said: Language) -> Piece:
    """A sentence of the table of adhesives in the language of the page, where its catalogue has it."""
    if said.code == FIRST:
        return text
    told = said.say("site-adhesive", sentence=key)
    return told if told != "–" else english(text, said)


def unit(text: str) -> str:
    """A unit as it is printed; pieces are counted without one.

    >>> unit("mm2"), unit("piece")
    ('mm²', '')
    """
    return "" if text == "piece" else re.sub(r"(?<=m)2$", "²", re.sub(r"(?<=m)3$", "³", text))
