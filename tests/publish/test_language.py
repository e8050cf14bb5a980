from __future__ import annotations

import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.faults import BadSetting
from midframe.publish.language import LONGEST, language, languages, vocabulary

EN, DE = language("en"), language("de")


def test_english_and_german_are_there_and_others_are_refused_with_what_would_be_right():
    assert languages() == ("en", "de")
    with pytest.raises(BadSetting, match="found 'fr'; it may be en or de"):
        language("fr")


@pytest.mark.parametrize(
    ("count", "english", "german"),
    [
        (0, "0 joints stay closed.", "0 Verbindungen bleiben geschlossen."),
        (1, "1 joint stays closed.", "1 Verbindung bleibt geschlossen."),
        (2, "2 joints stay closed.", "2 Verbindungen bleiben geschlossen."),
    ],
)
def test_none_one_and_two_take_the_right_form(count, english, german):
    assert EN.say("untouched-joints", count=count) == english
    assert DE.say("untouched-joints", count=count) == german


@pytest.mark.parametrize(("count", "german"), [(0, "Kein Werkzeug"), (1, "Die eine Schraube"), (2, "Alle 2")])
def test_no_screw_one_and_more_are_told_apart_at_the_end(count, german):
    assert DE.say("checks-end", screws=count).startswith(german)


@pytest.mark.parametrize(
    ("value", "english", "german"),
    [(2.0, "2", "2"), (0.45, "0.45", "0,45"), (12345.6, "12345.6", "12345,6"), (1e-5, "0.00001", "0,00001")],
)
def test_figures_take_the_decimal_mark_of_the_language_and_no_thousands(value, english, german):
    assert (EN.figure(value), DE.figure(value)) == (english, german)


def test_whole_numbers_in_messages_are_not_grouped():
    assert EN.say("undoes", move=12345) == "undoes 12345"
    assert DE.say("screws-still-out", out=1234, all=5678) == "Schrauben noch draußen: 1234 von 5678"


def test_money_shares_and_times_have_a_comma_in_german():
    assert (DE.fixed(18.8, 2), DE.percent(0.125), DE.minutes(95.0)) == ("18,80", "12,5 %", "1,6")
    assert DE.time(3725) == "62 min 5 s"


def test_a_list_ends_with_the_word_of_the_language_and_no_comma_before_it():
    names = ("Frame", "Cover", "Plate")
    assert EN.listed(names) == "Frame, Cover and Plate"
    assert DE.listed(names) == "Frame, Cover und Plate"
    assert (EN.listed(names, "or"), DE.listed(names, "or")) == (
        "Frame, Cover or Plate",
        "Frame, Cover oder Plate",
    )
    assert (DE.listed(()), DE.listed(("Frame",))) == ("", "Frame")


@given(st.sets(st.integers(1, 40), min_size=1))
@pytest.mark.parametrize("code", languages())
def test_numbers_of_moves_can_be_read_back(code, numbers):
    spoken = language(code)
    told = spoken.moves(sorted(numbers))
    (between,) = spoken.say("from-to", first=1, last=2).replace("1", "").replace("2", "").split()
    found = set()
    for piece in told.split(" ", 1)[1].replace(" and ", ", ").replace(" und ", ", ").split(", "):
        first, _, last = piece.partition(f" {between} ")
        found |= set(range(int(first), int(last or first) + 1))
    assert found == numbers


def test_a_long_value_stands_in_the_message_whole():
    names = ", ".join(f"Part {number}" for number in range(2_000))
    assert len(names) > 10 * LONGEST
    assert EN.say("along", parts=names) == f"Comes along: {names}."


def test_german_names_keep_their_capital_within_a_sentence():
    assert (EN.in_sentence("Main board"), DE.in_sentence("Leiterplatte")) == ("main board", "Leiterplatte")


@pytest.mark.parametrize(
    ("word", "german"),
    [
        ("hexalobular 4", "Innensechsrund 4"),
        ("hexalobular 4 driver", "Schraubendreher Innensechsrund 4"),
        ("cross recess 00", "Kreuzschlitz 00"),
        ("Spudger", "Kunststoffheber"),
        ("own tool", None),
        ("own drive 4", None),
        ("", None),
    ],
)
def test_the_vocabulary_of_records_is_said_with_its_sizes(word, german):
    assert DE.term(word) == german
    assert EN.term(word) == (word if german else None)


def test_the_vocabulary_tells_its_words_apart():
    assert len(vocabulary()) > 60


def test_the_catalogues_are_not_read_before_something_is_said():
    import subprocess

    program = (
        "import sys; from midframe.publish.language import language, languages; language('de'); "
        "sys.exit('fluent' in sys.modules or 'babel' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
