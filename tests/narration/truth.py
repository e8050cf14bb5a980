"""Captions with their hand-made truth, and how a draft is held against it.

An item of the draft is matched with an item of the truth, each once and in order, where

- the kind is the same, and one of the captions of the item begins within 8 s of the truth;
- a move has the same verb and part; a figure the same part, value and unit; a reach the same part and the
  same parts that need not come out; a fact the same part and fact.

Two names mean the same part where they are one term of the trade, or the words of one stand in the other.
Tools and drives are the same where they mean the same. Labels are not compared, for a label is worded
in many ways. Notes count neither way.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from midframe.narration.captions import Captions, read_captions
from midframe.narration.draft import Draft, draft_of
from midframe.narration.vocabulary import english, split
from midframe.stripdown.words import folded, term_of

FOLDER = Path(__file__).parent / "captions"
KINDS = ("move", "figure", "reach", "fact")
OFF_SECONDS = 8.0
DETAILS = ("count", "drive", "length_mm", "seconds", "celsius", "tools", "to")


@dataclass(frozen=True)
class Talk:
    name: str
    captions: Captions
    truth: dict


@dataclass(frozen=True)
class Compared:
    counts: Counter
    lines: tuple[str, ...]


def talks(half):
    """The captions of a half with their truth."""
    found = []
    for path in sorted((FOLDER / half).glob("*.truth.toml")):
        name = path.name.removesuffix(".truth.toml")
        source = next(
            one for end in ("vtt", "srt", "txt") if (one := path.with_name(f"{name}.{end}")).exists()
        )
        text = source.read_text(encoding="utf-8")
        found.append(
            Talk(name, read_captions(text, source.name), tomllib.loads(path.read_text(encoding="utf-8")))
        )
    return found


def same_part(one, other):
    """Whether two names mean the same part."""
    first, second = term_of(one), term_of(other)
    if first is not None and first == second:
        return True
    words, others = set(folded(one).split()), set(folded(other).split())
    return bool(words and others) and (words <= others or others <= words)


def matches(item, true, starts):
    """Whether an item of the draft is that of the truth."""
    if item.kind != true["kind"]:
        return False
    if not any(abs(starts[cue] - true["at"]) <= OFF_SECONDS for cue in item.cues):
        return False
    if item.kind == "move":
        return item.verb == true["verb"] and same_part(item.part, true["what"])
    if item.kind == "figure":
        same = abs(item.value - true["value"]) <= 1e-6 * abs(true["value"])
        return same and item.unit == true["unit"] and same_part(item.part, true["on"])
    if item.kind == "reach":
        others = true["without"]
        covered = all(any(same_part(one, other) for one in item.without) for other in others)
        return covered and len(item.without) == len(others) and same_part(item.part, true["part"])
    return item.fact == true["fact"] and same_part(item.part, true["on"])


def meant(kind, said):
    """What a word of one kind means, the word itself where it is none that is known."""
    return english().phrases.get(split(said), {}).get(kind, said)


def drive_of(said):
    """A drive and its size: "cross 000" is a cross recess 000."""
    words = said.split()
    size = words.pop() if words and words[-1][0].isdigit() else ""
    return meant("drive", " ".join(words)), size


def details(item, true):
    """For each detail that the truth says, whether the item says the same."""
    found = {}
    for name in DETAILS:
        if name not in true:
            continue
        said, right = getattr(item, name), true[name]
        if name == "tools":
            found[name] = {meant("tool", one) for one in said} == {meant("tool", one) for one in right}
        elif name == "drive":
            found[name] = drive_of(said) == drive_of(right)
        elif name == "to":
            found[name] = bool(said) and same_part(said, right)
        else:
            found[name] = said == right
    return found


def compared(talk):
    """The counts for one talk, and what was missed or too much in words."""
    return held_against(draft_of(talk.captions), talk)


def held_against(told: Draft, talk: Talk):
    counts, lines = Counter(), []
    starts = {cue.number: cue.start for cue in talk.captions.cues}
    left = [item for item in told.items if item.kind in KINDS]
    for kind in KINDS:
        counts[kind, "made"] = sum(item.kind == kind for item in left)
    for true in talk.truth.get("items", []):
        counts[true["kind"], "true"] += 1
        found = next((item for item in left if matches(item, true, starts)), None)
        if found is None:
            lines.append(f"missed   {true}")
            continue
        left.remove(found)
        counts[true["kind"], "right"] += 1
        for name, right in details(found, true).items():
            counts["detail", "true"] += 1
            counts["detail", "right"] += right
            if not right:
                lines.append(f"detail   {name} {getattr(found, name)!r}, truth {true[name]!r}: {found.words}")
    lines += [f"too much {item.kind} {item.verb}{item.fact} {item.part}: {item.words}" for item in left]
    made = {cue for item in told.items for cue in item.cues}
    for cue in talk.truth.get("aside", {}).get("cues", []):
        counts["aside", "true"] += 1
        counts["aside", "right"] += cue not in made
        if cue in made:
            lines.append(f"not kept aside: caption {cue}")
    for part in ("made", "true", "right"):
        counts["all", part] = sum(counts[kind, part] for kind in KINDS)
    return Compared(counts, tuple(lines))
