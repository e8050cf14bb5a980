from __future__ import annotations

import math

import pytest

from midframe.screws import Kind, mass_g
from midframe.screws.mass import PAN_HEAD_MM

# Pan heads type 1, D and H in millimetres [jis-b-1012, M1.2 to M2].
PUBLISHED_MM = {1.2: (1.8, 0.45), 1.4: (2.0, 0.5), 1.6: (2.4, 0.55), 2.0: (3.0, 0.6)}


def test_the_heads_are_those_of_the_standard():
    assert dict(PAN_HEAD_MM) == PUBLISHED_MM


def test_the_mass_lies_between_the_bare_core_and_a_full_cylinder():
    for size, (wide, high) in PUBLISHED_MM.items():
        mass = mass_g(Kind("", f"M{size:g}", "pan", 3.0))
        head = math.pi / 4 * wide**2 * high
        core, full = (math.pi / 4 * d**2 * 3.0 for d in (size - 0.5, size))
        assert 7.85e-3 * (core + head) < mass < 7.85e-3 * (full + head)


def test_a_countersunk_screw_of_the_same_length_is_lighter():
    pan, sunk = (mass_g(Kind("", "M1.4", head, 3.0)) for head in ("pan", "countersunk"))
    assert sunk < pan


def test_no_mass_without_thread_or_length():
    assert mass_g(Kind("", "", "pan", 3.0)) is None
    assert mass_g(Kind("", "M1.4", "pan", None)) is None


def test_a_millimetre_more_weighs_its_stress_area():
    longer = mass_g(Kind("", "M1.4", "pan", 4.0)) - mass_g(Kind("", "M1.4", "pan", 3.0))
    assert longer == pytest.approx(7.85e-3 * 0.983, rel=1e-3)
