"""Which revision is undone or redone next."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, select

from midframe.faults import NothingToUndo
from midframe.store.tables import REVISIONS


def stacks(steps: Iterable[tuple[int, str, int | None]]) -> tuple[list[int], list[int]]:
    """What can be undone and what can be redone, the next one last, from (number, kind, of) in order.

    >>> stacks([(1, "new", None), (2, "edit", None), (3, "move", None), (4, "undo", 3)])
    ([2], [3])
    """
    done: list[int] = []
    undone: list[int] = []
    for number, kind, of in steps:
        if kind == "undo" and of in done:
            done.remove(of)
            undone.append(of)
        elif kind == "redo" and of in undone:
            undone.remove(of)
            done.append(of)
        elif number > 1 and kind not in ("undo", "redo", "black_out"):
            done.append(number)
            undone.clear()
    return done, undone


def next_of(connection: Connection, record_id: str, kind: str, of: int | None = None) -> int:
    """The revision to undo or redo: the newest there is, or `of` if it is one of them."""
    query = select(REVISIONS.c.number, REVISIONS.c.kind, REVISIONS.c.of).order_by(REVISIONS.c.number)
    rows = connection.execute(query.where(REVISIONS.c.record_id == record_id))
    done, undone = stacks((row.number, row.kind, row.of) for row in rows)
    choice = done if kind == "undo" else undone
    if not choice:
        right = "an edit first" if kind == "undo" else "an undo first"
        raise NothingToUndo(f"record {record_id}: found nothing to {kind}; right: {right}")
    if of is None:
        return choice[-1]
    if of not in choice:
        last = ", ".join(str(number) for number in choice[-5:])
        raise NothingToUndo(f"record {record_id}: found no revision {of} to {kind}; right: one of {last}")
    return of
