from __future__ import annotations

import io
import re

import msgspec
import pytest
from PIL import Image, ImageDraw
from starlette.datastructures import QueryParams

from battery.logs import steady_log
from midframe.battery import ReadLabel, figures_in, kept_of
from midframe.demo import load
from midframe.photos import clean
from midframe.record.draft import with_part
from midframe.record.model import Measurement, Photo
from midframe.web.answers import Answer
from midframe.web.battery_forms import asked_of, log_fields
from web.conftest import AT, settled

CYCLE = "t/s,U/V,I/mA\n" + "\n".join(
    f"{60 * at},{4.1 - at * 0.003:.3f},{-800 if at < 240 else 0}" for at in range(260)
)
UNKNOWN = CYCLE.replace("t/s,U/V,I/mA", "one,two,three")


@pytest.fixture
def bench(store, client):
    """A phone and its predecessor on the shelf; gives the address of the phone and a poster of its forms."""
    store.new(load("tern-2"), at=AT)
    name = store.new(load("tern-3"), at=AT).id

    def post(path, fields, files=None):
        head = store.head(name)
        return client.post(
            f"/r/{name}{path}", data={"base": str(head), "part": "battery", **fields}, files=files
        )

    return name, post


def battery_of(store, name):
    record = store.get(name).record
    return next(part for part in record.parts if part.id == "battery")


def given_log(post, text, **fields):
    """A log taken in; gives the address of what it says."""
    answer = post(
        "/battery/log", {"place": "cell", **fields}, {"log": ("meter.csv", text.encode(), "text/csv")}
    )
    assert answer.status_code == 303, answer.text
    return answer.headers["location"]


def test_the_page_says_what_the_label_means_and_how_the_battery_is_sent(client, bench):
    name, _ = bench
    text = client.get(f"/r/{name}/battery").text
    for words in (
        "4880 mAh × 3.88 V = 18.93 Wh",
        "No check differs",
        "UN 3480",
        "at most 5.7 Wh in it by air",
    ):
        assert words in text
    assert "Its maker promises 88 % after 500 and 82 % after 1000 full cycles" in text
    assert "0.98 A here" in text, "a fifth of 4880 mAh an hour"
    assert "4500" in text, "the predecessor on the shelf stands beside it"
    assert 'href="/r/' + name + '/battery"' in client.get(f"/r/{name}/checks").text


def test_typed_figures_are_checked_and_kept_with_their_digits(client, store, bench):
    name, post = bench
    fields = {"nominal": "3,88", "rated": "4.40 Ah", "typical": "4492", "further": "4448", "mass_g": "61,5"}
    answer = post("/battery/label", {**fields, "size": "4.4 x 63.8 x 90.4", "made": "2026-02"})
    assert answer.headers["location"] == f"/r/{name}/battery?part=battery#label"
    part = battery_of(store, name)
    assert [(one.label, one.value, one.unit) for one in part.specs] == [
        ("Nominal voltage", 3.88, "V"),
        ("Rated capacity", "4.40", "Ah"),
        ("Typical capacity", 4492, "mAh"),
        ("Capacity", 4448, "mAh"),
        ("Size", "4.4 × 63.8 × 90.4", "mm"),
        ("Date of manufacture", "2026-02", ""),
    ]
    assert part.mass_g == 61.5
    assert 'value="4.40 Ah"' in client.get(f"/r/{name}/battery").text


def test_what_cannot_be_read_is_told_at_its_field_and_nothing_typed_is_lost(store, bench):
    name, post = bench
    answer = post("/battery/label", {"rated": "many", "typical": "5100 mAh", "side": "x", "mass_g": "-1"})
    assert answer.status_code == 422
    assert 'value="5100 mAh"' in answer.text
    assert re.search(r'id="e-rated">found &#39;many&#39;; right: a number', answer.text)
    assert 'id="e-side"' in answer.text
    assert 'id="e-mass_g"' in answer.text
    assert battery_of(store, name) == next(one for one in load("tern-3").parts if one.id == "battery")


