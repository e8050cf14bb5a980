"""How regulations are found and held against one device."""

from __future__ import annotations

import sys
import tomllib
from importlib.metadata import EntryPoint
from pathlib import Path
from types import SimpleNamespace

import pytest

from index.builders import all_parts, device
from midframe.faults import BadSetting
from midframe.index.regulations import GROUP, OWN, Regulation, judge_all, loaded, regulations
from midframe.index.results import Judgement
from midframe.sources import sources

ROOT = Path(__file__).parents[2]


class Elsewhere:
    """A regulation of another package."""

    def judge(self, device):
        return Judgement(key="x", title="X", applies=False, applies_because="not here", consolidation="")


class Nothing:
    """Something that is no regulation."""


def point(name, value):
    return EntryPoint(name=name, value=value, group=GROUP)


def test_the_entry_points_of_the_package_are_our_own_three():
    table = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["entry-points"][GROUP]
    assert table == dict(OWN)


def test_every_key_is_a_source_and_every_regulation_has_its_one_method():
    assert set(regulations()) <= set(sources())
    assert all(isinstance(one, Regulation) for one in regulations().values())


def test_all_three_judge_one_device_and_say_where_they_stand():
    judgements = judge_all(device(all_parts()))
    assert [one.key for one in judgements] == [name for name, _ in OWN]
    assert all(one.applies and one.applies_because and one.sources for one in judgements)
    assert judgements[0].index is not None
    assert judgements[0].index.consolidation == "consolidation of 10.05.2026"
    assert {one.disclaimer for one in judgements} == {"A finding from the data given, not legal advice."}
    assert all(set(one.sources) <= set(sources()) for one in judgements)


def test_a_regulation_of_another_package_joins_by_its_entry_point(monkeypatch):
    monkeypatch.setitem(sys.modules, "elsewhere", SimpleNamespace(Rule=Elsewhere))
    found = loaded([point("x-1", "elsewhere:Rule")])
    assert not judge_all(device([]), found.values())[0].applies


def test_the_same_place_twice_is_one_regulation_and_two_places_are_a_fault():
    own = point(*OWN[0])
    assert list(loaded([own, own])) == [OWN[0][0]]
    with pytest.raises(BadSetting, match="claimed by"):
        loaded([own, point(OWN[0][0], "elsewhere:Rule")])


def test_something_without_judge_is_refused_by_name(monkeypatch):
    monkeypatch.setitem(sys.modules, "elsewhere", SimpleNamespace(Rule=Nothing))
    with pytest.raises(BadSetting, match=r"x-1.*no method judge"):
        loaded([point("x-1", "elsewhere:Rule")])
