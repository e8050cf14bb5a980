from __future__ import annotations

import msgspec
import pytest

from store.bench import AT, tern, with_part


def named(name, **device):
    record = tern()
    return msgspec.structs.replace(record, device=msgspec.structs.replace(record.device, name=name, **device))


@pytest.fixture
def three(store):
    """A curlew with a cracked lens, a Löffler, a tern that is waiting."""
    curlew = store.new(with_part(named("Curlew 5"), "shield", note="cracked lens"), at=AT).id
    spoonbill = store.new(named("Löffler", kind="tablet"), at=AT).id
    waiting = store.new(tern(), at=AT).id
    store.set_state(waiting, "waiting", AT)
    return {"curlew": curlew, "spoonbill": spoonbill, "tern": waiting}


def found(store, query, **more):
    return [row.name for row in store.shelf(query, **more).rows]


@pytest.mark.parametrize(
    ("query", "names"),
    [
        ("", ["Tern", "Löffler", "Curlew 5"]),
        ("cur", ["Curlew 5"]),
        ("CURLEW", ["Curlew 5"]),
        ("loff", ["Löffler"]),
        ("LÖFF", ["Löffler"]),
        ("crack len", ["Curlew 5"]),
        ("len crack 5", ["Curlew 5"]),
        ("batt glue", ["Tern", "Löffler", "Curlew 5"]),
        ("m1.4", ["Tern", "Löffler", "Curlew 5"]),
        ("tablet", ["Löffler"]),
        ("racked", []),
        ("curlew löffler", []),
        ("  ", ["Tern", "Löffler", "Curlew 5"]),
    ],
)
def test_the_search_finds_words_that_begin_as_typed(store, three, query, names):
    assert found(store, query) == names


@pytest.mark.parametrize("query", ['"', "a*", "NOT", "' OR 1", "(", ":*", "NEAR(a b)", "\\", "%_", "a" * 500])
def test_no_sign_of_a_query_is_taken_for_more_than_text(store, three, query):
    assert store.shelf(query).total >= 0


def test_what_was_edited_is_found_by_its_new_words_only(store, three):
    kept = store.get(three["curlew"])
    store.save(kept.id, with_part(kept.record, "shield", note="chipped"), base=1, at=AT)
    assert found(store, "crack") == []
    assert found(store, "chip") == ["Curlew 5"]


def test_the_newest_change_stands_first(store, three):
    kept = store.get(three["curlew"])
    store.save(kept.id, with_part(kept.record, "shield", note="bent"), base=1, at=AT)
    assert found(store, "")[0] == "Curlew 5"


def test_the_shelf_can_be_narrowed_to_a_state(store, three):
    assert found(store, "", state="waiting") == ["Tern"]
    assert found(store, "cur", state="waiting") == []


def test_the_shelf_comes_in_pages_and_tells_how_many_there_are(store, three):
    shelf = store.shelf(limit=2)
    assert ([row.name for row in shelf.rows], shelf.total) == (["Tern", "Löffler"], 3)
    assert found(store, "", limit=2, offset=2) == ["Curlew 5"]


def test_a_removed_record_is_off_the_shelf_and_nothing_of_it_is_lost(store, three):
    store.remove(three["tern"], at=AT)
    assert "Tern" not in found(store, "")
    assert found(store, "", removed=True) == ["Tern"]
    assert store.get(three["tern"]).removed
    store.bring_back(three["tern"])
    assert "Tern" in found(store, "")


def test_a_row_shows_what_the_record_says(store, three):
    row = store.shelf("tern").rows[0]
    assert (row.kind, row.state, row.invented, row.parts, row.joints) == ("phone", "waiting", False, 4, 2)
    assert (row.revision, row.changed_at, row.photo, row.index_of) == (1, AT, "", 0)


def test_what_was_computed_from_a_record_is_kept_for_its_row(store, three):
    tern_id = three["tern"]
    store.summarise(tern_id, 1, index_class="B", index_value=3.61, drawing="<svg/>")
    row = store.shelf("tern").rows[0]
    assert (row.index_of, row.index_class, row.index_value, row.drawing) == (1, "B", 3.61, "<svg/>")
    store.save(tern_id, with_part(tern(), "shield", note="bent"), base=1, at=AT)
    store.summarise(tern_id, 2, index_class="C", index_value=3.1, drawing="")
    store.summarise(tern_id, 1, index_class="B", index_value=3.61, drawing="")
    row = store.shelf("tern").rows[0]
    assert (row.index_of, row.index_class) == (2, "C"), "a late result of an older revision changes nothing"
