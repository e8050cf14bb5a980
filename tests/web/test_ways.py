"""Device and ways as pages: what the library says, every choice checked, a stop that holds."""

from __future__ import annotations

import pytest

from midframe.demo import load
from midframe.ways.solve import Planner
from midframe.web.pages.ways import sorted_rows, sorting
from web.conftest import AT, settled


@pytest.fixture
def name(store):
    """A record on the shelf."""
    return store.new(load("heron-tab"), at=AT).id


def test_the_way_of_a_part_has_every_move_of_the_library(client, name):
    page = settled(client, f"/r/{name}/ways/battery")
    way = Planner(load("heron-tab")).way("battery")
    assert page.status_code == 200
    assert page.text.count('class="move" id="move-') >= len(way.moves)


def test_unknown_parts_and_the_body_have_no_way(client, name):
    body = load("heron-tab").device.body
    assert client.get(f"/r/{name}/ways/nothing").status_code == 404
    assert client.get(f"/r/{name}/ways/{body}").status_code == 404


@pytest.mark.parametrize("query", ["by=beauty", "reading=moon", "sort=colour"])
def test_a_choice_that_is_none_is_refused_with_what_it_may_be(client, name, query):
    page = client.get(f"/r/{name}/ways?{query}")
    assert page.status_code == 422
    assert "it may be" in page.text


def test_a_column_sorts_both_ways():
    from midframe.dossier.summary import way_rows

    record = load("heron-tab")
    rows = way_rows(record, Planner(record))
    (up,) = sorted_rows(record, rows, *sorting("seconds")[:1], down=False)
    (down,) = sorted_rows(record, rows, "seconds", down=True)
    seconds = [row.seconds for row in up if row.seconds is not None]
    assert seconds == sorted(seconds)
    assert [row.seconds for row in down if row.seconds is not None] == seconds[::-1]


def test_stopping_leads_back_to_a_page_of_this_bench_only(client):
    for back in ("https://example.invalid/", "//example.invalid", "/r/\\example"):
        assert client.post("/answers/none/stop", data={"back": back}).headers["location"] == "/"
