from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.record import check, faults, read
from midframe.record.merge import merge
from midframe.record.model import Joint, LogEntry, Part, Photo, Tool
from midframe.record.places import at, element_type, keyed, plain, with_value
from midframe.record.reader import fields_of, hints
from midframe.record.references import unknown_ids
from record.sample import TERN
from strategies import any_records, devices, texts

replace = msgspec.structs.replace


def tern():
    return read(TERN)


def with_part(record, part, **changes):
    return replace(record, parts=tuple(replace(p, **changes) if p.id == part else p for p in record.parts))


def without(record, table, name):
    return replace(record, **{table: tuple(one for one in getattr(record, table) if one.id != name)})


def logged(record, *entries):
    return replace(record, log=(*record.log, *(LogEntry(seconds=s, note=n) for s, n in entries)))


def paths(merged):
    return [one.path for one in merged.conflicts]


# Laws


@settings(max_examples=15)
@given(any_records(), any_records())
def test_what_only_one_side_changed_is_taken(base, changed):
    assert merge(base, changed, base).record == changed
    assert merge(base, base, changed).record == changed
    assert merge(base, changed, changed).record == changed


@settings(max_examples=10)
@given(any_records(), any_records(), any_records())
def test_any_three_records_merge_into_one_that_can_be_read(base, mine, theirs):
    merged = merge(base, mine, theirs)
    assert read_again(merged.record) == merged.record
    known = {(one.subject, one.found) for side in (mine, theirs) for one in faults(check(side))}
    assert {(one.subject, one.found) for one in faults(check(merged.record))} <= known


def read_again(record):
    from midframe.record import write

    return read(write(record))


@st.composite
def edits(draw, record):
    """A few edits: a field of the device, a part, a joint; a part, joint or line of the log more or less."""
    for _ in range(draw(st.integers(1, 4))):
        record = draw(st.sampled_from(EDITS))(draw, record)
    return record


def edit_device(draw, record):
    field = draw(st.sampled_from(("note", "predecessor", "name")))
    return replace(record, device=replace(record.device, **{field: draw(texts) + "!"}))


def edit_part(draw, record):
    one = draw(st.sampled_from(record.parts))
    change = draw(
        st.sampled_from(
            ({"note": draw(texts)}, {"mass_g": draw(st.integers(1, 99)) / 1.0}, {"name": draw(texts) + "!"})
        )
    )
    return with_part(record, one.id, **change)


def edit_joint(draw, record):
    one = draw(st.sampled_from(record.joints)) if record.joints else None
    changed = (replace(j, note=draw(texts)) if j is one else j for j in record.joints)
    return replace(record, joints=tuple(changed))


def add_part(draw, record):
    name = f"n{draw(st.integers(0, 5))}"
    if name in {part.id for part in record.parts}:
        return record
    body = record.device.body
    joint = Joint(id=f"j-{name}", kind="clip", holds=(name, body))
    place = draw(st.integers(0, len(record.parts)))
    parts = (*record.parts[:place], Part(id=name, name=draw(texts) + "!"), *record.parts[place:])
    return replace(record, parts=parts, joints=(*record.joints, joint))


def take_part(draw, record):
    used = {part for joint in record.joints for part in joint.holds} | {record.device.body}
    free = [part for part in record.parts if part.id not in used]
    return without(record, "parts", draw(st.sampled_from(free)).id) if free else record


def take_joint(draw, record):
    return without(record, "joints", draw(st.sampled_from(record.joints)).id) if record.joints else record


def add_log(draw, record):
    last = record.log[-1].seconds if record.log else 0.0
    return logged(record, (last + draw(st.integers(0, 9)), draw(texts) + "!"))


def edit_log(draw, record):
    if not record.log:
        return record
    place = draw(st.integers(0, len(record.log) - 1))
    changed = replace(record.log[place], note=draw(texts) + "?")
    return replace(record, log=(*record.log[:place], changed, *record.log[place + 1 :]))


