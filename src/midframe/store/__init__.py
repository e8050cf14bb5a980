"""The store: records, revisions, versions set aside, photos, the shelf; the only place that knows SQL."""

from midframe.store.shapes import (
    STATES,
    BenchNote,
    Beside,
    Clock,
    Kept,
    PhotoRow,
    Revision,
    Saved,
    Shelf,
    ShelfRow,
    State,
)
from midframe.store.store import Store

__all__ = [
    "STATES",
    "BenchNote",
    "Beside",
    "Clock",
    "Kept",
    "PhotoRow",
    "Revision",
    "Saved",
    "Shelf",
    "ShelfRow",
    "State",
    "Store",
]
