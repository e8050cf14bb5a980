"""The shelf: what is seen of every record, its state, its clock."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, func, select, text, update

from midframe.store import revisions
from midframe.store.shapes import Clock, Shelf, ShelfRow, State
from midframe.store.tables import RECORDS
from midframe.store.words import matching


def shelf(
    connection: Connection, query: str, state: State | None, *, limit: int, offset: int, removed: bool
) -> Shelf:
    """The rows asked for and how many there are in all."""
    conditions: list[Any] = [RECORDS.c.removed_at.is_not(None) if removed else RECORDS.c.removed_at.is_(None)]
    if state is not None:
        conditions.append(RECORDS.c.state == state)
    asked = matching(connection.dialect.name, query)
    if asked is not None:
        conditions.append(text(asked[0]).bindparams(found=asked[1]))
    total = connection.execute(select(func.count()).select_from(RECORDS).where(*conditions)).scalar_one()
    rows = connection.execute(
        select(RECORDS).where(*conditions).order_by(RECORDS.c.change.desc()).limit(limit).offset(offset)
    )
    return Shelf(tuple(map(shelf_row, rows)), int(total))


def shelf_row(row: Any) -> ShelfRow:
    """A row of the table as a row of the shelf."""
    return ShelfRow(
        id=row.id,
        name=row.name,
        kind=row.kind,
        state=row.state,
        invented=bool(row.invented),
        parts=row.parts,
        joints=row.joints,
        revision=row.head,
        changed_at=row.changed_at,
        index_class=row.index_class,
        index_value=row.index_value,
        drawing=row.drawing,
        photo=row.photo,
        index_of=row.index_of,
    )


def unsummarised(connection: Connection, limit: int) -> tuple[tuple[str, int], ...]:
    """Records on the shelf whose summary is of an older revision, with their newest; last changed first."""
    behind = (RECORDS.c.index_of < RECORDS.c.head, RECORDS.c.removed_at.is_(None))
    rows = connection.execute(
        select(RECORDS.c.id, RECORDS.c.head).where(*behind).order_by(RECORDS.c.change.desc()).limit(limit)
    )
    return tuple((row.id, row.head) for row in rows)


def clock(connection: Connection, record_id: str) -> Clock:
    """The bench clock of a record."""
    revisions.head_row(connection, record_id)
    row = connection.execute(
        select(
            RECORDS.c.clock_started_at, RECORDS.c.clock_running_since, RECORDS.c.clock_elapsed_seconds
        ).where(RECORDS.c.id == record_id)
    ).one()
    return Clock(*row)


def clock_columns(value: Clock) -> dict[str, Any]:
    """The clock as columns."""
    return {
        "clock_started_at": value.started_at,
        "clock_running_since": value.running_since,
        "clock_elapsed_seconds": value.elapsed_seconds,
    }


def summarise(connection: Connection, record_id: str, values: dict[str, Any]) -> None:
    """Keep what was computed from a revision, unless a newer one has been; raises `UnknownRecord`."""
    revisions.head_row(connection, record_id, lock=True)
    newer = RECORDS.c.index_of <= values["index_of"]
    connection.execute(update(RECORDS).where(RECORDS.c.id == record_id, newer).values(values))
