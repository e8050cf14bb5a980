from __future__ import annotations

import msgspec
import pytest

from midframe.faults import BadSetting, NothingToUndo, RecordFault, UnknownRecord
from midframe.record import check, faults
from midframe.record.model import Joint, Part
from midframe.store import Clock, Store
from store.bench import AT, logged, part, tern, with_part


@pytest.fixture
def kept(store):
    return store.new(tern(), at=AT, author="Ann")


def test_what_is_kept_comes_back_the_same(store, kept):
    found = store.get(kept.id)
    assert found.record == tern()
    assert (found.revision, found.state, found.name, found.removed) == (1, "closed", "Tern", False)


def test_an_id_is_ten_letters_or_digits_that_nothing_is_taken_for(store, kept):
    assert len(kept.id) == 10
    assert set(kept.id) <= set("abcdefghijkmnpqrstuvwxyz23456789")


def test_a_store_opened_again_holds_what_it_held(url, tmp_path):
    first = Store.open(url, tmp_path)
    kept = first.new(tern(), at=AT)
    first.close()
    again = Store.open(url, tmp_path)
    assert again.get(kept.id).record == tern()
    again.close()


@pytest.mark.parametrize("asked", ["nosuchone", "", "'; DROP TABLE records; --"])
def test_an_unknown_record_is_told(store, asked):
    with pytest.raises(UnknownRecord, match="right: one of the shelf"):
        store.get(asked)


def test_an_unknown_revision_is_told(store, kept):
    with pytest.raises(UnknownRecord, match="no revision 7; right: 1 to 1"):
        store.get(kept.id, 7)
    with pytest.raises(UnknownRecord, match="no revision 0"):
        store.save(kept.id, tern(), base=0, at=AT)


def test_a_record_that_the_reader_would_refuse_is_not_kept(store, kept):
    broken = with_part(tern(), "battery", mass_g=-1.0)
    with pytest.raises(RecordFault, match="mass_g"):
        store.save(kept.id, broken, base=1, at=AT)
    assert store.head(kept.id) == 1


def test_every_edit_is_a_revision(store, kept):
    store.save(
        kept.id, with_part(tern(), "battery", mass_g=62.0), base=1, at=AT, author="Bo", summary="weighed"
    )
    newest, first = store.history(kept.id)
    assert (newest.number, newest.parent, newest.kind, newest.summary, newest.author) == (
        2,
        1,
        "edit",
        "weighed",
        "Bo",
    )
    assert (first.number, first.kind, first.author) == (1, "new", "Ann")
    assert part(store.get(kept.id, 1).record, "battery").mass_g == 61
    assert part(store.get(kept.id).record, "battery").mass_g == 62


def test_history_comes_in_pages(store, kept):
    for number in range(1, 6):
        store.save(kept.id, logged(store.get(kept.id).record, 10 + number, "on"), base=number, at=AT)
    assert [one.number for one in store.history(kept.id, limit=2)] == [6, 5]
    assert [one.number for one in store.history(kept.id, limit=2, before=5)] == [4, 3]


def test_an_edit_that_changes_nothing_is_no_revision(store, kept):
    assert store.save(kept.id, tern(), base=1, at=AT).revision == 1
    assert len(store.history(kept.id)) == 1


def test_edits_of_different_parts_by_two_people_merge(store, kept):
    store.save(kept.id, with_part(tern(), "battery", mass_g=62.0), base=1, at=AT)
    saved = store.save(kept.id, with_part(tern(), "mid-cover", mass_g=13.0), base=1, at=AT)
    assert (saved.merged, saved.beside) == (True, ())
    assert part(saved.record, "battery").mass_g == 62
    assert part(saved.record, "mid-cover").mass_g == 13
    assert store.history(kept.id)[0].merged


@pytest.fixture
def twice(store, kept):
    store.save(kept.id, with_part(tern(), "battery", mass_g=62.0), base=1, at=AT, author="Ann")
    return store.save(kept.id, with_part(tern(), "battery", mass_g=63.0), base=1, at=AT, author="Bo")


def test_of_two_edits_of_the_same_thing_neither_is_lost(store, kept, twice):
    assert part(twice.record, "battery").mass_g == 62
    (beside,) = store.beside(kept.id)
    assert (beside.id,) == twice.beside
    assert (beside.subject, beside.path) == ("part battery: mass_g", ("parts", "battery", "mass_g"))
    assert (beside.mine, beside.theirs, beside.author, beside.base) == (63.0, 62.0, "Bo", 1)


def test_the_version_set_aside_can_be_taken(store, kept, twice):
    settled = store.settle(twice.beside[0], "mine", at=AT)
    assert part(settled.record, "battery").mass_g == 63
    assert store.beside(kept.id) == ()
    assert store.beside(kept.id, resolved=True)[0].resolved
    assert store.history(kept.id)[0].kind == "settle"
    again = store.settle(twice.beside[0], "theirs", at=AT)
    assert again.revision == settled.revision, "settled once is settled"


def test_the_version_that_stands_can_be_kept(store, kept, twice):
    settled = store.settle(twice.beside[0], "theirs", at=AT)
    assert part(settled.record, "battery").mass_g == 62
    assert settled.revision == twice.revision
    assert store.beside(kept.id) == ()


def test_settling_that_would_break_the_record_is_refused(store, kept):
    shield = Joint(id="shield-clip", kind="clip", holds=("shield", "mid-cover"))
    without = msgspec.structs.replace(tern(), parts=tuple(p for p in tern().parts if p.id != "shield"))
    added = msgspec.structs.replace(tern(), joints=(*tern().joints, shield))
    store.save(kept.id, added, base=1, at=AT)
    saved = store.save(kept.id, without, base=1, at=AT)
    assert not faults(check(saved.record))
    assert part(saved.record, "shield")
    with pytest.raises(RecordFault, match="shield"):
        store.settle(saved.beside[0], "mine", at=AT)
    assert len(store.beside(kept.id)) == 1, "it can still be settled"


