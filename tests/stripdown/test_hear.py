from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load
from midframe.record.draft import begin
from midframe.stripdown import Done, hear
from midframe.stripdown.words import lexicon

# Sentences as they are said at the bench, with the move that they mean (own construction).
SAID = (
    (
        "undid four hexalobular four screws, three millimetres, from the mid cover",
        Done(verb="unscrew", what="Mid cover", count=4, drive="hexalobular 4", length_mm=3),
    ),
    (
        "Unscrewed the mid cover from the frame, fourteen cross recess double zero screws of 3.5 mm",
        Done(verb="unscrew", what="Mid cover", to="frame", count=14, drive="cross recess 00", length_mm=3.5),
    ),
    (
        "removed the three M1.4 screws of the loudspeaker box",
        Done(verb="unscrew", what="Loudspeaker", count=3, thread="M1.4"),
    ),
    ("four screws from the main board", Done(verb="unscrew", what="Main board", count=4)),
    ("unplugged the battery from the motherboard", Done(verb="unplug", what="Battery", to="Main board")),
    (
        "heated the back cover for two minutes with the heating mat",
        Done(verb="heat", what="Back cover", seconds=120, tools=("heating mat",)),
    ),
    (
        "prised off the rear glass with an opening pick and a suction cup",
        Done(verb="pry", what="Back cover", tools=("opening pick", "suction cup")),
    ),
    (
        "soaked the battery with alcohol for 90 seconds",
        Done(verb="soak", what="Battery", seconds=90, tools=("isopropanol",)),
    ),
    ("lifted out the upper mid cover", Done(verb="lift", what="Upper mid cover")),
    ("folded the display aside", Done(verb="fold aside", what="Display")),
    (
        "unclipped the upper speaker box, note that One clip broke",
        Done(verb="unclip", what="Upper loudspeaker", note="One clip broke"),
    ),
    ("note: smells of solvent", Done(verb="note", note="smells of solvent")),
    ("took out the blue thing", Done(verb="lift", what="blue thing")),
    (
        "removed twenty two screws, one point four millimetres, from the sub board",
        Done(verb="unscrew", what="Sub board", count=22, length_mm=1.4),
    ),
)


@pytest.mark.parametrize(("sentence", "move"), SAID, ids=[sentence for sentence, _ in SAID])
def test_a_sentence_of_the_bench_is_understood(sentence, move):
    heard = hear(sentence, begin("Tern", "phone"))
    assert heard.done == move
    assert heard.left == ()


def test_parts_of_the_record_are_heard_by_their_ids():
    heard = hear("unplugged the main rear camera from the main board", load("tern-2"))
    assert (heard.done.what, heard.done.to) == ("rear-camera-main", "main-board")


def test_what_is_not_understood_is_given_back():
    assert hear("qwerty the battery", begin("Tern", "phone")).done is None
    assert hear("lifted the battery zigzag", begin("Tern", "phone")).left == ("zigzag",)


@settings(max_examples=80, deadline=None)
@given(
    st.text(max_size=80)
    | st.lists(
        st.sampled_from(
            [w for t in lexicon().parts for w in (t.term, *t.said)]
            + ["lifted", "from", "4", "mm", "with", "spudger", "note"]
        ),
        max_size=12,
    ).map(" ".join)
)
def test_no_sentence_makes_it_stumble(text):
    hear(text, begin("Tern", "phone"))


def test_every_word_of_a_verb_means_that_verb():
    for verb in lexicon().verbs:
        if verb.verb != "note":
            for word in (verb.verb, *verb.said):
                assert hear(f"{word} the battery", begin("Tern", "phone")).done.verb == verb.verb, word
