"""The hub of the checks: every page of the list is there and leads back."""

from __future__ import annotations

import re

import pytest

from midframe.demo import load
from web.conftest import AT


@pytest.fixture
def address(store):
    return f"/r/{store.new(load('tern-3'), at=AT).id}"


def test_every_page_of_the_list_is_there_and_names_the_others(client, address):
    hub = client.get(f"{address}/checks")
    assert hub.status_code == 200
    pages = set(re.findall(rf'class="to" href="({address}/[a-z]+)"', hub.text))
    assert {f"{address}/trials", f"{address}/seal"} <= pages
    for one in pages:
        page = client.get(one)
        assert page.status_code in (200, 202), one
        assert f'href="{one}" aria-current="page"' in page.text, one
        assert f'href="{address}/checks"' in page.text, one
