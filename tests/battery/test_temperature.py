from __future__ import annotations

import pytest

from battery.logs import log_of
from midframe.battery import cell_health, given_window


def notes(celsius, ampere=-0.8):
    rows = "".join(f"{60 * at},{3.8 + 0.001 * at * ampere:.4f},{ampere},{celsius}\n" for at in range(241))
    log = log_of("Time (s),U (V),I (A),Temperature (°C)\n" + rows)
    return "; ".join(cell_health(log, 4000, given_window(10, 90)).notes)


@pytest.mark.parametrize(
    ("celsius", "ampere", "words"),
    [
        (10, -0.8, "colder gives less"),
        (31, -0.8, "warmer gives more"),
        (48, 0.8, "makers allow 0 to 45 °C"),
        (-5, 0.8, "makers allow 0 to 45 °C"),
        (62, -0.8, "is left alone"),
    ],
)
def test_a_temperature_that_matters_is_told(celsius, ampere, words):
    assert words in notes(celsius, ampere)


@pytest.mark.parametrize(("celsius", "ampere"), [(15, -0.8), (20, 0.8), (25, -0.8)])
def test_a_usual_temperature_needs_no_word(celsius, ampere):
    assert "°C" not in notes(celsius, ampere)
