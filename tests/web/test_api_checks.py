"""Screws, function checks and seal tests as JSON: what the library says, kept as revisions."""

from __future__ import annotations

import pytest

from midframe import demo
from midframe.screws import tally, wrong_holes
from midframe.trials import trials
from web.conftest import AT

TEST = {"volume_ml": 10, "seconds": [0, 60], "pressure_pa": [111_325, 111_275], "celsius": [20, 20]}


@pytest.fixture
def phone(store):
    return store.new(demo.load("tern-3"), at=AT).id


def test_the_screws_are_those_of_the_library(client, phone):
    given, record = client.get(f"/api/records/{phone}/screws").json(), demo.load("tern-3")
    assert given["tally"]["count"] == tally(record).count
    assert [one["effect"] for one in given["wrong_holes"]] == [one.effect for one in wrong_holes(record)]
    assert all(one["torque"]["torque_nm"] > 0 for one in given["torques"])


def test_an_answer_is_kept_and_what_is_worse_is_named(client, store, phone):
    address = f"/api/records/{phone}/trials"
    for when, outcome in (("before", "works"), ("after", "does not work")):
        body = {"check": "touch", "when": when, "outcome": {"outcome": outcome, "note": "seen"}, "key": when}
        assert client.post(address, json=body).status_code == 200
        assert client.post(address, json=body).json()["repeated"]
    given = client.get(address).json()
    assert given["worse"] == ["touch"]
    assert [one["id"] for one in given["trials"]] == [one.id for one in trials(demo.load("tern-3"))]
    assert store.history(phone)[0].summary == "Function check touch, after the job: does not work"
    taken_back = {"check": "touch", "when": "after", "outcome": None}
    client.post(address, json=taken_back)
    assert client.get(address).json()["worse"] == []


@pytest.mark.parametrize(
    ("body", "status", "words"),
    [
        ({"check": "hinge", "when": "after", "outcome": {"outcome": "works"}}, 404, "no check 'hinge'"),
        ({"check": "touch", "when": "during", "outcome": None}, 422, "during"),
        ({"check": "touch", "when": "after", "outcome": {"outcome": "fine"}}, 422, "fine"),
    ],
)
def test_an_answer_that_cannot_be_is_told(client, phone, body, status, words):
    answer = client.post(f"/api/records/{phone}/trials", json=body)
    assert answer.status_code == status
    assert words in answer.json()["fault"]


def test_a_seal_test_is_kept_with_its_result(client, store, phone):
    address = f"/api/records/{phone}/seal-tests"
    assert client.post(address, json=TEST).status_code == 201
    (given,) = client.get(address).json()["tests"]
    assert given["found"]["rate_pa_m3_s"] == pytest.approx(8.333e-6, rel=1e-3)
    assert "restores no rating" in given["found"]["statement"]
    assert store.get(phone).record.seal_tests[0].pressure_pa == (111_325, 111_275)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"pressure_pa": [111_325]}, "1 values for 2 times"),
        ({"seconds": [60, 0]}, "rising seconds"),
        ({"seconds": [0, 1e-9]}, "seconds to minutes"),
        ({"volume_ml": 1e6}, "at most 100000 mL"),
        ({"gas": "neon"}, "neon"),
        ({"celsius": [20]}, "1 values for 2 times"),
    ],
)
def test_a_seal_test_that_cannot_be_is_refused_and_nothing_is_kept(client, store, phone, change, words):
    answer = client.post(f"/api/records/{phone}/seal-tests", json={**TEST, **change})
    assert answer.status_code == 422
    assert words in answer.json()["fault"]
    assert store.get(phone).record.seal_tests == ()
