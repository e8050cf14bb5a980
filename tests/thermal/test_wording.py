from __future__ import annotations

import pytest

from midframe.thermal import Span
from midframe.thermal.wording import figure, per_area, ranged, signed


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (0.0, "0"),
        (0.994, "0.99"),
        (0.996, "1.0"),
        (9.94, "9.9"),
        (9.96, "10"),
        (126.4, "126"),
        (-0.43, "-0.43"),
    ],
)
def test_a_figure_carries_two_digits(value, words):
    assert figure(value) == words


def test_a_range_is_told_once_where_both_ends_are_alike():
    assert ranged(Span(0.4741, 0.4743, 0.4745)) == "0.47"
    assert ranged(Span(0.3, 0.47, 0.66)) == "0.47 (0.3 to 0.66)"


def test_an_area_resistance_is_told_in_square_centimetres():
    assert per_area(Span(0, 1.23e-4, 1)) == "1.2"
    assert per_area(None) == "–"


def test_a_difference_has_a_sign_that_can_be_seen():
    assert (signed(1.0), signed(-1.0)) == ("+1.0", "−1.0")
