"""Which part or joint is meant, and ids and names for new ones."""

from __future__ import annotations

from collections.abc import Mapping

from midframe.record import draft
from midframe.record.model import Joint, JointKind, Part, Record, Role
from midframe.stripdown.words import folded, role_of, terms
from midframe.ways.wording import in_sentence, joint_words

NOUNS: Mapping[JointKind, tuple[str, str]] = {
    "screw": ("screw", "screws"),
    "connector": ("plug", "plugs"),
    "clip": ("clip", "clips"),
    "adhesive": ("bond", "bonds"),
    "solder": ("solder", "solder"),
    "other": ("fit", "fits"),
}
"""What a joint of a kind is called, one and several of it."""


def part_named(record: Record, word: str) -> Part | None:
    """The part of this id or name, hyphens and capitals aside, or the only one the word is a term for."""
    exact = draft.found(record, word)
    if exact is not None:
        return exact
    same, term = folded(word), terms().get(folded(word))
    alike = [part for part in record.parts if same in (folded(part.id), folded(part.name))]
    if not alike and term is not None:
        alike = [part for part in record.parts if terms().get(folded(part.name)) == term]
        return alike[0] if len(alike) == 1 else None
    return alike[0] if alike else None


def joint_named(record: Record, word: str) -> Joint | None:
    """The joint of this id or name, written with or without hyphens, capitals aside."""
    same = folded(word)
    exact = next((joint for joint in record.joints if joint.id == word), None)
    return exact or next(
        (joint for joint in record.joints if same in (folded(joint.id), folded(joint_words(joint)))), None
    )


def part_name(record: Record, part: str) -> str:
    """The name of a part; its id where it is unknown."""
    return next((one.name for one in record.parts if one.id == part), part)


def fresh(record: Record, word: str) -> str:
    """The word as an id that neither a part nor a joint has."""
    return draft.unused(word, {part.id for part in record.parts} | {joint.id for joint in record.joints})


def new_part(record: Record, name: str, role: Role | None) -> Part:
    """A part of this name; what it lies under is not known yet, which `assumed` alone says."""
    guessed = role_of(name) if role is None else role
    return Part(
        id=fresh(record, draft.slug(name)),
        name=name[:1].upper() + name[1:],
        role="other" if guessed in record.device.absent else guessed,
        seat=record.device.body,
        assumed=True,
    )


def joint_names(record: Record, kind: JointKind, part: str, count: int | None) -> tuple[str, str]:
    """Id and name of a new joint; no name where the id says the same."""
    single, several = NOUNS[kind]
    noun = single if kind not in ("screw", "clip") or count == 1 else several
    new = fresh(record, f"{part}-{noun}")
    name = f"{part_name(record, part)} {noun}"
    told = new.replace("-", " ").replace("_", " ") == in_sentence(name)
    return new, "" if told else name
