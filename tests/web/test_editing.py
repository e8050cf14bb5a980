"""Editing: one form for each thing; faults beside their fields; two screens lose nothing."""

from __future__ import annotations

import re

import pytest

from midframe.demo import load
from web.conftest import AT


@pytest.fixture
def record(store):
    return store.new(load("tern-2"), at=AT).id


def fields_of(page):
    """Every field of the main form as a browser would send it."""
    form = re.search(r"<form[^>]*method=\"post\"[^>]*>(.*?)</form>", page, re.DOTALL)[1]
    found = {}
    for tag in re.findall(r"<input[^>]*>", form):
        named = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        if named.get("type") in ("checkbox", "radio") and " checked" not in tag:
            continue
        if "name" in named:
            found.setdefault(named["name"], []).append(named.get("value", ""))
    for name, body in re.findall(r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', form, re.DOTALL):
        chosen = re.search(r'<option value="([^"]*)" selected', body)
        found[name] = [chosen[1] if chosen else re.search(r'value="([^"]*)"', body)[1]]
    for name, body in re.findall(r'<textarea[^>]*name="([^"]+)"[^>]*>(.*?)</textarea>', form, re.DOTALL):
        found[name] = [body.strip()]
    return found


def part(store, record, name):
    return next(one for one in store.get(record).record.parts if one.id == name)


def test_the_sheet_names_every_part_and_joint(client, record):
    page = client.get(f"/r/{record}/parts").text
    for one in load("tern-2").parts:
        assert f'id="part-{one.id}"' in page
    for one in load("tern-2").joints:
        assert f'id="joint-{one.id}"' in page


def test_a_mass_is_changed_and_all_else_stays(client, store, record):
    address = f"/r/{record}/edit/parts/battery"
    fields = fields_of(client.get(address).text)
    before = part(store, record, "battery")
    fields["mass_g"] = ["55.5"]
    assert client.post(address, data=fields).status_code == 303
    after = part(store, record, "battery")
    assert after.mass_g == 55.5
    assert (after.name, after.under, after.spare, after.price) == (
        before.name, before.under, before.spare, before.price,
    )  # fmt: skip


def test_a_figure_that_is_none_is_told_beside_its_field_and_kept_in_it(client, store, record):
    address = f"/r/{record}/edit/parts/battery"
    fields = fields_of(client.get(address).text)
    fields["mass_g"] = ["heavy"]
    answer = client.post(address, data=fields)
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.text
    assert 'value="heavy"' in answer.text
    assert store.get(record).revision == 1


@pytest.mark.parametrize("address", ["edit/device", "edit/joints/new", "edit/parts/new", "edit/seals/new"])
def test_every_form_opens(client, record, address):
    assert client.get(f"/r/{record}/{address}").status_code == 200


def test_what_is_not_there_is_told(client, record):
    assert client.get(f"/r/{record}/edit/parts/nothing").status_code == 404
    assert client.get(f"/r/{record}/edit/cows/new").status_code == 404


def test_two_screens_that_change_different_fields_both_count(client, store, record):
    address = f"/r/{record}/edit/parts/battery"
    first, second = fields_of(client.get(address).text), fields_of(client.get(address).text)
    first["mass_g"], second["price"] = ["55.5"], ["31"]
    client.post(address, data=first)
    client.post(address, data=second)
    battery = part(store, record, "battery")
    assert (battery.mass_g, battery.price) == (55.5, 31.0)


def test_two_screens_that_change_the_same_field_lose_neither(client, store, record):
    address = f"/r/{record}/edit/parts/battery"
    first, second = fields_of(client.get(address).text), fields_of(client.get(address).text)
    first["mass_g"], second["mass_g"] = ["55.5"], ["56.5"]
    client.post(address, data=first)
    answer = client.post(address, data=second)
    assert answer.headers["location"] == f"/r/{record}/versions"
    (aside,) = store.beside(record)
    assert (aside.theirs, aside.mine) == (55.5, 56.5)
