from __future__ import annotations

import pytest

from midframe.faults import BadSetting
from midframe.narration import Begun, Step, draft_of, draft_record, looked_through, read_captions
from midframe.narration.review import stepped

TALK = "0:03 Nine screws on the mid cover.\n0:20 Lift the sub bored.\n0:30 The tea is cold."


@pytest.fixture
def begun():
    """A draft of two items, one of them doubtful, and words kept aside."""
    return Begun(name="Stint", draft=draft_of(read_captions(TALK)))


def test_what_is_thrown_out_leaves_the_draft_and_comes_back(begun):
    out = looked_through(begun, [Step(do="throw out", number=1)])
    assert [item.number for item in out.kept.items] == [2]
    assert out.open == 1
    back = stepped(out, Step(do="take back", number=1))
    assert [item.number for item in back.kept.items] == [1, 2]


def test_only_what_was_said_in_full_is_confirmed_at_once():
    said = Begun(name="Stint", draft=draft_of(read_captions("0:03 Undid nine mid cover screws.\n0:20 Out.")))
    states = [entry.state for entry in looked_through(said, [Step(do="confirm all said")]).entries]
    assert states == ["confirmed", "open"]


def test_a_correction_counts_in_the_record(begun):
    fields = {"count": "8", "drive": "hexalobular 3", "length_mm": "2,5", "tools": "", "part": "Upper cover"}
    done = looked_through(begun, [Step(do="correct", number=1, fields=fields)])
    joint = draft_record(done.kept, done.choices).record.joints[0]
    assert (joint.holds[0], joint.count, joint.drive, joint.length_mm) == (
        "upper-cover",
        8,
        "hexalobular 3",
        2.5,
    )


@pytest.mark.parametrize(
    ("fields", "found"),
    [
        ({"count": "many"}, "count: found 'many'; right: a whole number from 1"),
        ({"count": "0"}, "count: found '0'"),
        ({"seconds": "nan"}, "seconds: found 'nan'"),
        ({"length_mm": "0"}, "length_mm: found '0'"),
        ({"part": " "}, "part: found nothing"),
        ({"verb": "smash"}, "verb: found 'smash'; right: one of unscrew"),
    ],
)
def test_a_correction_that_cannot_be_is_told_by_field(begun, fields, found):
    with pytest.raises(BadSetting) as caught:
        stepped(looked_through(begun, []), Step(do="correct", number=1, fields=fields))
    assert found in str(caught.value)


def test_words_kept_aside_become_a_note_of_the_log(begun):
    done = looked_through(begun, [Step(do="keep as a note", number=1)])
    assert done.aside == {}
    assert "The tea is cold." in [entry.note for entry in draft_record(done.kept, done.choices).record.log]


def test_a_step_that_two_screens_took_counts_once(begun):
    twice = looked_through(begun, [Step(do="keep as a note", number=1)] * 2)
    assert len(twice.entries) == 3


def test_an_item_that_is_not_there_is_told(begun):
    with pytest.raises(BadSetting, match="item 9: found none"):
        stepped(looked_through(begun, []), Step(do="confirm", number=9))
