from __future__ import annotations

from collections import Counter

import pytest

from midframe.narration import draft_of, read_captions
from midframe.narration.wording import item_words
from narration.truth import compared, talks


def said(*lines):
    """The items of a talk in words, its lines a minute apart."""
    text = "\n".join(f"[{number}:00] {line}" for number, line in enumerate(lines, start=1))
    return [item_words(item) for item in draft_of(read_captions(text)).items]


@pytest.mark.parametrize(
    ("lines", "understood"),
    [
        (["nine number three star screws on the mid cover"], ["Unscrew mid cover (9 × hexalobular 3)"]),
        (
            ["three star fours on the shield", "two more of the same"],
            ["Unscrew board shield (3 × hexalobular 4)", "Unscrew board shield (2 × hexalobular 4)"],
        ),
        (
            ["Main board: another four, cross recess zero, M1.6, five millimetres"],
            ["Unscrew main board (4 × cross recess 0 M1.6; 5 mm)"],
        ),
        (["The mid cover is held by six clips."], ["Unclip mid cover (6)"]),
        (
            ["There are eleven screws on the mid cover, they are star four"],
            ["Unscrew mid cover (11 × hexalobular 4)"],
        ),
        (["Disconnect the battery, then the display"], ["Unplug battery", "Unplug display"]),
        (["Unplug the main flex from the sub board"], ["Unplug interconnect flex (from sub board)"]),
        (["Two screws hold the antenna bracket."], ["Unscrew antenna bracket (2)"]),
        (["Pry the battery out with a card"], ["Pry battery (with plastic card)"]),
        (["Heat the back glass at 80 °C for 3 min"], ["Heat back cover (80 °C; 180 s)"]),
        (["Heat gun on the rear cover, a minute and a half"], ["Heat back cover (90 s; with hot air)"]),
        (["Swing the display aside"], ["Fold aside display"]),
        (["Open the display like a book"], []),
        (["The back cover", "Open it like a book"], ["Fold aside back cover"]),
        (["Out comes the battery."], ["Lift battery"]),
        (["Take these ten star screws out of the speaker box"], ["Unscrew loudspeaker (10 × hexalobular)"]),
        (["Battery. Pull tab."], ["Battery: pull tab"]),
        (
            ["4x star 2 connector plate out"],
            ["Unscrew connector plate (4 × hexalobular 2)", "Lift connector plate"],
        ),
        (["spk 3x ph00 out"], ["Unscrew loudspeaker (3 × cross recess 00)"]),
        (["Main board: three screws out."], ["Unscrew main board (3)"]),
        (
            ["Took out five crossheads double zero from the loudspeaker and lifted it out with tweezers."],
            ["Unscrew loudspeaker (5 × cross recess 00)", "Lift loudspeaker (with tweezers)"],
        ),
        (
            ["Heat it, eighty degrees, three minutes.", "Go round with a pick.", "Back cover off."],
            ["Heat back cover (80 °C; 180 s)", "Pry back cover (with opening pick)", "Lift back cover"],
        ),
        (["Unplug the battery. Then the display."], ["Unplug battery", "Unplug display"]),
        (
            ["Disconnected battery, display, and both antenna cables."],
            ["Unplug battery", "Unplug display", "Unplug antenna cable"],
        ),
        (
            ["Removed eight stars, size 3, 4 mm, plus two stars, size 2, 2 mm, from the mid cover."],
            ["Unscrew mid cover (8 × hexalobular 3; 4 mm)", "Unscrew mid cover (2 × hexalobular 2; 2 mm)"],
        ),
        (["three star to screws on the connecter plate"], ["Unscrew connector plate (3 × hexalobular 2)"]),
        (["Note that the sticker tore."], ["Note on sticker"]),
        (["heat the display 80 3 min"], ["Heat display (80 °C; 180 s)"]),
        (
            ["The battery has a pull tab. I pull it, forty seconds"],
            ["Battery: pull tab", "Peel battery (40 s)"],
        ),
    ],
)
def test_moves_are_understood_in_many_words(lines, understood):
    assert said(*lines) == understood


@pytest.mark.parametrize(
    ("line", "understood"),
    [
        ("The battery label says four thousand and fifty milliamp hours", "Battery: rated capacity 4050 mAh"),
        ("Battery: 4,404 mAh typical", "Battery: typical capacity 4404 mAh"),
        ("The battery reads three point eight seven volts", "Battery: nominal voltage 3.87 V"),
        ("Charge limit voltage 4.45 volts on the battery label", "Battery: charge limit voltage 4.45 V"),
        ("The battery weighs sixty one grams", "Battery: mass 61 g"),
        ("Forty eight twenty milliamp hours on the battery", "Battery: rated capacity 4820 mAh"),
        ("On the battery it says three eight five volts", "Battery: nominal voltage 3.85 V"),
        ("The battery holds 4.05 amp hours", "Battery: rated capacity 4050 mAh"),
    ],
)
def test_figures_of_labels_are_understood(line, understood):
    assert said(line) == [understood]


@pytest.mark.parametrize(
    "line",
    [
        "You don't have to take the main board out to get at the battery.",
        "You can get to the battery without removing the main board.",
        "To get to the battery, you don't need to remove the main board.",
        "The main board can stay in when you replace the battery.",
        "You can reach the battery with the main board still in place.",
        "The main board isn't in the way of the battery.",
        "No need to take out the main board for the battery.",
        "The battery can come out while the main board stays in.",
        "You can leave the main board in when you change the battery.",
        "Getting to the battery doesn't require removing the main board.",
        "The main board. It can stay in place if you only want the battery.",
        "The battery comes out without removing the main board.",
    ],
)
def test_what_need_not_come_out_is_understood_in_many_words(line):
    assert said(line) == ["Battery: comes out without main board"]