def test_a_log_with_units_is_read_at_once_and_kept_with_the_record(client, store, bench):
    name, post = bench
    at = given_log(post, CYCLE, **{"from": "90", "to": "25"})
    page = settled(client, at)
    assert "look" not in re.findall(r'class="tag">(\w+)', page.text)
    for words in ("State of health", "3.193", "<svg", "about 95 %", "4880"):
        assert words in page.text
    fields = dict(re.findall(r'name="(from|to|place|part|name)" value="([^"]*)"', page.text))
    kept = post(at.split(f"/r/{name}")[1].split("?")[0] + "/keep", fields)
    assert kept.headers["location"] == f"/r/{name}/battery?part=battery#health"
    found = kept_of(store.get(name).record, "battery")
    assert {one.what: round(one.value, 1) for one in found} == {
        "state of health": 100.7,
        "capacity": 4913.0,
        "usable energy": 18.4,
    }
    assert found[0].file == at.split("/log/")[1].split("?")[0]
    text = client.get(f"/r/{name}/battery").text
    assert "Discharge logged at the cell, 90 to 25 %; meter.csv" in text
    assert "100.7 %" in client.get(f"/r/{name}/checks").text
    gone = post(f"/battery/measurements/{found[0].id}/out", {})
    assert gone.status_code == 303
    assert store.get(name).record.measurements == (), "what one log said goes together"


def test_unknown_columns_are_asked_for_once_and_remembered(client, store, bench):
    name, post = bench
    at = given_log(post, UNKNOWN, **{"from": "90", "to": "25"})
    page = settled(client, at)
    assert "Not found: time, voltage, current" in page.text
    fields = dict(re.findall(r'name="(from|to|place|part|name)" value="([^"]*)"', page.text))
    columns = at.split(f"/r/{name}")[1].split("?")[0] + "/columns"
    wrong = post(columns, {**fields, "column-time": "one", "column-voltage": "two", "sign": "all_charge"})
    assert wrong.status_code == 422
    assert "found none for current" in wrong.text
    said = {
        "column-time": "one",
        "unit-time": "s",
        "column-voltage": "two",
        "unit-voltage": "V",
        "column-current": "three",
        "unit-current": "mA",
        "sign": "charge_positive",
    }
    wrong = post(columns, {**fields, **said, "unit-current": "V"})
    assert wrong.status_code == 422
    assert "the unit &#34;V&#34;" in wrong.text
    assert re.search(r'<option value="three" selected', wrong.text), "what was chosen stays"
    assert post(columns, {**fields, **said}).status_code == 303
    assert "State of health" in settled(client, at).text
    again = given_log(post, UNKNOWN.replace("4.1", "4.2"), **{"from": "90", "to": "25"})
    assert "remembered for this kind of log" in settled(client, again).text


def test_units_that_are_guessed_are_shown_to_be_looked_at(client, bench):
    _, post = bench
    at = given_log(post, CYCLE.replace("I/mA", "Current"), **{"from": "90", "to": "25"})
    text = settled(client, at).text
    assert "figures to 800 are usual in mA" in text
    assert "These are the columns" in text
    assert "State of health" not in text


def test_a_cell_that_is_no_figure_is_told_with_line_and_column(client, bench):
    _, post = bench
    lines = CYCLE.splitlines()
    lines[41] = "2400,broken,-800"
    page = settled(client, given_log(post, "\n".join(lines), **{"from": "90", "to": "25"}))
    assert "meter.csv, line 42, column 2 (U/V)" in page.text
    assert "broken" in page.text


def test_what_is_no_log_is_refused_and_the_way_back_keeps_what_was_said(client, bench):
    _, post = bench
    page = settled(client, given_log(post, "dear diary\nno figures today\n", **{"from": "90", "to": "25"}))
    assert page.status_code == 422
    assert "meter.csv" in page.text
    back = re.search(r'<a href="([^"]+)">Another log, or other percentages', page.text)[1]
    form = client.get(back.replace("&amp;", "&").split("#")[0]).text
    assert re.search(r'name="from" type="text" value="90"', form)


def test_milliampere_hours_of_a_meter_before_the_converter_are_never_those_of_the_battery(client, bench):
    _, post = bench
    at = given_log(post, steady_log(2, 9.02, 1.2), **{"from": "20", "to": "95"})
    page = settled(client, at)
    assert "before the phone&#39;s converter" in page.text
    assert "The meter sat before the converter" in page.text
    other = settled(client, at.replace("place=cell", "place=before_converter")).text
    assert "A range only" in other
    assert "not the battery's" in other
    assert re.search(r"\d+\.\d to \d+\.\d <span class=\"unit\">% of rated", other)


