"""What was said to be done: one move of the strip-down as it comes from the bench."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal, TypeAlias, get_args

import msgspec

from midframe.faults import BadSetting
from midframe.record.model import (
    Condition,
    Count,
    Face,
    FastenerLevel,
    NotNegative,
    Positive,
    Role,
)

Verb: TypeAlias = Literal[
    "unscrew",
    "unplug",
    "peel",
    "heat",
    "soak",
    "pry",
    "unclip",
    "desolder",
    "lift",
    "fold aside",
    "note",
]
VERBS: tuple[Verb, ...] = get_args(Verb)
LIFTS: tuple[Verb, ...] = ("lift", "fold aside")
BARE_HAND = "bare hand"
"""Said as a tool where none was used; the record then names no tool."""

LONGEST_NAME = 80
LONGEST_NOTE = 4000


class Done(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True):
    """One thing done. Only the verb has to be there, and what it was done to unless it is a note.

    Parameters
    ----------
    what
        Id or name of the part that comes off, or the id of the joint; an unknown name is a new part.
    to
        Id or name of what it was held to; empty: the body.
    count, drive, thread, length_mm
        Of screws; of clips and solder joints the count.
    tools
        Used together. None: those of the last time, else the usual ones. `("bare hand",)`: no tool.
    face
        The side worked from; None: not said.
    behind
        What had to be aside, as alternatives of part ids. None: guessed from what was lifted since.
        Empty: nothing. Anything said here counts as confirmed.
    tether
        Whether a connector sits on a cable or flex, so that its part can be folded aside. None: it does
        (common practice, no source: nearly all connectors in phones do).
    fastener
        How the fastener goes back, in the words of the index.
    role
        Of a new part; None: guessed from its name.
    seconds
        How long it took; None: by the clock.
    note, photo
        A remark, and a photo by content hash.
    """

    verb: Verb
    what: str = ""
    to: str = ""
    count: Count | None = None
    drive: str = ""
    thread: str = ""
    length_mm: Positive | None = None
    tools: tuple[str, ...] | None = None
    face: Face | None = None
    behind: Condition | None = None
    tether: bool | None = None
    fastener: FastenerLevel | None = None
    role: Role | None = None
    seconds: NotNegative | None = None
    note: str = ""
    photo: str = ""


def done_of(fields: Mapping[str, Any]) -> Done:
    """A move from plain values, as JSON or a form gives them; raises `BadSetting` with the field.

    `behind` may be flat: one list of parts that all had to be aside.

    >>> done_of({"verb": "unscrew", "what": "Mid cover", "count": 14, "behind": ["back-cover"]}).behind
    (('back-cover',),)
    """
    values = dict(fields)
    behind = values.get("behind")
    if isinstance(behind, list | tuple) and behind and all(isinstance(one, str) for one in behind):
        values["behind"] = [list(behind)]
    try:
        return msgspec.convert(values, Done)
    except msgspec.ValidationError as error:
        raise BadSetting(f"the move: found {error}; right: the fields of a move, see docs/bench.md") from None


def clean(text: str, longest: int = LONGEST_NAME) -> str:
    r"""A line without control characters, single spaces, cut at a length.

    >>> clean("  main\tboard\x00 ")
    'main board'
    """
    kept = "".join(sign if sign.isprintable() else " " for sign in text.encode("utf-8", "replace").decode())
    return " ".join(kept.split())[:longest].strip()


def tidy(done: Done) -> Done:
    """The same with its texts cleaned; raises `BadSetting` where it does not say what was done to what."""
    tidied = msgspec.structs.replace(
        done,
        what=clean(done.what),
        to=clean(done.to),
        drive=clean(done.drive),
        thread=clean(done.thread),
        note=clean(done.note, LONGEST_NOTE),
        photo=clean(done.photo),
        tools=None if done.tools is None else tuple(filter(None, map(clean, done.tools))),
    )
    if tidied.verb == "note" and not (tidied.note or tidied.photo):
        raise BadSetting("note: found neither words nor a photo; right: one of the two")
    if tidied.verb != "note" and not tidied.what:
        raise BadSetting(f"{tidied.verb}: found nothing that it was done to; right: a part, or a joint")
    return tidied
