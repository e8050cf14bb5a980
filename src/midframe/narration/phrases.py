"""Names of parts put together from their words, and verbs from words that stand apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from midframe.narration.tagging import ENDS, Span, joined
from midframe.narration.vocabulary import Vocabulary
from midframe.stripdown.words import term_of

ARTICLES = frozenset(
    (
        "the",
        "a",
        "an",
        "its",
        "this",
        "that",
        "these",
        "those",
        "my",
        "our",
        "your",
        "another",
        "other",
        "and",
    )
)
PARTICLES: Mapping[str, tuple[str, ...]] = {
    "lift": ("out", "off", "away", "free", "aside"),
    "pry": ("out", "off", "up", "free", "open"),
    "fold aside": ("aside", "over", "open", "away", "up", "back"),
    "unclip": ("out", "off", "up", "free", "open", "away"),
    "unplug": ("out", "off", "free", "away"),
    "unscrew": ("out", "off", "away"),
    "peel": ("out", "off", "away", "up", "back", "free"),
}
POINTING = frozenset(("that", "this", "it", "them", "those", "these"))
AFTER_BACK = ("sign", "verb", "particle", "head", "mark", "time", "number", "tool")
LATER = frozenset(("there", "now", "then", "already", "since", "completely", "too", "again", "okay", "yeah"))
REACH = 10
"""So many spans after "take" its particle may stand (house choice)."""


def with_parts(spans: Sequence[Span], words: Vocabulary) -> list[Span]:
    """The spans with each name of a part as one: a term with the words of place around it, or any name that
    ends in a noun such as "bracket". Such a noun alone is `bare`: which one is meant, the talk before tells.
    """
    does = {
        tool: verb for verb in ("heat", "soak") for tool in words.tables.get("tool_verb", {}).get(verb, ())
    }
    kept = [doing(unwary(spans, place), does) for place in range(len(spans))]
    found: list[Span] = []
    place = 0
    while place < len(kept):
        length = run_length(kept, place)
        run = kept[place : place + max(1, length)]
        found += named(run, words) if length else run
        place += max(1, length)
    return found


def unwary(spans: Sequence[Span], place: int) -> Span:
    """A span without the meaning of a part or tool where such a word means much else."""
    span = spans[place]
    before = spans[place - 1] if place else None
    after = spans[place + 1] if place + 1 < len(spans) else None
    opens = before is None or before.kind("sign", "place") or before.text.split()[-1] in ARTICLES
    tags = dict(span.tags)
    if span.kind("wary") and not opens:
        tags = {kind: value for kind, value in tags.items() if kind not in ("part", "head", "wary")}
    pointed = before is not None and before.text in POINTING
    if span.text == "back" and (pointed or after is None or not after.kind(*AFTER_BACK)):
        tags.pop("part", None)
    led = opens or (
        before is not None
        and (
            before.mark("with", "and", "then") or before.text.split()[-1] in ("or", "by", "to", "of", "some")
        )
    )
    if span.kind("wary_tool") and not led:
        tags = {kind: value for kind, value in tags.items() if kind not in ("tool", "wary_tool")}
    return Span(tags, span.text, span.first, span.last, span.heard)


def doing(span: Span, does: Mapping[str, str]) -> Span:
    """A source of heat or a solvent with what it does by itself."""
    verb = does.get(span.tags.get("tool", ""))
    return (
        span
        if verb is None
        else Span({**span.tags, "does": verb}, span.text, span.first, span.last, span.heard)
    )


def run_length(spans: Sequence[Span], place: int) -> int:
    """How many spans from a place on can belong to one name; 0 where none can."""
    length = 0
    while place + length < len(spans):
        span = spans[place + length]
        after = spans[place + length + 1] if place + length + 1 < len(spans) else None
        inside = span.kind("object") and after is not None and after.kind("head") and length > 0
        if not (inside or span.kind("part", "head", "qualifier", "place") or unknown(span)):
            break
        length += 1
    return length


def unknown(span: Span) -> bool:
    """Whether a span is one word that no table holds and that may belong to a name."""
    return not span.tags and len(span.text) > 2 and span.text.isalpha()


def named(run: Sequence[Span], words: Vocabulary) -> list[Span]:
    """A run of words with the names in it put together."""
    last = max((place for place, span in enumerate(run) if span.kind("part", "head")), default=-1)
    if last < 0:
        return list(run)
    core = run[last]
    start = last
    own = core.kind("part")
    while start and modifies(run[start - 1], own=own, away=last - start):
        start -= 1
    if (
        own
        and start == last
        and last
        and run[last - 1].kind("part")
        and words.kinds(core.text.split()[-1]) & {"head"}
    ):
        own, start = False, last - 1
    piece = run[start : last + 1]
    if own:
        name = capital(" ".join([*places(piece[:-1], words), core.tags["part"]]))
        tags = {"part": name, "plural": "yes"} if core.text.endswith("s") else {"part": name}
        tags |= {"fact": core.tags["fact"]} if core.kind("fact") else {}
    elif len(piece) == 1 and core.kind("object"):
        return [*named(run[:start], words), core, *run[last + 1 :]]
    elif len(piece) == 1:
        tags = {"bare": core.tags["head"]}
    else:
        noun = core.tags.get("part") or core.tags["head"]
        name = capital(" ".join([*(span.text for span in piece[:-1]), noun]))
        known = core.kind("part") or term_of(name) is not None
        tags = {"part": name} if known else {"part": name, "made": "yes"}
    return [*named(run[:start], words), joined(piece, tags), *run[last + 1 :]]


def modifies(span: Span, *, own: bool, away: int) -> bool:
    """Whether a word before a term, or before a mere noun, belongs to the name."""
    if own:
        return span.kind("qualifier", "place") and not span.kind("part")
    return away < 3 and (span.kind("qualifier", "place", "part", "object", "head") or unknown(span))


def places(spans: Sequence[Span], words: Vocabulary) -> list[str]:
    """Of the words before a term those that tell where it sits."""
    return [span.text for span in spans if span.text in words.of("place", "place")]


def capital(name: str) -> str:
    """A name with a capital, the rest small but for short names in capitals.

    >>> capital("left Loudspeaker"), capital("SIM tray")
    ('Left loudspeaker', 'SIM tray')
    """
    small = " ".join(word if word[:2].isupper() else word.lower() for word in name.split())
    return small[:1].upper() + small[1:]


def with_verbs(spans: Sequence[Span]) -> list[Span]:
    """The spans with "take … out" as one verb, and "out" after a part as a verb by itself."""
    kept = list(spans)
    for place, span in enumerate(kept):
        if span.kind("take") and not span.kind("verb"):
            kept[place] = taken(kept, place)
    return [weak(kept, place) for place in range(len(kept)) if not kept[place].kind("used")]


def taken(spans: list[Span], place: int) -> Span:
    """A verb whose particle follows, which is used up by it; without one it is no verb."""
    span = spans[place]
    for number in range(place + 1, min(len(spans), place + 1 + REACH)):
        other = spans[number]
        if span.tags["take"] == "pry" and other.kind("tool") and number < place + 4:
            return Span({"verb": "pry"}, span.text, span.first, span.last, span.heard)
        if other.tags.get("sign") in ENDS or other.kind("verb", "take"):
            break
        if other.kind("particle") and other.tags["particle"] in PARTICLES[span.tags["take"]]:
            keeps = other.mark("to") and number > place + 1
            tags = {"mark": "to"} if keeps else {"used": "yes"}
            spans[number] = Span(tags, other.text, other.first, other.last, other.heard)
            tags = {"verb": span.tags["take"]}
            tags |= {"pull": "peel"} if span.kind("pull") else {}
            return Span(tags, span.text, span.first, span.last, span.heard)
    tags = {kind: value for kind, value in span.tags.items() if kind != "take"}
    return Span(tags, span.text, span.first, span.last, span.heard)


def weak(spans: Sequence[Span], place: int) -> Span:
    """A particle that stands after what came off, or alone, as a verb."""
    span = spans[place]
    if not span.kind("particle") or span.kind("verb"):
        return span
    plug = place > 0 and spans[place - 1].tags.get("object") == "unplug"
    if span.tags["particle"] in ("up", "over", "open") and not (plug and span.text == "up"):
        return span
    if follows_verb(spans, place):
        return span
    before = spans[place - 1] if place else None
    after = spans[place + 1] if place + 1 < len(spans) else None
    thing = before is None or before.kind("part", "bare", "object", "sign") or before.mark("both", "pronoun")
    ends = (
        after is None
        or after.kind("sign")
        or after.text in LATER
        or after.mark("and", "then", "too", "with", "both")
    )
    listed = before is not None and before.kind("object", "part") and after is not None and after.kind("part")
    if thing and (ends or (listed and span.text in ("off", "out"))):
        return Span({"verb": "lift", "weak": "yes"}, span.text, span.first, span.last, span.heard)
    return span


def follows_verb(spans: Sequence[Span], place: int) -> bool:
    """Whether a verb stands before a particle in the same stretch of words: "peel the sticker off"."""
    for span in reversed(spans[:place]):
        if span.kind("sign") or span.mark("and", "then"):
            return False
        if span.kind("verb"):
            return True
    return False
