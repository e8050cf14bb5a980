"""The seal page: typed or CSV, faults told with their place, nothing typed lost, results kept."""

from __future__ import annotations

import re

import pytest

from midframe.demo import load
from midframe.seal import result_of
from midframe.store import Store
from web.conftest import AT

SETUP = {
    "unit": "kPa",
    "time_unit": "s",
    "temperature_unit": "°C",
    "gauge": "yes",
    "volume_ml": "10",
    "ambient_hpa": "1013,25",
    "volume_percent": "5",
    "pressure_pa": "5",
    "kelvin": "0.05",
}
ROWS = {
    "time": ["0", "60", ""],
    "pressure": ["10", "9,95", ""],
    "temperature": ["20", "20", ""],
}


@pytest.fixture
def kept(store):
    return store.new(load("tern-3"), at=AT).id


def post(client, name, do="keep", files=None, **changed):
    page = client.get(f"/r/{name}/seal").text
    hidden = dict(re.findall(r'name="(base|key)" value="([^"]*)"', page))
    data = {**hidden, **SETUP, **ROWS, "do": do, **changed}
    # An empty part makes the form multipart, as the browser sends it.
    files = files or {"file": ("", b"", "application/octet-stream")}
    return client.post(f"/r/{name}/seal", data=data, files=files)


def test_a_typed_test_is_kept_with_the_record_and_still_there_in_a_store_opened_again(
    client, store, kept, tmp_path
):
    assert post(client, kept, note="chamber 2").status_code == 303
    (test,) = store.get(kept).record.seal_tests
    assert test.pressure_pa == (111_325.0, 111_275.0)
    assert (test.note, test.gauge, test.unit) == ("chamber 2", True, "kPa")
    assert result_of(test).rate_pa_m3_s == pytest.approx(8.333e-6, rel=1e-3)
    other = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    assert other.get(kept).record.seal_tests == (test,)
    other.close()
    page = client.get(f"/r/{kept}/seal").text
    assert "8.33e-06" in page
    assert "It restores no rating" in page
    assert "<title>Decay of the seal test</title>" in page
    assert "below the limit for the bench" in client.get(f"/r/{kept}/checks").text


def test_only_computing_shows_the_result_and_keeps_nothing(client, store, kept):
    told = post(client, kept, do="compute")
    assert told.status_code == 200
    assert "Not kept yet" in told.text
    assert 'value="9,95"' in told.text
    assert store.get(kept).record.seal_tests == ()


def test_faults_in_rows_and_fields_are_all_told_and_nothing_typed_is_lost(client, store, kept):
    told = post(
        client, kept, volume_ml="ten", time=["0", "x", "90"], pressure=["10", "9", ""], note="third try"
    )
    assert told.status_code == 422
    for piece in (
        "row 2, time: found &#39;x&#39;; right: a number in s",
        "row 3, pressure: found nothing; right: a number in kPa",
        "Free volume in mL: found &#39;ten&#39;",
        'value="x"',
        'value="ten"',
        "third try</textarea>",
    ):
        assert piece in told.text, piece
    assert told.text.count('aria-invalid="true"') == 4
    assert store.get(kept).record.seal_tests == ()


def test_a_bad_csv_is_told_with_line_and_column_and_its_text_stands_in_the_form(client, store, kept):
    text = "seconds;pressure (mbar)\n0;1113\n60;eleven\n"
    told = post(client, kept, files={"file": ("decay.csv", text.encode(), "text/csv")})
    assert told.status_code == 422
    assert "line 3, column 2 (pressure): found &#39;eleven&#39;; right: a number in mbar" in told.text
    assert "60;eleven</textarea>" in told.text
    assert store.get(kept).record.seal_tests == ()


def test_a_csv_counts_in_place_of_the_rows(client, store, kept):
    text = "seconds,pressure (mbar),celsius\n0,100,20\n30,99.9,20\n60,99.5,20\n"
    assert post(client, kept, files={"file": ("decay.csv", text.encode(), "text/csv")}).status_code == 303
    (test,) = store.get(kept).record.seal_tests
    assert test.seconds == (0.0, 30.0, 60.0)
    assert test.pressure_pa[0] == pytest.approx(111_325.0)


