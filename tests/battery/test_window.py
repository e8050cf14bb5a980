from __future__ import annotations

import pytest

from midframe.battery.counting import runs
from midframe.battery.log_series import plain_log
from midframe.battery.window import given_window, seen_window
from midframe.faults import BadSetting


def test_the_share_and_its_uncertainty_follow_from_both_ends():
    window = given_window(20, 80, 3)
    assert window.share == pytest.approx(0.6)
    assert window.room == pytest.approx(0.03 * 2**0.5)


@pytest.mark.parametrize(("start", "end"), [(-1, 80), (20, 101), (50, 50)])
def test_percentages_that_cannot_be_are_refused(start, end):
    with pytest.raises(BadSetting, match="right:"):
        given_window(start, end)


def cycle(taper=0.05, cutoff=3.0):
    """A charge to 4.2 V, then a discharge."""
    seconds = [60 * at for at in range(121)]
    amps = [1.0] * 50 + [taper] * 10 + [0.0] + [-1.0] * 60
    volts = (
        [3.5 + 0.012 * at for at in range(60)] + [4.2] + [4.2 - (4.2 - cutoff) * at / 59 for at in range(60)]
    )
    return runs(plain_log(seconds, volts, amps))


def test_a_discharge_after_a_tapered_charge_to_the_cut_off_is_whole():
    charge, discharge = cycle()
    window = seen_window(discharge, charge)
    assert (window.start_percent, window.end_percent) == (100, 0)
    assert "tapered" in window.why


@pytest.mark.parametrize("changed", [{"taper": 0.9}, {"cutoff": 3.4}])
def test_a_discharge_that_does_not_begin_full_or_end_empty_is_not_taken_for_whole(changed):
    charge, discharge = cycle(**changed)
    assert seen_window(discharge, charge) is None
    assert seen_window(discharge, None) is None
    assert seen_window(charge, None) is None
