from __future__ import annotations

from midframe.demo import load, names
from midframe.screws import Kind, cover_of, tally
from screws.builders import record, screws


def test_like_screws_of_two_joints_are_one_kind():
    found = tally(record(screws("a"), screws("b", count=3), screws("c", length_mm=2.0, count=None)))
    assert [(line.letter, line.count, line.joints) for line in found.kinds] == [
        ("A", 5, ("a", "b")),
        ("B", 1, ("c",)),
    ]
    assert found.count == 6
    assert found.uncounted == ("c",)


def test_spelling_does_not_make_a_kind():
    assert len(tally(record(screws("a"), screws("b", drive=" Hexalobular  4", thread="m1,4"))).kinds) == 1


def test_a_longer_list_of_places_than_the_count_is_believed():
    assert tally(record(screws("a", count=1, spots_mm=((1, 1), (2, 2))))).count == 2


def test_the_cover_is_the_part_that_sits_on_the_other():
    joint = screws("a", holds=("frame", "plate"))
    assert cover_of(record(joint), joint) == "plate"


def test_what_lacks_a_thread_or_a_length_is_named():
    found = tally(record(screws("a", thread=""), screws("b", length_mm=None), screws("c")))
    assert found.unclear == ("a", "b")
    assert str(found.kinds[0].kind) == "3 mm pan, hexalobular 4"


def test_tallies_by_kind_and_by_cover_count_the_same_screws_in_every_demo_device():
    for name in names():
        device = load(name)
        found = tally(device)
        counts = [joint.count for joint in device.joints if joint.kind == "screw"]
        assert found.count == sum(counts)
        assert (
            sum(line.count for line in found.kinds) == sum(line.count for line in found.covers) == found.count
        )
        assert all(line.count == sum(number for _, number in line.kinds) for line in found.covers)
        assert found.without_place == 0


def test_a_record_without_screws_has_an_empty_tally():
    assert tally(record()).count == 0


def test_screws_without_a_place_are_counted():
    assert tally(record(screws("a", count=4, spots_mm=((1, 1),)))).without_place == 3


def test_a_kind_says_when_it_is_complete():
    assert Kind("hexalobular 4", "M1.4", "", 3.0).complete
    assert not Kind("hexalobular 4", "own thread", "", 3.0).complete
