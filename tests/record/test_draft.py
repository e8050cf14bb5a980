from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.faults import BadSetting, UnknownPart
from midframe.record import check, draft, faults, read, write
from midframe.ways.reach import reach


def sound(record):
    return not faults(check(record)) and not faults(reach(record))


def begun(*names):
    """A draft of parts in the order in which they came out, each waiting for the one before."""
    record, before = draft.begin("Wren", "phone"), ()
    for name in names:
        record, part = draft.add_part(record, name)
        record = draft.wait_for(record, part, before, assumed=True)
        before = (part,)
    return record


def test_a_draft_of_nothing_but_its_body_is_sound():
    record = draft.begin("Wren", "tablet")
    assert sound(record)
    assert read(write(record)) == record


def test_a_joint_waits_for_what_its_part_waits_for():
    record, joint = draft.add_joint(begun("Lid", "Cell"), "cell", "adhesive")
    assert record.joints[0].behind == (("lid",),)
    assert (record.joints[0].assumed, joint) == (True, "cell-adhesive")


def test_a_joint_to_a_part_that_came_out_earlier_was_reached_as_early_as_that():
    record = begun("Lid", "Cell", "Board")
    record, joint = draft.add_joint(record, "board", "connector")
    record = draft.join_to(record, joint, "cell")
    assert record.joints[0].behind == (("lid",),)
    assert sound(record)


def test_a_part_held_to_another_sits_on_it_unless_the_body_holds_it_too():
    record, joint = draft.add_joint(begun("Lid", "Shield", "Board"), "shield", "clip")
    record = draft.join_to(record, joint, "board")
    assert next(part for part in record.parts if part.id == "shield").seat == "board"
    record, _ = draft.add_joint(record, "shield", "screw")
    assert next(part for part in record.parts if part.id == "shield").seat is None
    assert sound(record)


def test_a_tether_is_reached_when_its_part_is_aside_and_does_not_seat_it():
    record, joint = draft.add_joint(begun("Display", "Board"), "display", "connector")
    record = draft.make_tether(draft.join_to(record, joint, "board"), joint)
    assert record.joints[0].behind == (("display",),)
    assert record.parts[1].seat == "frame"
    assert sound(record)


def test_a_part_cannot_be_held_to_itself():
    record, joint = draft.add_joint(begun("Lid"), "lid", "clip")
    with pytest.raises(BadSetting, match="another part"):
        draft.join_to(record, joint, "lid")


def test_unknown_ids_are_refused():
    record = draft.begin("Wren", "phone")
    with pytest.raises(UnknownPart, match="no part 'x'"):
        draft.with_part(record, "x", mass_g=1)
    with pytest.raises(UnknownPart, match="no joint 'x'"):
        draft.with_joint(record, "x", count=1)


def test_parts_are_found_by_id_and_by_name():
    record = begun("Back cover")
    assert draft.found(record, "BACK COVER") is draft.found(record, "back-cover")
    assert draft.found(record, "lid") is None


KINDS = ("screw", "connector", "clip", "adhesive", "solder", "other")
JOINTS = st.lists(
    st.tuples(st.integers(0, 3), st.sampled_from(KINDS), st.integers(0, 3), st.booleans()), max_size=8
)


@given(JOINTS)
def test_whatever_is_joined_to_whatever_no_part_is_locked_in(joints):
    names = ("a", "b", "c", "d")
    record = begun(*names)
    for one, kind, other, tether in joints:
        record, joint = draft.add_joint(record, names[one], kind)
        if other != one:
            record = draft.join_to(record, joint, names[other])
        if tether and kind == "connector":
            record = draft.make_tether(record, joint)
    if not faults(check(record)):
        assert not faults(reach(record))
    assert read(write(record)) == record
