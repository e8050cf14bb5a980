"""Full-text search: the words of a record, folded, and the records that hold words beginning as typed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from sqlalchemy import Connection, text

from midframe.record import Record

LONGEST_WORD = 60


def folded(line: str) -> tuple[str, ...]:
    """The words of a line, without case and accents.

    >>> folded("Écran, M1.4 × 3")
    ('ecran', 'm1', '4', '3')
    """
    bare = line.casefold()
    if not bare.isascii():
        parts = unicodedata.normalize("NFKD", bare)
        bare = "".join(sign for sign in parts if not unicodedata.combining(sign))
    return tuple(word[:LONGEST_WORD] for word in re.findall(r"[^\W_]+", bare))


def texts(record: Record) -> Iterator[str]:
    """Every text of a record that one would search for: names, parts, joints, notes, labels."""
    device = record.device
    yield from (device.name, device.kind, device.ingress or "", device.predecessor, device.note)
    for part in record.parts:
        yield from (part.id, part.name, part.role, part.material, part.note)
        yield from (f"{spec.label} {spec.value}" for spec in part.specs)
    for joint in record.joints:
        yield from (joint.id, joint.name, joint.kind, joint.drive, joint.thread, joint.material, joint.note)
        yield from (f"{one.do} {' '.join(one.tools)} {one.note}" for way in joint.work for one in way)
    for order in record.orders:
        yield from (order.title, order.source, order.note)
    for table in (record.layers, record.seals):
        yield from (f"{one.id} {one.kind} {one.note}" for one in table)
    yield from (f"{tool.name} {tool.note}" for tool in record.tools)
    yield from (one.text for one in record.checks)
    yield from (told.note for one in record.tried for told in (one.before, one.after) if told)
    yield from (one.note for one in record.seal_tests)
    yield from (f"{one.what} {one.method} {one.note}" for one in record.measurements)
    yield from (one.caption for one in record.photos)
    yield from (entry.note for entry in record.log)


def words_of(record: Record) -> str:
    """The different words of a record, in order of the alphabet."""
    return " ".join(sorted({word for line in texts(record) for word in folded(line)}))


def index_words(connection: Connection, seat: int, words: str, *, new: bool) -> None:
    """Enter the words of a record into the search, in place of what was there."""
    sqlite = connection.dialect.name == "sqlite"
    column = "rowid" if sqlite else "seat"
    if not new:
        connection.execute(text(f"DELETE FROM search WHERE {column} = :seat"), {"seat": seat})  # noqa: S608
    value = ":words" if sqlite else "array_to_tsvector(string_to_array(:words, ' '))"
    connection.execute(
        text(f"INSERT INTO search ({column}, words) VALUES (:seat, {value})"),  # noqa: S608
        {"seat": seat, "words": words},
    )


def matching(dialect: str, query: str) -> tuple[str, str] | None:
    """A condition on `records.seat` and its argument `found`; `None` where nothing is asked for."""
    asked = dict.fromkeys(folded(query))
    if not asked:
        return None
    if dialect == "sqlite":
        condition = "records.seat IN (SELECT rowid FROM search WHERE search MATCH :found)"
        return condition, " ".join(f'"{word}"*' for word in asked)
    condition = "records.seat IN (SELECT seat FROM search WHERE words @@ CAST(:found AS tsquery))"
    return condition, " & ".join(f"'{word}':*" for word in asked)
