"""The invented devices, put on the shelf once."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from midframe.store import Store


def put_demo(store: Store, at: str) -> tuple[str, ...]:
    """The ids of the demo devices on the shelf; those that are not there yet are put there."""
    from midframe.demo import load, names

    return tuple(
        store.new(load(name), summary="Invented demo device", at=at, key=f"demo-{name}", state="closed").id
        for name in names()
    )