def test_the_same_key_again_changes_nothing(store, kept):
    once = store.save(kept.id, logged(tern(), 9, "a"), base=1, at=AT, kind="move", key="k1")
    other = store.save(
        kept.id, logged(store.get(kept.id).record, 10, "b"), base=2, at=AT, kind="move", key="k2"
    )
    again = store.save(kept.id, logged(tern(), 9, "a"), base=1, at=AT, kind="move", key="k1")
    assert (again.revision, again.record, again.repeated) == (once.revision, once.record, True)
    assert store.head(kept.id) == other.revision


def test_a_new_record_with_the_same_key_is_the_same_record(store):
    first = store.new(tern(), at=AT, key="new")
    assert store.new(tern(), at=AT, key="new").id == first.id
    assert store.shelf().total == 1


def test_a_key_of_another_record_is_refused(store, kept):
    store.save(kept.id, logged(tern(), 9, "a"), base=1, at=AT, key="k1")
    other = store.new(tern(), at=AT)
    with pytest.raises(BadSetting, match="right: a new random key"):
        store.save(other.id, logged(tern(), 9, "a"), base=1, at=AT, key="k1")


def test_undo_goes_back_step_by_step_and_redo_forward(store, kept):
    masses = [61.0, 62.0, 63.0, 64.0]
    for number, mass in enumerate(masses[1:], start=1):
        store.save(kept.id, with_part(tern(), "battery", mass_g=mass), base=number, at=AT)
    back = [part(store.undo(kept.id, at=AT).record, "battery").mass_g for _ in range(3)]
    assert back == [63, 62, 61]
    with pytest.raises(NothingToUndo, match="nothing to undo"):
        store.undo(kept.id, at=AT)
    forward = [part(store.redo(kept.id, at=AT).record, "battery").mass_g for _ in range(3)]
    assert forward == [62, 63, 64]
    with pytest.raises(NothingToUndo, match="nothing to redo"):
        store.redo(kept.id, at=AT)
    assert [one.of for one in store.history(kept.id, limit=6)] == [4, 3, 2, 2, 3, 4]


def test_undo_of_an_older_edit_leaves_what_came_after(store, kept):
    store.save(kept.id, with_part(tern(), "battery", mass_g=62.0), base=1, at=AT)
    after = with_part(store.get(kept.id).record, "mid-cover", mass_g=13.0)
    store.save(kept.id, after, base=2, at=AT)
    undone = store.undo(kept.id, of=2, at=AT)
    assert part(undone.record, "battery").mass_g == 61
    assert part(undone.record, "mid-cover").mass_g == 13
    with pytest.raises(NothingToUndo, match="no revision 2 to undo; right: one of 3"):
        store.undo(kept.id, of=2, at=AT)


def test_a_new_edit_ends_what_could_be_redone(store, kept):
    store.save(kept.id, with_part(tern(), "battery", mass_g=62.0), base=1, at=AT)
    store.undo(kept.id, at=AT)
    store.save(kept.id, with_part(tern(), "battery", mass_g=65.0), base=3, at=AT)
    with pytest.raises(NothingToUndo):
        store.redo(kept.id, at=AT)


def test_a_double_tap_on_undo_undoes_once(store, kept):
    store.save(kept.id, with_part(tern(), "battery", mass_g=62.0), base=1, at=AT)
    store.save(kept.id, with_part(tern(), "battery", mass_g=63.0), base=2, at=AT)
    store.undo(kept.id, at=AT, key="tap")
    assert part(store.undo(kept.id, at=AT, key="tap").record, "battery").mass_g == 62


def test_restore_puts_an_old_revision_on_top(store, kept):
    extra = Part(id="label", name="Label", seat="frame")
    store.save(kept.id, msgspec.structs.replace(tern(), parts=(*tern().parts, extra)), base=1, at=AT)
    store.save(kept.id, logged(store.get(kept.id).record, 9, "x"), base=2, at=AT)
    restored = store.restore(kept.id, 1, at=AT)
    assert (restored.revision, restored.record) == (4, tern())
    assert store.history(kept.id)[0].of == 1
    assert store.undo(kept.id, at=AT).record.log[-1].note == "x", "a restore can be undone"


def test_states_are_four(store, kept):
    store.set_state(kept.id, "waiting", AT)
    assert store.get(kept.id).state == "waiting"
    with pytest.raises(BadSetting, match="right: one of apart_now, waiting"):
        store.set_state(kept.id, "open", AT)


def test_the_clock_runs_only_while_it_runs(store, kept):
    assert store.clock(kept.id) == Clock()
    store.set_clock(kept.id, Clock(AT, "2026-11-25T08:10:00Z", 90.0))
    clock = store.clock(kept.id)
    assert clock.seconds("2026-11-25T08:11:00Z") == 150
    assert Clock(AT, None, 90.0).seconds("2026-11-25T09:00:00Z") == 90
    assert clock.seconds("2026-11-25T08:09:00Z") == 90, "a clock set back takes nothing away"


def test_every_change_is_a_newer_head_of_the_shelf(store, kept):
    seen = [store.heads()]
    for change in (
        lambda: store.save(kept.id, logged(tern(), 9, "a"), base=1, at=AT),
        lambda: store.undo(kept.id, at=AT),
        lambda: store.set_state(kept.id, "waiting", AT),
        lambda: store.set_clock(kept.id, Clock(AT, AT)),
        lambda: store.remove(kept.id, AT),
        lambda: store.new(tern(), at=AT),
    ):
        change()
        seen.append(store.heads())
    assert seen == sorted(set(seen))
