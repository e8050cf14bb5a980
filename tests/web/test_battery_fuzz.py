"""Whatever is typed into the forms of the battery page is kept or told, and never breaks the page."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from midframe.demo import load
from web.conftest import AT

WORDS = st.text(max_size=15) | st.sampled_from(
    [
        "4880",
        "3.88 V",
        "1e400",
        "nan",
        "-1",
        "battery",
        "t/s",
        "s",
        "V",
        "cell",
        "all_charge",
        "month",
        "②",
        "0",
    ]
)
FIELDS = (
    *(
        "part",
        "nominal",
        "rated",
        "typical",
        "further",
        "energy",
        "limit",
        "series",
        "side",
        "size",
        "mass_g",
    ),
    *(
        "made",
        "place",
        "from",
        "to",
        "efficiency",
        "standby",
        "run",
        "name",
        "percent",
        "cycles",
        "first_use",
    ),
    *("column-time", "unit-time", "column-voltage", "unit-voltage", "column-current", "unit-current"),
    *("sign", "days", "condition", "base"),
)
LOG = b"t/s,U/V,I/mA\n0,4.1,-500\n3600,3.9,-500\n7200,3.6,-500\n"


@pytest.mark.slow
@pytest.mark.parametrize("form", ["label", "log", "device", "condition", "columns", "keep"])
def test_any_form_is_answered_in_words(client, store, form):
    name = store.new(load("tern-3"), at=AT).id
    file = {"log": ("meter.csv", LOG, "text/csv")}
    given_log = client.post(f"/r/{name}/battery/log", data={"part": "battery"}, files=file)
    at_log = given_log.headers["location"].split("?")[0]
    address = f"{at_log}/{form}" if form in ("columns", "keep") else f"/r/{name}/battery/{form}"

    @settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
    @given(st.dictionaries(st.sampled_from(FIELDS), WORDS), st.booleans())
    def answered(fields, sound):
        fields |= {"part": "battery", "base": str(store.head(name))} if sound else {}
        answer = client.post(address, data=fields, files=file if form == "log" else None)
        assert answer.status_code in (303, 404, 413, 422), answer.text[:500]

    answered()


@pytest.mark.slow
def test_any_address_of_a_log_is_answered_in_words(client, store):
    name = store.new(load("tern-3"), at=AT).id
    file = {"log": ("meter.csv", LOG, "text/csv")}
    given_log = client.post(f"/r/{name}/battery/log", data={"part": "battery"}, files=file)
    at_log = given_log.headers["location"].split("?")[0]

    @settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])
    @given(st.dictionaries(st.sampled_from(FIELDS), WORDS), st.booleans())
    def answered(query, sound):
        query |= {"part": "battery"} if sound else {}
        assert client.get(at_log, params=query).status_code in (200, 202, 404, 422)
        assert client.get(f"/r/{name}/battery", params=query).status_code in (200, 404)

    answered()
