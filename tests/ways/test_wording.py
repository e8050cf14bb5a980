from __future__ import annotations

import pytest

from midframe.record.model import Joint
from midframe.ways.count import count
from midframe.ways.wording import cost_words, difference, few, in_sentence, joint_words, part_words
from ways.records import joint, lifted, opened, part, record, work


@pytest.mark.parametrize(
    ("steps", "seconds", "words"),
    [
        (0, 0.0, "as many steps, as many seconds"),
        (1, -129.0, "1 step more, 129 s less"),
        (-2, 3.25, "2 steps less, 3.25 s more"),
        (0, 0.0001, "as many steps, 0.0001 s more"),
    ],
)
def test_costs_beside_one_another_in_words(steps, seconds, words):
    assert cost_words(steps, seconds) == words


def test_long_rows_are_cut_with_their_number():
    assert few(("a", "b", "c", "d")) == "a, b, c and d"
    assert few(("a", "b", "c", "d", "e")) == "a, b, c and 2 more"


def test_names_stand_in_a_sentence_and_abbreviations_stay():
    assert [in_sentence(name) for name in ("Main board", "SIM tray", "X", "")] == [
        "main board",
        "SIM tray",
        "x",
        "",
    ]
    assert joint_words(Joint(id="lid_glue-2", kind="adhesive", holds=())) == "lid glue 2"
    assert joint_words(Joint(id="a", kind="adhesive", holds=(), name="Lid bond")) == "lid bond"


def test_an_unknown_id_stands_for_itself():
    assert part_words(record([], []), ["nothing"]) == ("the nothing",)


def two_routes():
    """A cell that comes out once either of two covers is off."""
    pads = [
        joint(f"{name}-pad", f"{name} frame", face=face, work=((work("pry", ["spudger"], 10.0),),))
        for name, face in (("front", "front"), ("back", "back"), ("cell", None))
    ]
    return record(
        [part("front", face="front"), part("back", face="back"), part("cell", ["front", "back"])], pads
    )


def test_only_parts_that_are_a_choice_are_named_where_there_is_a_choice():
    whole = two_routes()
    ways = [
        count(whole, (opened(f"{name}-pad"), lifted(name), opened("cell-pad"), lifted("cell")))
        for name in ("back", "front")
    ]
    found = difference(whole, *ways)
    assert found.text == "from the back, through the back instead of the front: as many steps, 3 s more"
    assert (found.lifts, found.spares, found.first_face) == (("back",), ("front",), "back")


def test_the_same_moves_in_another_order_are_told_as_such():
    whole = two_routes()
    one = (opened("front-pad"), opened("back-pad"), lifted("back"), lifted("front"))
    other = (opened("back-pad"), opened("front-pad"), lifted("front"), lifted("back"))
    assert difference(whole, count(whole, one), count(whole, other)).text.startswith("in another order: ")


def test_work_added_and_work_spared_are_told_apart():
    whole = two_routes()
    short = count(whole, (opened("back-pad"), lifted("back")))
    long = count(whole, (opened("back-pad"), lifted("back"), opened("front-pad"), lifted("front")))
    assert difference(whole, long, short).text.startswith("the front lifted besides: ")
    assert difference(whole, short, long).text.startswith("the front left in place: ")
