"""Heat under /api: the same bonds and plans as the library and the pages."""

from __future__ import annotations

import time

import pytest

from midframe.demo import load
from midframe.web import heat_asked
from web.conftest import AT


@pytest.fixture
def name(store):
    """A record on the shelf."""
    return store.new(load("tern-3"), at=AT).id


def settled_json(client, address):
    """The answer once it is there."""
    for _ in range(60):
        answer = client.get(address)
        if answer.status_code != 202:
            return answer
        assert answer.headers["location"].endswith(answer.json()["again"])
        time.sleep(0.2)
    raise AssertionError("still computing")


def test_every_bond_is_listed_with_what_it_holds(client, name):
    found = client.get(f"/api/records/{name}/heat").json()["bonds"]
    bonds = {one.id: one for one in load("tern-3").joints if one.kind == "adhesive"}
    assert {one["joint"] for one in found} == set(bonds)
    assert next(one for one in found if one["joint"] == "back-bond")["soft_c"] == 60.0


def test_the_plan_is_that_of_the_library(client, name):
    given = settled_json(client, f"/api/records/{name}/heat/battery-bond?with=hairdryer&limit-cell=55").json()
    plan = heat_asked.plan(
        [load("tern-3")],
        {"joint": "battery-bond", "sources": ["hairdryer"], "limits_c": {"cell": 55.0}},
    )
    best = given["sources"][given["best"]]
    assert best["told"] == plan.best.setting.told
    assert best["soft_seconds"] == pytest.approx(plan.best.window.soft_seconds, abs=0.06)
    assert given["limits"][0]["mark"] == "own"


def test_a_swollen_cell_gets_a_refusal_and_no_times(client, name):
    given = settled_json(client, f"/api/records/{name}/heat/battery-bond?cell=swollen").json()
    assert given["refused"].startswith("No heat")
    assert (given["sources"], given["best"]) == ([], None)


@pytest.mark.parametrize(
    ("address", "status", "words"),
    [
        ("heat/porridge", 404, "a bond of the sheet Heat"),
        ("heat/battery-bond?soft=warm", 422, "right: a temperature"),
        ("heat/battery-bond?cell=fine", 422, "it may be"),
        ("heat/battery-bond?limit-cell=90&with=hairdryer", 422, "right: 25 to 70 °C"),
    ],
)
def test_what_is_wrong_is_told(client, name, address, status, words):
    answer = settled_json(client, f"/api/records/{name}/{address}")
    assert answer.status_code == status
    assert words in answer.json()["fault"]
