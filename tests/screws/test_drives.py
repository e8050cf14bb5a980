from __future__ import annotations

import pytest

from midframe.screws.drives import HEXALOBULAR_MM, bit_in, turned_alike

# [iso-10664, table]: nominal A and B in millimetres, and the go gauge across the lobes.
PUBLISHED_MM = {
    3: (1.2, 0.85),
    4: (1.35, 1.0),
    5: (1.5, 1.1),
    6: (1.75, 1.27),
    8: (2.4, 1.75),
    10: (2.8, 2.05),
    15: (3.35, 2.4),
    20: (3.95, 2.85),
}
GO_GAUGE_A_MM = {3: 1.145, 4: 1.305, 5: 1.430, 6: 1.709}


def test_the_sizes_are_those_of_the_standard():
    assert dict(HEXALOBULAR_MM) == PUBLISHED_MM


@pytest.mark.parametrize(("size", "gauge"), GO_GAUGE_A_MM.items())
def test_the_go_gauge_of_a_size_enters_its_own_recess_and_spans_more_than_the_next_smaller(size, gauge):
    assert HEXALOBULAR_MM[size][1] < gauge < HEXALOBULAR_MM[size][0]


@pytest.mark.parametrize(
    ("bit", "screw", "sits"),
    [
        ("hexalobular 4", "hexalobular 4", "fits"),
        ("Hexalobular  4", "hexalobular 4", "fits"),
        ("hexalobular 4", "hexalobular 3", "no"),
        ("hexalobular 3", "hexalobular 4", "loose"),
        ("hexalobular 3", "hexalobular 5", "loose"),
        ("hexalobular 3", "hexalobular 6", "no"),
        ("hexalobular 2", "hexalobular 3", "unknown"),
        ("cross recess 000", "cross recess 00", "loose"),
        ("cross recess 000", "cross recess 1", "no"),
        ("cross recess 00", "hexalobular 4", "no"),
        ("five-lobe 0.8", "five-lobe 1.2", "unknown"),
        ("", "hexalobular 4", "unknown"),
    ],
)
def test_how_a_bit_sits(bit, screw, sits):
    assert bit_in(bit, screw) == sits


def test_one_bit_for_two_screws_is_the_better_of_both_ways_round():
    assert (
        turned_alike("hexalobular 4", "hexalobular 3")
        == turned_alike("hexalobular 3", "hexalobular 4")
        == "loose"
    )