def take_log(draw, record):
    place = draw(st.integers(0, len(record.log)))
    return replace(record, log=record.log[:place] + record.log[place + 1 :])


EDITS = (edit_device, edit_part, edit_joint, add_part, take_part, take_joint, add_log, edit_log, take_log)


@st.composite
def forks(draw):
    base = logged(draw(devices(most_parts=4)), (1, "opened"), (5, "screws out"), (9, "cover off"))
    return base, draw(edits(base)), draw(edits(base))


def fields(record):
    """Every field of every element as place → plain value, whole elements as well."""
    found = {
        ("device", name): plain(getattr(record.device, name)) for name in record.device.__struct_fields__
    }
    for table in ("parts", "joints", "tools", "photos"):
        for key, one in keyed(getattr(record, table), element_type(hints(type(record))[table])).items():
            found[table, key] = plain(one)
            for field in fields_of(type(one)):
                found[table, key, field.name] = plain(getattr(one, field.name))
    return found


@given(forks())
def test_no_edit_of_a_field_is_lost(fork):
    base, mine, theirs = fork
    merged = merge(base, mine, theirs)
    old, here = fields(base), fields(merged.record)
    aside = [(one.path, one.mine) for one in merged.conflicts]
    for side in (mine, theirs):
        for place, value in fields(side).items():
            if len(place) == 2 and place[0] != "device":
                continue
            if place in old and value != old[place]:
                assert here.get(place) == value or kept_aside(aside, place, value), place


def kept_aside(aside, place, value):
    """Whether a conflict holds this value of the field, itself or in the element or record around it."""
    return any(
        path == place[: len(path)] and inside(mine, place[len(path) :]) == value for path, mine in aside
    )


def inside(value, rest):
    for step in rest:
        if isinstance(value, list):
            value = next((one for one in value if step in (one.get("id"), one.get("name"))), {})
        else:
            value = (value or {}).get(step)
    return value


@given(forks())
def test_no_line_of_the_log_is_lost(fork):
    base, mine, theirs = fork
    merged = merge(base, mine, theirs)
    aside = repr([one.mine for one in merged.conflicts])
    for side in (mine, theirs):
        for entry in set(side.log) - set(base.log):
            assert entry in merged.record.log or repr(entry.note) in aside


@given(forks())
def test_a_line_that_one_side_deleted_and_the_other_left_alone_stays_deleted(fork):
    base, mine, theirs = fork
    merged = merge(base, mine, theirs)
    for entry in base.log:
        if entry not in mine.log and entry in theirs.log and theirs.log.count(entry) == 1:
            changed = any(one.seconds == entry.seconds for one in mine.log)
            given_up = any(one.path == () for one in merged.conflicts)
            assert changed or given_up or entry not in merged.record.log


@given(forks())
def test_edits_that_touch_different_things_give_the_same_in_either_order(fork):
    base, mine, theirs = fork
    one, other = merge(base, mine, theirs), merge(base, theirs, mine)
    if not one.conflicts and not other.conflicts:
        assert one.record == other.record


@given(forks())
def test_undo_and_redo_of_an_edit_with_nothing_after_it_is_exact(fork):
    base, mine, _ = fork
    undone = merge(mine, base, mine)
    assert undone.record == base
    assert merge(base, mine, undone.record).record == mine


@given(forks())
def test_every_conflict_says_what_stands_and_can_be_settled_as_it_stands(fork):
    merged = merge(*fork)
    for one in merged.conflicts:
        assert one.subject
        if one.path and one.path[0] != "log":
            assert plain(at(merged.record, one.path)) == one.theirs
            assert with_value(merged.record, one.path, one.theirs) == merged.record


# Cases


def test_different_fields_of_one_part_merge():
    merged = merge(
        tern(), with_part(tern(), "battery", mass_g=62.0), with_part(tern(), "battery", note="swollen")
    )
    battery = at(merged.record, ("parts", "battery"))
    assert (battery.mass_g, battery.note, merged.conflicts) == (62, "swollen", ())


