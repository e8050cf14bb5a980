"""What the shelf shows of a record follows its changes, in the background."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from midframe.demo import load
from midframe.dossier.index import device_index
from midframe.web.answers import Answers
from midframe.web.summaries import Summaries
from web.conftest import AT


@pytest.fixture
def summaries(store):
    answers = Answers(1)
    yield Summaries(store, answers)
    answers.close()


@pytest.mark.slow
def test_a_record_gets_its_class_and_drawing_and_again_after_a_change(store, summaries):
    kept = store.new(load("tern-2"), at=AT)
    assert summaries.look() == 1
    (row,) = store.shelf().rows
    index = device_index(load("tern-2")).index
    assert row.index_class == index.value.repair_class
    assert row.index_value == pytest.approx(float(index.value.exact))
    assert row.drawing.startswith("<svg")
    assert summaries.look() == 0
    record = store.get(kept.id).record
    store.save(kept.id, replace(record, device=replace(record.device, updates_years=1)), base=1, at=AT)
    assert summaries.look() == 1
    assert store.shelf().rows[0].index_value != row.index_value


@pytest.mark.slow
def test_what_is_put_away_is_left_alone(store, summaries):
    kept = store.new(load("tern-2"), at=AT)
    store.remove(kept.id, at=AT)
    assert summaries.look() == 0
