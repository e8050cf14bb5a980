from __future__ import annotations

import pytest

from midframe import demo
from midframe.heat.model import heat_model


@pytest.fixture(scope="session")
def back_bond():
    """The bond of the back cover of the demo phone."""
    return heat_model(demo.load("tern-3"), "back-bond")


@pytest.fixture(scope="session")
def strip():
    """The stretch strips under the battery of the demo phone."""
    return heat_model(demo.load("tern-3"), "battery-bond")
