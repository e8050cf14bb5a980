"""Drafts from spoken notes, kept as threads of the bench: nothing is overwritten, a restart loses nothing."""

from __future__ import annotations

import hashlib
import secrets

import msgspec

from midframe.faults import UnknownRecord
from midframe.narration import Begun, Review, Step, draft_record, looked_through
from midframe.narration.review import stepped
from midframe.store import Store

ALL = "drafts"
"""The thread that names every draft and what became of it."""

PIECE = 150_000
"""Signs of a draft in one note."""


class Listed(msgspec.Struct, frozen=True, kw_only=True):
    """A draft in the list: of which device, how many items, when, and the record that was made of it."""

    id: str
    name: str
    items: int
    at: str
    record: str = ""


def thread_of(draft: str) -> str:
    """The thread of one draft."""
    return f"draft/{draft}"


def begin(store: Store, begun: Begun, *, at: str, author: str, key: str) -> str:
    """Keep a draft; its id. The same key again gives the same draft."""
    name = hashlib.sha256(key.encode()).hexdigest()[:12] if key else secrets.token_hex(6)
    text = msgspec.json.encode(begun).decode()
    for place in range(0, len(text), PIECE):
        store.add_note(
            thread_of(name), "piece", text[place : place + PIECE], at=at, author=author, key=f"{name}-{place}"
        )
    listed = Listed(id=name, name=begun.name, items=len(begun.draft.items), at=at)
    store.add_note(
        ALL, "begun", msgspec.json.encode(listed).decode(), at=at, author=author, key=f"{name}-begun"
    )
    return name


def listed(store: Store) -> tuple[Listed, ...]:
    """Every draft, the newest first."""
    found: dict[str, Listed] = {}
    for note in store.notes(ALL):
        one = msgspec.json.decode(note.content, type=Listed)
        found[one.id] = one
    return tuple(reversed(found.values()))


def one_listed(store: Store, draft: str) -> Listed:
    """One draft of the list; raises `UnknownRecord`."""
    found = next((one for one in listed(store) if one.id == draft), None)
    if found is None:
        raise UnknownRecord(f"draft {draft}: found none; right: one of the list under From spoken notes")
    return found


def review_of(store: Store, draft: str) -> Review:
    """A draft with all that was done to it; raises `UnknownRecord`."""
    notes = store.notes(thread_of(draft))
    text = "".join(note.content for note in notes if note.kind == "piece")
    if not text:
        raise UnknownRecord(f"draft {draft}: found none; right: one of the list under From spoken notes")
    steps = [msgspec.json.decode(note.content, type=Step) for note in notes if note.kind == "step"]
    return looked_through(msgspec.json.decode(text, type=Begun), steps)


def take_step(store: Store, draft: str, step: Step, *, at: str, author: str, key: str) -> Review:
    """Do one thing to a draft and keep it; raises `BadSetting` where it cannot be done."""
    before = review_of(store, draft)
    after = stepped(before, step)
    content = msgspec.json.encode(step).decode()
    store.add_note(thread_of(draft), "step", content, at=at, author=author, key=key)
    return after


def make_record(store: Store, draft: str, *, at: str, author: str) -> str:
    """Make the record of a draft and put it on the shelf; its id. Once made, it is not made again."""
    known = one_listed(store, draft)
    if known.record:
        return known.record
    now = review_of(store, draft)
    made = draft_record(now.kept, now.choices)
    saved = store.new(
        made.record, summary="Drafted from spoken notes", author=author, at=at, key=f"draft-{draft}"
    )
    content = msgspec.json.encode(msgspec.structs.replace(known, record=saved.id)).decode()
    store.add_note(ALL, "made", content, at=at, author=author, key=f"{draft}-made")
    return saved.id