def test_pasted_text_counts_too(client, store, kept):
    assert post(client, kept, csv="minutes,pressure\n0,10\n1,9.9\n").status_code == 303
    assert store.get(kept).record.seal_tests[0].seconds == (0.0, 60.0)


def test_readings_that_cannot_be_are_told_by_the_library(client, kept):
    told = post(client, kept, time=["0"], pressure=["10"], temperature=[""])
    assert told.status_code == 422
    assert "readings: found 1; right: two or more" in told.text


def test_more_rows_lose_nothing(client, kept):
    told = post(client, kept, do="more")
    assert told.status_code == 200
    assert told.text.count('name="pressure"') == 3 + 8
    assert 'value="9,95"' in told.text


def test_the_next_test_begins_with_the_setup_of_the_last(client, kept):
    post(client, kept, volume_ml="12.5", ambient_hpa="990", pressure_pa="3")
    page = client.get(f"/r/{kept}/seal").text
    for value in ("12.5", "990", "3"):
        assert f'value="{value}"' in page


def test_a_test_taken_out_comes_back_by_undo(client, store, kept):
    post(client, kept)
    page = client.get(f"/r/{kept}/seal").text
    _, address, form = re.split(r"(/seal/seal-\d+/remove)", page)
    fields = dict(re.findall(r'name="(base|key)" value="([^"]*)"', form))
    assert client.post(f"/r/{kept}{address}", data=fields).status_code == 303
    assert store.get(kept).record.seal_tests == ()
    assert client.post(f"/r/{kept}/seal/seal-9/remove", data={**fields, "key": "x"}).status_code == 404
    store.undo(kept, at=AT)
    assert len(store.get(kept).record.seal_tests) == 1


def test_a_kept_test_whose_figures_cannot_be_says_so_and_the_page_stands(client, store, kept):
    post(client, kept)
    record = store.get(kept).record
    import msgspec

    bad = msgspec.structs.replace(record.seal_tests[0], pressure_pa=(101_325.0, 101_325.0))
    store.save(kept, msgspec.structs.replace(record, seal_tests=(bad,)), base=store.head(kept), at=AT)
    page = client.get(f"/r/{kept}/seal")
    assert page.status_code == 200
    assert "found no difference to the ambient pressure" in page.text
    assert client.get(f"/r/{kept}/checks").status_code == 200


def test_a_swollen_cell_in_the_record_forbids_the_test(client, store, kept):
    import msgspec

    record = store.get(kept).record
    parts = tuple(
        msgspec.structs.replace(one, condition="swollen") if one.id == "battery" else one
        for one in record.parts
    )
    store.save(kept, msgspec.structs.replace(record, parts=parts), base=store.head(kept), at=AT)
    assert "Battery is damaged or swollen in the record: no test" in client.get(f"/r/{kept}/seal").text


def test_the_kept_tests_alone_are_what_another_screen_fetches_when_one_is_kept(client, kept):
    post(client, kept)
    part = client.get(f"/r/{kept}/seal?block=kept", headers={"Swap": "kept-tests"})
    assert part.headers["fragment"] == "kept"
    assert "<textarea" not in part.text
    assert "8.33e-06" in part.text


def test_two_tests_kept_from_the_same_page_on_two_screens_both_stand(client, store, kept):
    page = client.get(f"/r/{kept}/seal").text
    base = re.search(r'name="base" value="([^"]*)"', page)[1]
    for key, volume in (("first", "10"), ("second", "12")):
        answer = post(client, kept, base=base, key=key, volume_ml=volume)
        assert answer.headers["location"] == f"/r/{kept}/seal"
    assert sorted(test.volume_ml for test in store.get(kept).record.seal_tests) == [10, 12]
    assert store.beside(kept) == ()
