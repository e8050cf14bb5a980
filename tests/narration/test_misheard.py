from __future__ import annotations

import pytest

from midframe.narration import english
from midframe.narration.misheard import repaired
from midframe.narration.spoken import Token


def heard(text):
    tokens = [Token(word, place) for place, word in enumerate(text.split())]
    return " ".join(token.text for token in repaired(tokens, english())[0])


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("the back class", "the back glass"),
        ("sub bored", "sub board"),
        ("main flecks", "main flex"),
        ("a spud jar", "a spudger"),
        ("hex a lobular", "hexalobular"),
        ("ice a propanol", "isopropanol"),
        ("mike row phone", "microphone"),
        ("charging pour it", "charging port"),
        ("sod erred", "soldered"),
    ],
)
def test_what_sounds_like_a_phrase_of_the_trade_is_put_right(said, meant):
    assert heard(said) == meant


@pytest.mark.parametrize(
    "said",
    [
        "lift the battery now",
        "the charging port is out",
        "it is still connected",
        "better days will come",
        "suction cup and a card",
        "seven watt hours",
        "without opening the back",
        "the cover comes off",
        "a nice cup of coffee",
    ],
)
def test_plain_words_are_left_alone(said):
    assert heard(said) == said


def test_a_repair_is_told():
    _, notes = repaired([Token("sub", 0), Token("bored", 1)], english())
    assert set(notes.values()) == {"“sub bored” taken for “sub board”"}
