from __future__ import annotations

from itertools import product

import pytest

from midframe.faults import UnknownPart
from midframe.record.model import Outcome, Spec
from midframe.trials import CHANGES, OUTCOMES, change, difference, trials, worse
from screws.builders import record

WORKS, WORSE, FAILS = (Outcome(outcome=word) for word in ("works", "worse", "does not work"))


def test_what_is_worse_than_before_comes_first_whatever_the_outcomes():
    ids = [trial.id for trial in trials(record())]
    for before, after in product(product(OUTCOMES, repeat=2), repeat=2):
        sides = [
            {name: Outcome(outcome=word) for name, word in zip(ids, words, strict=False)}
            for words in (before, after)
        ]
        found = difference(record(), *sides)
        order = [CHANGES.index(line.change) for line in found]
        assert order == sorted(order)
        assert len(found) == len(ids)


def test_the_change_of_every_pair_of_outcomes():
    table = {
        "works": ("same", "worse", "worse", "not tried"),
        "worse": ("better", "still not right", "worse", "not tried"),
        "does not work": ("better", "better", "still not right", "not tried"),
        "not tried": ("tried only after", "worse", "worse", "not tried"),
    }
    assert {before: tuple(change(before, after) for after in OUTCOMES) for before in OUTCOMES} == table


def test_faulty_after_and_never_tried_before_counts_as_worse():
    found = difference(record(), {"picture": WORKS}, {"touch": FAILS, "picture": WORKS})
    assert [line.trial.id for line in worse(found)] == ["touch"]


def test_figures_of_one_name_and_unit_stand_side_by_side():
    before = Outcome(outcome="works", figures=(Spec(label="capacity", value=4400.0, unit="mAh"),))
    after = Outcome(
        outcome="works",
        figures=(
            Spec(label="capacity", value=5000.0, unit="mAh"),
            Spec(label="message", value="unknown part"),
        ),
    )
    (found,) = [one for one in difference(record(), {"radio": before}, {"radio": after}) if one.figures]
    assert [(one.label, one.difference) for one in found.figures] == [("capacity", 600.0), ("message", None)]


def test_unknown_checks_are_refused_with_those_that_there_are():
    with pytest.raises(UnknownPart, match="there are touch"):
        difference(record(), {"nothing": WORKS}, {})