@pytest.mark.parametrize(
    ("line", "understood"),
    [
        ("The charging port is soldered to the sub board", "Charging port: soldered to sub board"),
        ("The charging port's soldered on the sub board", "Charging port: soldered to sub board"),
        ("The volume buttons are clipped into the frame", "Button flex: clipped to frame"),
        ("The back cover is held with adhesive", "Back cover: glued"),
        ("There is a rubber seal around the charging port", "Charging port: seal"),
        ("There's a gasket around the edge of the display", "Display: seal"),
    ],
)
def test_facts_are_understood(line, understood):
    assert said(line) == [understood]


@pytest.mark.parametrize(
    ("line", "understood"),
    [
        ("nine star threes on the mid cover, no, eight", ["Unscrew mid cover (8 × hexalobular 3)"]),
        (
            "nine star threes on the mid cover. Sorry, eight of them",
            ["Unscrew mid cover (8 × hexalobular 3)"],
        ),
        ("nine star threes on the mid cover, no, star fours", ["Unscrew mid cover (9 × hexalobular 4)"]),
        ("nine screws, 3 mm, on the mid cover, make that 4 mm", ["Unscrew mid cover (9; 4 mm)"]),
        ("I removed two, no three, screws from the mid cover", ["Unscrew mid cover (3)"]),
        ("heat the display, two minutes, no, three", ["Heat display (180 s)"]),
        ("earpiece is glued to the frame, I mean to the display", ["Earpiece speaker: glued to display"]),
        ("unplug the display, no, the battery", ["Unplug battery"]),
        ("undid the main board, two screws. Scratch that.", []),
        ("Four clips on the back cover. Five. Five clips.", ["Unclip back cover (5)"]),
    ],
)
def test_a_correction_mends_what_was_said_last(line, understood):
    assert said(line) == understood


@pytest.mark.parametrize(
    "line",
    [
        "Don't pull on the display cable.",
        "Never pry near the battery with metal.",
        "Some people would now take out the main board.",
        "The charging port is not soldered.",
        "Should we lift the display?",
        "Today we look at the battery.",
        "There are no screws on the mid cover.",
        "My cat wants in, one second.",
        "On the other hand, coffee is good.",
        "Before you lift the display, take a breath.",
        "Be careful not to tear the display flex.",
        "Thanks for watching, and don't forget the bell.",
    ],
)
def test_what_was_not_done_makes_no_item_and_is_kept_aside(line):
    told = draft_of(read_captions(f"[0:01] {line}"))
    assert told.items == ()
    assert " ".join(one.words for one in told.aside) == line


def test_every_item_has_its_words_times_and_captions():
    told = draft_of(read_captions("[0:05] Back cover off.\n[0:30] Nine screws on the\n[0:31] mid cover."))
    first, second = told.items
    assert (first.words, first.start, first.cues) == ("Back cover off.", 5.0, (1,))
    assert (second.words, second.cues) == ("Nine screws on the mid cover.", (2, 3))
    assert first.end <= second.start < second.end


def test_the_grade_says_where_an_item_comes_from():
    told = draft_of(read_captions("[0:01] lift the battery\n[0:09] plug off\n[0:20] lift the sub bored"))
    assert [item.grade for item in told.items] == ["said", "filled in", "doubtful"]
    assert "battery" in told.items[1].reasons[0]
    assert "“sub bored” taken for “sub board”" in told.items[2].reasons


def test_rolling_captions_count_once():
    text = (
        "WEBVTT\n\n00:01.000 --> 00:02.000\nfour star twos\n\n"
        "00:02.000 --> 00:04.000\nfour star twos\non the shield\n\n00:04.000 --> 00:05.000\non the shield\n"
    )
    assert [item_words(item) for item in draft_of(read_captions(text)).items] == [
        "Unscrew board shield (4 × hexalobular 2)"
    ]


FIRST = ("clipped", "lesson", "mumbled", "rolling", "secondthoughts", "steady", "tally")
"""The captions that the first rules were tried on; all of them is understood."""


@pytest.mark.parametrize("talk", [one for one in talks("dev") if one.name in FIRST], ids=lambda one: one.name)
def test_the_captions_that_the_first_rules_were_tried_on_are_understood(talk):
    counts = compared(talk).counts
    assert counts["all", "right"] == counts["all", "true"] == counts["all", "made"]
    assert counts["aside", "right"] == counts["aside", "true"]
    assert counts["detail", "right"] >= counts["detail", "true"] - 1


def test_of_all_captions_that_rules_were_tried_on_no_less_is_understood_than_before():
    counts = sum((compared(talk).counts for talk in talks("dev")), Counter())
    assert counts["all", "right"] >= LEAST_RECALL * counts["all", "true"]
    assert counts["all", "right"] >= LEAST_PRECISION * counts["all", "made"]
    assert counts["aside", "right"] >= LEAST_ASIDE * counts["aside", "true"]


LEAST_RECALL, LEAST_PRECISION, LEAST_ASIDE = 0.72, 0.84, 0.95
"""A little less than docs/draft.md tells as measured."""