def test_the_same_field_keeps_theirs_and_sets_mine_aside():
    merged = merge(
        tern(), with_part(tern(), "battery", mass_g=62.0), with_part(tern(), "battery", mass_g=63.0)
    )
    assert at(merged.record, ("parts", "battery", "mass_g")) == 63
    (conflict,) = merged.conflicts
    assert (conflict.path, conflict.mine, conflict.theirs) == (("parts", "battery", "mass_g"), 62.0, 63.0)
    assert conflict.subject == "part battery: mass_g"


def test_a_field_of_a_label_is_a_place_of_its_own():
    label = at(tern(), ("parts", "battery", "specs", "capacity"))
    mine = with_part(tern(), "battery", specs=(replace(label, value=4400.0),))
    theirs = with_part(
        tern(), "battery", specs=(replace(label, value=4600.0), replace(label, label="energy"))
    )
    merged = merge(tern(), mine, theirs)
    assert paths(merged) == [("parts", "battery", "specs", "capacity", "value")]
    assert [one.label for one in at(merged.record, ("parts", "battery")).specs] == ["capacity", "energy"]


def test_photos_added_to_one_part_by_two_are_both_there():
    mine = with_part(tern(), "battery", photos=("a" * 64,))
    theirs = with_part(tern(), "battery", photos=("b" * 64,))
    merged = merge(tern(), mine, theirs)
    assert at(merged.record, ("parts", "battery", "photos")) == ("a" * 64, "b" * 64)
    assert merged.conflicts == ()


def test_photos_of_the_record_are_matched_by_hash():
    base = replace(tern(), photos=(Photo(hash="a" * 64),))
    mine = replace(base, photos=(Photo(hash="a" * 64, caption="open"), Photo(hash="c" * 64)))
    theirs = replace(base, photos=(Photo(hash="a" * 64, parts=("battery",)), Photo(hash="b" * 64)))
    merged = merge(base, mine, theirs)
    assert merged.record.photos[0] == Photo(hash="a" * 64, caption="open", parts=("battery",))
    assert [one.hash[0] for one in merged.record.photos] == ["a", "b", "c"]


def test_moves_logged_by_two_stand_in_order_of_their_seconds():
    merged = merge(
        tern(), logged(tern(), (10, "mine"), (30, "mine")), logged(tern(), (20, "theirs"), (40, "theirs"))
    )
    assert [one.seconds for one in merged.record.log] == [4, 10, 20, 30, 40]
    assert merged.conflicts == ()


def test_the_same_line_written_on_both_sides_is_one():
    merged = merge(tern(), logged(tern(), (10, "a")), logged(tern(), (10, "a"), (11, "b")))
    assert [one.note for one in merged.record.log] == ["", "a", "b"]


def test_undo_of_a_logged_line_leaves_the_lines_after_it():
    before = logged(tern(), (10, "a"))
    after = logged(before, (11, "b"))
    head = logged(after, (12, "c"))
    assert [one.note for one in merge(after, before, head).record.log] == ["", "a", "c"]


def test_a_note_added_to_a_line_does_not_double_it():
    base = logged(tern(), (10, "a"), (20, "b"))
    noted = replace(base, log=(*base.log[:1], replace(base.log[1], note="a, slowly"), base.log[2]))
    merged = merge(base, noted, logged(base, (30, "c")))
    assert [one.note for one in merged.record.log] == ["", "a, slowly", "b", "c"]


def test_a_part_deleted_by_one_and_edited_by_the_other_stays_and_the_deletion_is_set_aside():
    gone = replace(without(tern(), "parts", "shield"))
    merged = merge(tern(), gone, with_part(tern(), "shield", note="bent"))
    assert at(merged.record, ("parts", "shield", "note")) == "bent"
    assert [(one.path, one.mine) for one in merged.conflicts] == [(("parts", "shield"), None)]