def test_a_window_too_small_gives_no_figure_and_nothing_to_keep(client, bench):
    name, post = bench
    at = given_log(post, CYCLE, **{"from": "50", "to": "40"})
    page = settled(client, at)
    assert "No figure." in page.text
    assert "too small a part" in page.text
    assert "Keep with the record" not in page.text
    fields = dict(re.findall(r'name="(from|to|place|part|name)" value="([^"]*)"', page.text))
    refused = post(at.split(f"/r/{name}")[1].split("?")[0] + "/keep", {"from": "50", "to": "40", **fields})
    assert refused.status_code == 422


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"from": "120"}, "a state of charge from 0 to 100 %"),
        ({"from": "20", "to": ""}, "only one end"),
        ({"from": "20", "to": "20"}, "the same as at the start"),
        ({"efficiency": "nearly all"}, "an efficiency in %"),
        ({"standby": "-2"}, "a load in W"),
        ({"run": "first"}, "a whole number from 1"),
    ],
)
def test_what_is_wrong_with_the_form_of_a_log_is_told_at_its_field(bench, fields, words):
    _, post = bench
    answer = post(
        "/battery/log", {"place": "before_converter", **fields}, {"log": ("meter.csv", b"x", "text/csv")}
    )
    assert answer.status_code == 422
    assert words in answer.text
    assert all(f'value="{value}"' in answer.text for value in fields.values() if value)
    assert "choose meter.csv once more" in answer.text
    assert re.search(r'value="before_converter" checked', answer.text)


def test_a_form_without_a_file_is_told(bench):
    _, post = bench
    answer = post("/battery/log", {"place": "cell"})
    assert answer.status_code == 422
    assert "found no file" in answer.text


def test_a_swollen_cell_gets_no_heat_and_says_whom_to_ask(client, store, bench):
    name, post = bench
    assert post("/battery/condition", {"condition": "swollen"}).status_code == 303
    assert battery_of(store, name).condition == "swollen"
    text = client.get(f"/r/{name}/battery").text
    for words in ("This cell was seen swollen", "No heat", "never pierce", "fire service", "never by air"):
        assert words.lower() in text.lower()
    assert "swollen" in client.get(f"/r/{name}/checks").text
    assert post("/battery/condition", {"condition": "fine"}).status_code == 422


def test_two_batteries_of_one_device_are_told_apart(client, store):
    name = store.new(load("avocet-fold"), at=AT).id
    text = client.get(f"/r/{name}/battery?part=battery-lower").text
    assert "2440 mAh × 3.88 V = 9.467 Wh" in text
    assert client.get(f"/r/{name}/battery?part=display").status_code == 404


def test_a_record_without_a_battery_says_where_to_enter_one(client, store):
    record = load("tern-2")
    name = store.new(with_part(record, "battery", role="other"), at=AT).id
    assert "No part of this record has the role battery yet" in client.get(f"/r/{name}/battery").text


def test_a_log_of_another_hash_is_not_there(client, bench):
    name, _ = bench
    assert client.get(f"/r/{name}/battery/log/{'0' * 64}?part=battery").status_code == 404
    assert client.get(f"/r/{name}/battery/log/..%2Fsecret?part=battery").status_code == 404


def photographed(store, name):
    """The record with one photo; gives its hash."""
    image = Image.new("RGB", (400, 200), "white")
    ImageDraw.Draw(image).text((20, 20), "Rated capacity 4880mAh", "black")
    data = io.BytesIO()
    image.save(data, "PNG")
    kept = store.keep_photo(name, clean(data.getvalue()), at=AT)
    record = store.get(name).record
    shown = msgspec.structs.replace(record, photos=(Photo(hash=kept.hash, caption="label"),))
    store.save(name, shown, base=store.head(name), at=AT)
    return kept.hash


def test_without_the_reader_the_page_says_so_and_typing_is_offered(client, store, bench, monkeypatch):
    name, _ = bench
    monkeypatch.setattr("midframe.web.pages.battery.installed", lambda: False)
    photographed(store, name)
    text = client.get(f"/r/{name}/battery").text
    assert ".venv/bin/pip install rapidocr onnxruntime" in text


