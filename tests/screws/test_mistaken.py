from __future__ import annotations

from midframe.screws import mistaken
from screws.builders import record, screws


def test_the_pair_that_differs_least_in_length_comes_first():
    found = mistaken(record(screws("a", 3.0), screws("b", 4.0), screws("c", 3.2)))
    assert [(pair.shorter, pair.longer, pair.length_difference_mm) for pair in found] == [
        ("A", "C", 0.2),
        ("C", "B", 0.8),
        ("A", "B", 1.0),
    ]
    assert {pair.told_apart_by for pair in found} == {("length",)}


def test_another_drive_is_told_apart_by_it_and_stands_behind():
    found = mistaken(record(screws("a"), screws("b", 3.2, drive="cross recess 00"), screws("c", 4.0)))
    assert [(pair.shorter, pair.longer, pair.bit) for pair in found] == [
        ("A", "C", "fits"),
        ("A", "B", "no"),
        ("B", "C", "no"),
    ]


def test_threads_that_refuse_each_other_make_no_pair():
    assert mistaken(record(screws("a"), screws("b", thread="M2"))) == ()


def test_a_near_thread_is_a_pair_only_where_one_bit_turns_both():
    near = record(screws("a"), screws("b", thread="M1.2", drive="hexalobular 3"))
    assert [pair.thread for pair in mistaken(near)] == ["near"]
    assert mistaken(record(screws("a"), screws("b", thread="M1.2", drive="slot 1.5"))) == ()


def test_an_unknown_length_makes_a_pair_without_a_difference():
    (pair,) = mistaken(record(screws("a"), screws("b", None)))
    assert pair.length_difference_mm is None
    assert pair.told_apart_by == ("length",)


def test_threads_that_are_no_metric_ones_are_compared_by_their_words():
    assert len(mistaken(record(screws("a", thread="own 1.3"), screws("b", 4.0, thread="Own 1.3")))) == 1
    assert mistaken(record(screws("a", thread=""), screws("b", 4.0, thread=""))) == ()