def test_an_edit_of_a_part_that_they_deleted_is_set_aside_whole():
    merged = merge(tern(), with_part(tern(), "shield", note="bent"), without(tern(), "parts", "shield"))
    assert at(merged.record, ("parts", "shield")) is None
    (conflict,) = merged.conflicts
    assert (conflict.mine["note"], conflict.theirs) == ("bent", None)
    back = with_value(merged.record, conflict.path, conflict.mine)
    assert at(back, ("parts", "shield", "note")) == "bent"


@pytest.mark.parametrize("turned", [False, True])
def test_a_part_that_one_deletes_and_the_other_joins_to_comes_back(turned):
    gone = without(tern(), "parts", "shield")
    clip = Joint(id="shield-clip", kind="clip", holds=("shield", "mid-cover"))
    joined = replace(tern(), joints=(*tern().joints, clip))
    merged = merge(tern(), joined, gone) if turned else merge(tern(), gone, joined)
    assert not faults(check(merged.record))
    assert at(merged.record, ("parts", "shield"))
    assert at(merged.record, ("joints", "shield-clip"))
    assert [(one.path, one.mine) for one in merged.conflicts] == [(("parts", "shield"), None)]


def test_a_deleted_part_comes_back_with_the_joints_that_held_it():
    gone = without(without(tern(), "joints", "battery-glue"), "parts", "battery")
    gone = replace(gone, orders=())
    tape = Joint(id="tape", kind="adhesive", holds=("battery", "mid-cover"))
    merged = merge(tern(), gone, replace(tern(), joints=(*tern().joints, tape)))
    assert not faults(check(merged.record))
    assert at(merged.record, ("joints", "battery-glue"))


def test_two_edits_that_only_together_are_a_fault_keep_theirs():
    base = with_part(tern(), "battery", under=())
    mine = with_part(base, "mid-cover", under=(("battery",),))
    merged = merge(base, mine, tern())
    assert not faults(check(merged.record))
    assert at(merged.record, ("parts", "battery", "under")) == (("mid-cover",),)
    assert [one.path for one in merged.conflicts] == [("parts", "mid-cover")]


def test_a_part_whose_two_joints_are_each_deleted_by_one_keeps_the_one_that_theirs_has():
    tape = Joint(id="tape", kind="adhesive", holds=("battery", "frame"))
    base = replace(tern(), joints=(*tern().joints, tape), orders=())
    merged = merge(base, without(base, "joints", "tape"), without(base, "joints", "battery-glue"))
    assert not faults(check(merged.record))
    assert at(merged.record, ("joints", "tape"))
    assert [(one.path, one.mine) for one in merged.conflicts] == [(("joints", "tape"), None)]


def test_both_turning_a_list_round_differently_is_a_conflict_of_order():
    base = replace(tern(), tools=tuple(Tool(name=name) for name in "abc"))
    mine = replace(base, tools=tuple(Tool(name=name) for name in "bac"))
    theirs = replace(base, tools=tuple(Tool(name=name) for name in "acb"))
    merged = merge(base, mine, theirs)
    assert [one.name for one in merged.record.tools] == ["a", "c", "b"]
    (conflict,) = merged.conflicts
    assert conflict.subject == "order of the tools"
    assert [one.name for one in with_value(merged.record, ("tools",), conflict.mine).tools] == ["b", "a", "c"]


def test_two_parts_made_with_the_same_id_are_one_part_with_what_differs_set_aside():
    mine = replace(tern(), parts=(*tern().parts, Part(id="label", name="Label", seat="frame", note="torn")))
    theirs = replace(
        tern(), parts=(*tern().parts, Part(id="label", name="Sticker", seat="frame", mass_g=0.2))
    )
    merged = merge(tern(), mine, theirs)
    assert at(merged.record, ("parts", "label")) == Part(
        id="label", name="Sticker", seat="frame", note="torn", mass_g=0.2
    )
    assert paths(merged) == [("parts", "label", "name")]


def test_ids_that_led_nowhere_before_are_left_alone():
    base = with_part(tern(), "battery", seat="nowhere")
    assert list(unknown_ids(base))
    merged = merge(base, with_part(base, "frame", note="a"), with_part(base, "shield", note="b"))
    assert merged.conflicts == ()