def test_what_is_read_from_a_photo_is_a_proposal_and_the_record_stays(client, store, bench, monkeypatch):
    name, _ = bench
    photo = photographed(store, name)
    lines = ("Rated capacity: 4890mAh", "3.88V")
    read = ReadLabel(lines=tuple((line, 0.9) for line in lines), figures=figures_in(lines), turned_degrees=0)
    done = Answer(key="k" * 40, words="", status="done", seconds=0.1, value=read)
    monkeypatch.setattr("midframe.web.pages.battery_photo.asked", lambda *_, **__: done)
    before = store.get(name).record
    text = client.get(f"/r/{name}/battery/photo/{photo}?part=battery").text
    assert "not kept yet" in text
    assert 'value="4890mAh"' in text
    assert "90 % sure" in text
    assert store.get(name).record == before


def test_ranges_are_read_in_any_spelling():
    fields = log_fields(
        QueryParams("place=before_converter&from=20&to=90&efficiency=85 to 90&standby=0,3-0,5")
    )
    asked = asked_of(fields, 4880.0, 3.88)
    assert (asked.efficiency, asked.standby_w) == ((0.85, 0.9), (0.3, 0.5))
    assert asked.window.share == 0.7


def test_the_battery_has_a_line_on_the_device_page(client, store, bench):
    name, post = bench
    page = settled(client, f"/r/{name}").text
    assert f'<a href="/r/{name}/battery">4880 mAh, 18.93 Wh</a><small>not measured yet</small>' in page
    post("/battery/condition", {"condition": "damaged"})
    assert "<small>Battery damaged</small>" in settled(client, f"/r/{name}").text


def test_what_the_device_itself_says_is_kept_and_set_beside_the_promise(client, store, bench):
    name, post = bench
    wrong = post("/battery/device", {"percent": "0", "cycles": "311", "first_use": "2024-03"})
    assert wrong.status_code == 422
    assert "found &#39;0&#39;; right: a state of health in %" in wrong.text
    assert 'value="2024-03"' in wrong.text
    assert "at least one of them" in post("/battery/device", {}).text
    said = {"percent": "92 %", "cycles": "311", "first_use": "2024-03"}
    assert post("/battery/device", said).status_code == 303
    text = client.get(f"/r/{name}/battery").text
    assert "92 % after 311 full cycles: the 88 % that its maker promises after 500 are kept so far" in text
    assert "First used 2024-03" in text


def test_a_label_typed_differently_on_two_screens_leads_to_the_choice_between_them(client, store, bench):
    name, post = bench
    base = str(store.head(name))
    there = [post("/battery/label", {"base": base, "rated": rated}) for rated in ("4800", "4700")]
    assert there[0].headers["location"].endswith("#label")
    assert there[1].headers["location"] == f"/r/{name}/versions"


def test_a_cell_that_nobody_looked_at_is_not_called_sound(client, bench):
    name, post = bench
    assert "Nobody has said yet how the cell looks" in client.get(f"/r/{name}/battery").text
    post("/battery/condition", {"condition": "sound"})
    assert "Nobody has said yet" not in client.get(f"/r/{name}/battery").text


def test_only_what_one_log_said_is_taken_out_and_nothing_for_an_id_that_is_gone(client, store, bench):
    name, post = bench
    record = store.get(name).record
    typed = [Measurement(id=one, on="battery", what="capacity", value=4500.0, unit="mAh") for one in "ab"]
    of_log = Measurement(id="c", on="battery", what="capacity", value=4400.0, unit="mAh", file="f" * 64)
    kept = msgspec.structs.replace(record, measurements=(*typed, of_log))
    store.save(name, kept, base=store.head(name), at=AT)
    assert post("/battery/measurements/c/out", {}).status_code == 303
    assert [one.id for one in store.get(name).record.measurements] == ["a", "b"]
    assert post("/battery/measurements/a/out", {}).status_code == 303
    assert [one.id for one in store.get(name).record.measurements] == ["b"]
    assert post("/battery/measurements/c/out", {}).status_code == 404
