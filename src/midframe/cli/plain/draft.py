"""A draft from spoken notes as plain data."""

from __future__ import annotations

from typing import Any

import msgspec

from midframe.narration import Captions, Draft, Drafted
from midframe.narration.draft import Item


def draft_data(captions: Captions, draft: Draft, made: Drafted) -> dict[str, Any]:
    """Captions, items with all their keys, what was kept aside, and what each item made."""
    return {
        "captions": len(captions.cues),
        "read_as": captions.format,
        "damaged": [msgspec.to_builtins(one) for one in captions.damaged],
        "items": [item_data(one) for one in draft.items],
        "aside": [msgspec.to_builtins(one) for one in draft.aside],
        "made": [{"what": one.what, "id": one.id, "item": one.item} for one in made.traced],
        "noted": [{"item": number, "why": why} for number, why in made.noted],
    }


def item_data(item: Item) -> dict[str, Any]:
    """One item with every key, `null` or empty where nothing was said."""
    return {name: msgspec.to_builtins(getattr(item, name)) for name in item.__struct_fields__}
