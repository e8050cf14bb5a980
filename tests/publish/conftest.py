from __future__ import annotations

from functools import cache

import pytest

from midframe.demo import load
from midframe.publish import instruction, to_html
from midframe.ways.solve import solve


@cache
def record_and_way(device, target):
    record = load(device)
    return record, solve(record, target, limit=20_000)


@cache
def page_of(device, target, paper="A4", language="en"):
    return to_html(instruction(*record_and_way(device, target), language=language), paper)


@pytest.fixture
def way_of():
    """Record and way of a demo device, solved once."""
    return record_and_way


@pytest.fixture
def html_of():
    """The page of a demo device, rendered once."""
    return page_of
