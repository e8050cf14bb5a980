from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from midframe.faults import BadSetting
from midframe.thermal import MeterBars, conductivity, impedance, samples_from_csv

BARS = {
    "hot_spacing_mm": 10.0,
    "hot_to_face_mm": 5.0,
    "face_to_cold_mm": 4.0,
    "cold_spacing_mm": 8.0,
    "power_w": 50.0,
    "area_mm2": 625.0,
}


def test_bars_of_known_conductivity_give_back_the_impedance_between_them():
    # 50 W through 625 mm² of bars, k 200: 0.4 K a millimetre; 20 K across the sample.
    bars = MeterBars(t1_c=86.0, t2_c=82.0, t3_c=58.4, t4_c=55.2, **BARS)
    assert impedance(bars) == pytest.approx(20 * 625e-6 / 50)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"t3_c": 90.0}, "T1 > T2 > T3 > T4"),
        ({"power_w": 0.0}, "spacings, power and area above zero"),
        ({"t2_c": 58.5, "t1_c": 86.0}, "a drop across the sample"),
    ],
)
def test_readings_that_cannot_be_are_told(change, words):
    values = {"t1_c": 86.0, "t2_c": 82.0, "t3_c": 58.4, "t4_c": 55.2, **BARS, **change}
    with pytest.raises(BadSetting, match=words):
        impedance(MeterBars(**values))


@given(
    st.lists(
        st.tuples(st.sampled_from([0.25, 0.5, 1.0, 1.5, 2.0, 3.0]), st.floats(-5e-6, 5e-6)),
        min_size=4,
        max_size=12,
    )
)
def test_the_line_and_its_intervals_are_those_of_an_independent_library(rows):  # fmt: skip
    thickness = [t for t, _ in rows]
    if len(set(thickness)) < 2:
        return
    measured = [t / 1000 / 3.0 + 4e-5 + noise for t, noise in rows]
    fit = conductivity(thickness, measured)
    line = stats.linregress(np.array(thickness) / 1000, measured)
    factor = stats.t.ppf(0.975, len(rows) - 2)
    assert fit.conductivity_w_mk == pytest.approx(1 / line.slope, rel=1e-9)
    assert fit.contact_m2k_w == pytest.approx(line.intercept, abs=1e-14)
    assert fit.conductivity_low_w_mk == pytest.approx(1 / (line.slope + factor * line.stderr), rel=1e-6)
    assert fit.contact_high_m2k_w - fit.contact_m2k_w == pytest.approx(
        factor * line.intercept_stderr, abs=1e-9
    )


def test_the_truth_lies_within_the_interval_about_nineteen_times_in_twenty():
    random = np.random.default_rng(5470)
    thickness = [0.5, 0.5, 1.0, 1.0, 2.0, 2.0]
    hits = 0
    for _ in range(1000):
        measured = [
            t / 3000 + 4e-5 + noise for t, noise in zip(thickness, random.normal(0, 5e-6, 6), strict=True)
        ]
        fit = conductivity(thickness, measured)
        hits += fit.conductivity_low_w_mk <= 3.0 <= (fit.conductivity_high_w_mk or np.inf)
    assert 930 <= hits <= 970


def test_two_samples_give_a_line_without_an_interval_and_say_so():
    fit = conductivity([0.5, 1.0], (2.1e-4, 3.7e-4))
    assert fit.conductivity_low_w_mk is None
    assert fit.doubts == ("two samples give a line and no uncertainty: test a third thickness",)


def test_a_contact_below_zero_and_a_wide_slope_are_doubted():
    fit = conductivity([0.5, 1.0, 1.5], (1.0e-4, 3.4e-4, 5.0e-4))
    assert any("below zero" in doubt for doubt in fit.doubts)
    assert any("more than a fifth" in doubt for doubt in fit.doubts)


@pytest.mark.parametrize(
    ("thickness", "measured", "words"),
    [
        ([1.0, 1.0], (1e-4, 2e-4), "two different thicknesses"),
        ([1.0], (1e-4,), "two different thicknesses"),
        ([1.0, 2.0], (2e-4, 1e-4), "no impedance that rises"),
        ([500.0, 1000.0], (1e-4, 2e-4), "0 to 10 mm"),
        ([0.5, 1.0], [0.0, 2e-4], "impedances above zero"),
    ],
)
def test_samples_that_cannot_be_are_told(thickness, measured, words):
    with pytest.raises(BadSetting, match=words):
        conductivity(thickness, measured)


def test_the_unit_in_the_head_of_a_column_decides():
    # 3 W/(m·K) and 0.4 K·cm²/W, told in mil and K·in²/W.
    rows = [(t, (t * 0.0254 / 3000 + 4e-5) / 6.4516e-4) for t in (20, 40, 80)]
    text = "thickness_mil,impedance_in2k_w\n" + "\n".join(f"{t},{z:.9f}" for t, z in rows)
    fit = conductivity(*samples_from_csv(text))
    assert fit.conductivity_w_mk == pytest.approx(3.0, rel=1e-5)
    assert fit.contact_m2k_w == pytest.approx(4e-5, rel=1e-4)


@pytest.mark.parametrize("text", ["thickness_mm\n1\n", "thickness_mm,impedance_m2k_w\n1,2,3\n", "a,b\n1,2\n"])
def test_samples_without_a_column_are_told_with_their_line(text):
    with pytest.raises(BadSetting, match=r"bench\.csv, line 2: found"):
        samples_from_csv(text, "bench.csv")
