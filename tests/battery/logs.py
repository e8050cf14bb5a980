"""Logs for the tests: the open ones where they are, and small ones made on the spot."""

from __future__ import annotations

from pathlib import Path

import pytest

from midframe.battery.log_mapping import propose
from midframe.battery.log_series import series
from midframe.battery.log_table import read_table

HERE = Path(__file__).parent / "data" / "cell_logs"
SHARED = Path(__file__).parents[3] / "shared" / "data" / "cell_logs"


def excerpt():
    """The steps of the cycler's log that lie beside the tests."""
    return (HERE / "current_steps.csv").read_bytes()


def whole(name):
    """A whole open log, where it is at hand; else the test is skipped with the reason."""
    path = SHARED / name
    if not path.exists():
        pytest.skip(f"the open log {name} is not at hand: only an excerpt of it lies in this repository")
    return path.read_bytes()


def log_of(data, file="log.csv"):
    """The figures of a log as its own proposal reads it."""
    table = read_table(data if isinstance(data, bytes) else data.encode(), file)
    return series(table, propose(table))


def steady_log(hours=1.0, volt=3.7, ampere=-0.5, rows=361, header="Time (s),Voltage (V),Current (A)"):
    """A log of one steady current."""
    step = hours * 3600 / (rows - 1)
    return "\n".join([header, *(f"{step * at:.3f},{volt},{ampere}" for at in range(rows))]) + "\n"
