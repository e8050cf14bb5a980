"""Words that a recogniser heard wrong: the nearest phrase of the trade, by sound and by letters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from midframe.narration.spoken import SIGNS, Token
from midframe.narration.vocabulary import TRADE, Vocabulary

SAME_SOUND_LETTERS = 0.82
LIKE_LETTERS = 0.88
LIKE_SOUND = 0.9
"""Least likeness (Jaro-Winkler, 0 to 1) of letters where several words sound the same, else of letters
and of sound; house choice, tried on the captions in tests/narration/captions/dev."""

SHORTEST = 6
MOST_WORDS = 4
LONGER = 3
"""A misheard word has at most so many letters more or fewer than what was said."""

ENDINGS = ("", "s", "es", "ies", "ors", "ers", "ings", "ed", "d", "er", "or", "r", "ing", "ion", "y", "ly")


class Repair(msgspec.Struct, frozen=True):
    """So many tokens from a place on, and the words that they were taken for."""

    length: int
    said: tuple[str, ...]
    meant: tuple[str, ...]

    @property
    def told(self) -> str:
        """The repair in words."""
        return f"“{' '.join(self.said)}” taken for “{' '.join(self.meant)}”"


def repaired(tokens: Sequence[Token], words: Vocabulary) -> tuple[list[Token], Mapping[int, str]]:
    """The tokens with misheard words put right, and by place of the word what was taken for what."""
    found: list[Token] = []
    notes: dict[int, str] = {}
    tried: dict[tuple[str, ...], tuple[float, tuple[str, ...]]] = {}
    place = 0
    while place < len(tokens):
        known = known_length(tokens, place, words)
        repair = None if known else repair_at(tokens, place, words, tried)
        if repair is None:
            found += tokens[place : place + max(1, known)]
            place += max(1, known)
            continue
        piece = tokens[place : place + repair.length]
        spread = [piece[min(number, len(piece) - 1)].word for number in range(len(repair.meant))]
        found += (Token(text, word) for text, word in zip(repair.meant, spread, strict=True))
        notes |= dict.fromkeys(range(piece[0].word, piece[-1].word + 1), repair.told)
        place += repair.length
    return found, notes


def known_length(tokens: Sequence[Token], place: int, words: Vocabulary) -> int:
    """How many tokens from a place on are a phrase of two words or more, or a number, and may stand."""
    first = tokens[place].text
    for length in range(words.longest.get(first, 0), 1, -1):
        if tuple(token.text for token in tokens[place : place + length]) in words.phrases:
            return length
    return 1 if "number" in words.kinds(first) else 0


def repair_at(
    tokens: Sequence[Token],
    place: int,
    words: Vocabulary,
    tried: dict[tuple[str, ...], tuple[float, tuple[str, ...]]],
) -> Repair | None:
    """The likeliest repair from a place on, `None` where the words may stand; `tried` spares trying twice."""
    first = tokens[place].text
    kinds = words.kinds(first)
    if len(first) < 2 or not repairable(first) or (kinds and kinds <= {"stop", "filler", "mark"}):
        return None
    best: tuple[float, Repair] | None = None
    for length in range(1, MOST_WORDS + 1):
        said = tuple(token.text for token in tokens[place : place + length])
        if len(said) < length or not all(map(repairable, said)):
            break
        if said in words.phrases and TRADE & set(words.phrases[said]):
            continue
        if said not in tried:
            tried[said] = nearest(said, words)
        alike, meant = tried[said]
        if meant and (best is None or alike > best[0]):
            best = (alike, Repair(length, said, meant))
    if best is not None:
        return best[1]
    table = words.phrases.get((first,), {})
    if set(table) == {"misheard"}:
        return Repair(1, (first,), tuple(table["misheard"].split()))
    return None


def repairable(text: str) -> bool:
    """Whether a token is a word, no sign and no figure."""
    return text not in SIGNS and text[0].isalpha()


def nearest(said: tuple[str, ...], words: Vocabulary) -> tuple[float, tuple[str, ...]]:
    """The phrase of the trade that words sound and look like, with how alike they are; empty where none is.

    At least one of the words means nothing as it stands; plain words after a
    phrase that is known already are not drawn into it.

    >>> from midframe.narration.vocabulary import english
    >>> nearest(("back", "class"), english())[1], nearest(("sod", "erred"), english())[1]
    (('back', 'glass'), ('soldered',))
    >>> nearest(("better", "day"), english())
    (0.0, ())
    """
    from jellyfish import jaro_winkler_similarity as likeness
    from jellyfish import metaphone

    whole, rest = "".join(said), rest_of(said, words)
    if len(whole) < SHORTEST or not any(strange(one, words) for one in rest):
        return 0.0, ()
    sound = metaphone(whole)
    best: tuple[float, tuple[str, ...]] = (0.0, ())
    for letters, known, phrase in words.sounds.get(sound[:1], ()):
        if not may_mean(said, rest, phrase, words):
            continue
        alike = likeness(whole, letters)
        near = alike >= (SAME_SOUND_LETTERS if known == sound and len(said) > 1 else LIKE_LETTERS)
        if near and (known == sound or likeness(known, sound) >= LIKE_SOUND) and alike > best[0]:
            best = (alike, phrase)
    return best


def may_mean(
    said: tuple[str, ...], rest: tuple[str, ...], phrase: tuple[str, ...], words: Vocabulary
) -> bool:
    """Whether words may stand for a phrase at all.

    Not where one is a form of the other, where the phrase lacks a word of the
    trade that was said, or where, after a beginning that both share, the rest is unlike.
    """
    from jellyfish import jaro_winkler_similarity as likeness

    whole, letters = "".join(said), "".join(phrase)
    if abs(len(letters) - len(whole)) > LONGER:
        return False
    if len(said) == 1:
        return phrase[0] != whole and not forms(whole, letters)
    if any(one not in phrase for one in said if TRADE & words.kinds(one)):
        return False
    if len(said) == len(phrase) and said[-1] != phrase[-1] and plain(said[-1], words):
        return False
    begun = "".join(said[: len(said) - len(rest)])
    if not begun or not letters.startswith(begun):
        return True
    tail = letters[len(begun) :]
    return not forms(begun, letters) and likeness("".join(rest), tail) >= SAME_SOUND_LETTERS


def forms(one: str, other: str) -> bool:
    """Whether two words are forms of one, such as end in "ed" and "or".

    >>> forms("connected", "connector"), forms("spudjar", "spudger")
    (True, False)
    """
    same = next((place for place, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), None)
    same = min(len(one), len(other)) if same is None else same
    return one[same:] in ENDINGS and other[same:] in ENDINGS


def rest_of(said: tuple[str, ...], words: Vocabulary) -> tuple[str, ...]:
    """The words after the longest phrase of the trade that they begin with."""
    for length in range(len(said) - 1, 0, -1):
        if TRADE & set(words.phrases.get(said[:length], {})):
            return said[length:]
    return said


def plain(word: str, words: Vocabulary) -> bool:
    """Whether a word is plain speech and nothing else."""
    kinds = words.kinds(word)
    return bool(kinds) and kinds <= {"stop", "filler", "mark", "homophone"}


def strange(word: str, words: Vocabulary) -> bool:
    """Whether a word means nothing as it stands, or is known as one that is often heard for another."""
    kinds = words.kinds(word)
    return not kinds or kinds == {"misheard"}
