"""Names of joints for people."""

from __future__ import annotations

from midframe.record.model import Joint


def title_of(joint: Joint) -> str:
    """The name of a joint, from its id where it has none.

    >>> title_of(Joint(id="battery-plug", kind="connector", holds=("battery", "board")))
    'Battery plug'
    """
    text = joint.name or joint.id.replace("-", " ").replace("_", " ").strip()
    return text[:1].upper() + text[1:]
