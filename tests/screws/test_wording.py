from __future__ import annotations

import msgspec

from midframe.demo import load, names
from midframe.screws import mistaken, tally, wrong_holes
from midframe.screws.wording import harm, hole_name, pair_sentence
from screws.builders import PARTS, record, screws


def told(made):
    return [f"{one.screw} in {hole_name(made, one)}: {harm(one)}" for one in wrong_holes(made)]


def test_what_is_reached_is_named_with_its_distance():
    short = screws("short", 1.8, hole_depth_mm=2.0, spots_mm=((10, 10),))
    assert told(record(short, screws("long", 3.2, hole_depth_mm=3.4))) == [
        "B in Plate: 1.2 mm beyond the hole: reaches Board, right below it",
        "A in Plate: shorter than its own screw by 1.4 mm, 4.7 turns fewer: "
        "4.3 of 9.0 hold, less than one diameter",
    ]


def test_what_is_not_known_is_said():
    assert told(record(screws("a", 1.8), screws("b", 3.0)))[0] == (
        "B in Plate: longer than its own screw by 1.2 mm; the hole's depth is not known"
    )
    flat = tuple(msgspec.structs.replace(part, depth_mm=None) for part in PARTS)
    made = record(
        screws("a", 1.8, hole_depth_mm=2.0, depth_mm=None, spots_mm=((10, 10),)), screws("b", 3.0), parts=flat
    )
    assert "1 mm beyond the hole; Board or Display lies at this place" in told(made)[0]


def test_a_pair_is_told_by_what_differs_and_by_the_bit():
    made = record(screws("a"), screws("b", 3.2, head="flat"))
    kinds = {line.letter: line for line in tally(made).kinds}
    assert [pair_sentence(pair, kinds) for pair in mistaken(made)] == [
        "A (M1.4×3 pan) and B (M1.4×3.2 flat): 0.2 mm apart in length, head differs; one bit turns both"
    ]


def test_every_hazard_and_pair_of_the_demo_devices_has_its_words():
    for name in names():
        device = load(name)
        kinds = {line.letter: line for line in tally(device).kinds}
        sentences = [*told(device), *(pair_sentence(pair, kinds) for pair in mistaken(device))]
        assert all("None" not in text and "nan" not in text for text in sentences)
