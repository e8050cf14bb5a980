from __future__ import annotations

import pytest

from midframe.seal import meniscus_pa, water_ml

# Drops through a hole of so many µm under 100 mbar in 30 minutes [leak-capillary-2020, table].
DROPS = {20: 0, 25: 3, 40: 20, 100: 560}


@pytest.mark.parametrize(("diameter", "kpa"), [(10, 29.1), (20, 14.6), (29, 10.0), (40, 7.3)])
def test_the_threshold_of_a_meniscus(diameter, kpa):
    # Computed once by hand: 4 · 0.0728 N/m over the diameter.
    assert meniscus_pa(diameter) / 1000 == pytest.approx(kpa, abs=0.06)


@pytest.mark.parametrize(
    ("diameter", "told"), [(10, 0.0043), (20, 0.069), (30, 0.35), (40, 1.1), (100, 43.0)]
)
def test_the_water_that_runs_in_half_an_hour_at_one_metre(diameter, told):
    assert water_ml(diameter) == pytest.approx(told, rel=0.03)


def test_the_published_drops_are_of_one_size_once_the_hole_is_wide():
    # The same pressure for the same time: 100 mbar is 1.02 m of water. A drop is some 0.05 mL (textbook).
    for diameter in (40, 100):
        assert 0.03 < water_ml(diameter, depth_m=1.02) / DROPS[diameter] < 0.1


def test_the_published_critical_hole_lies_below_the_bound_of_a_hole_that_is_not_wetted():
    # Just below 20 µm no drop falls [leak-capillary-2020, table]; with cos θ = 1 the bound is 29 µm.
    bound_um = 20 * meniscus_pa(20) / 9_810
    assert 20 < bound_um < 30
