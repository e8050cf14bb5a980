"""Ingress ratings held against the two that the act names: IP67 and IP42 (coverage from memory)."""

from __future__ import annotations

import pytest

from midframe.index.findings import ingress_meets, named


@pytest.mark.parametrize(
    ("rating", "ip67", "ip42"),
    [
        ("IP67", True, True),
        ("IP68", True, True),
        ("ip68", True, True),
        ("IP66", False, True),
        ("IP66/IP68", True, True),
        ("IP65/67", True, True),
        ("IP42", False, True),
        ("IP41", False, False),
        ("IP32", False, False),
        ("IPX8", None, None),
        ("IP6X", None, None),
        ("IPX4", False, None),
        ("IP69", None, None),
        ("IP53", False, True),
        ("splash proof", None, None),
    ],
)
def test_a_rating_covers_covers_not_or_does_not_say(rating, ip67, ip42):
    assert ingress_meets(rating, solids=6, water=7) is ip67
    assert ingress_meets(rating, solids=4, water=2) is ip42


def test_names_come_once_in_their_order():
    assert named(["b", "a", "b"]) == "b, a"
