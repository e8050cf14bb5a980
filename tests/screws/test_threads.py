from __future__ import annotations

import math

import pytest

from midframe.screws.threads import COARSE_PITCH_MM, Thread, starts_in, thread_of, turns

# Pitch diameter of screws without allowance (6h), upper limit: equals the basic one
# [iso-965-2, table of coarse threads, rows M1, M1.2, M1.4].
BASIC_PITCH_DIAMETER_MM = {1.0: 0.838, 1.2: 1.038, 1.4: 1.205}

# The same with the allowance of 6g, rows M1.6 to M3: upper limits of major and pitch diameter
# [iso-965-2, table of coarse threads].
WITH_ALLOWANCE_MM = {
    1.6: (1.581, 1.354),
    1.8: (1.781, 1.554),
    2.0: (1.981, 1.721),
    2.5: (2.480, 2.188),
    3.0: (2.980, 2.655),
}

# Nominal stress areas, mm² [iso-898-1, table of tensile loads, rows M3, M4, M5 with their coarse pitch].
STRESS_AREA_MM2 = {(3.0, 0.5): 5.03, (4.0, 0.7): 8.78, (5.0, 0.8): 14.2}

# Coarse and fine pitches, read off the chart [thread-sizes-chart, rows 1.00 to 2.00].
CHART_PITCHES_MM = {1.0: 0.25, 1.1: 0.25, 1.2: 0.25, 1.4: 0.3, 1.6: 0.35, 1.8: 0.35, 2.0: 0.4}

# Pitches of the selection series [iso-965-2, selection series for coarse threads, ISO 262].
PITCHES_MM = {1.0: 0.25, 1.2: 0.25, 1.4: 0.3, 1.6: 0.35, 1.8: 0.35, 2.0: 0.4, 2.5: 0.45}


def test_the_coarse_pitches_are_those_of_the_standard():
    assert {size: COARSE_PITCH_MM[size] for size in PITCHES_MM} == PITCHES_MM


def test_the_coarse_pitches_are_those_of_the_chart_too():
    assert {size: COARSE_PITCH_MM[size] for size in CHART_PITCHES_MM} == CHART_PITCHES_MM


@pytest.mark.parametrize(("thread", "area"), STRESS_AREA_MM2.items())
def test_the_stress_area_is_that_of_the_standard(thread, area):
    assert Thread(*thread).stress_area_mm2 == pytest.approx(area, abs=0.03)


@pytest.mark.parametrize(("size", "expected"), BASIC_PITCH_DIAMETER_MM.items())
def test_the_pitch_diameter_is_that_of_the_standard(size, expected):
    assert Thread(size, COARSE_PITCH_MM[size]).pitch_diameter_mm == pytest.approx(expected, abs=0.0006)


@pytest.mark.parametrize(("size", "limits"), WITH_ALLOWANCE_MM.items())
def test_the_allowance_that_the_standard_takes_off_is_the_same_for_both_diameters(size, limits):
    major, pitch = limits
    thread = Thread(size, COARSE_PITCH_MM[size])
    assert size - major == pytest.approx(thread.pitch_diameter_mm - pitch, abs=0.0011)


def test_the_stress_area_is_that_of_the_mean_of_pitch_and_root_diameter():
    # As = π/4 ((d2 + d3)/2)² with d3 = d1 − H/6, written with the heights of the profile.
    for size, pitch in PITCHES_MM.items():
        thread, high = Thread(size, pitch), math.sqrt(3) / 2 * pitch
        root = thread.minor_mm - high / 6
        area = math.pi / 4 * ((thread.pitch_diameter_mm + root) / 2) ** 2
        assert thread.stress_area_mm2 == pytest.approx(area, rel=2e-4)


@pytest.mark.parametrize("text", ["", "1.4", "M", "M9.9", "hexalobular 4", "M1.4x"])
def test_what_is_no_known_metric_thread_is_none(text):
    assert thread_of(text) is None


def test_a_designation_with_a_pitch_is_read_whatever_the_sign():
    assert thread_of("M1.4×0.2") == thread_of("m 1.4 X 0.2") == Thread(1.4, 0.2, coarse=False)
    assert thread_of("M1.4×0.3") == Thread(1.4, 0.3)


def test_a_screw_starts_only_in_its_own_thread_and_bites_askew_in_the_next_larger_one():
    coarse = {size: Thread(size, pitch) for size, pitch in PITCHES_MM.items()}
    assert starts_in(coarse[1.4], coarse[1.4]) == "fits"
    assert starts_in(coarse[1.4], coarse[1.6]) == "askew"
    assert starts_in(coarse[1.6], coarse[1.4]) == "refused"
    assert starts_in(coarse[1.2], coarse[1.6]) == "drops"
    assert starts_in(Thread(1.4, 0.2, coarse=False), coarse[1.4]) == "askew"


def test_turns_are_length_over_pitch():
    assert turns(1.2, Thread(1.4, 0.3)) == 4.0
