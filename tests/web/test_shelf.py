"""The shelf: what is on it, how it is found, how records come in, go out, are put away."""

from __future__ import annotations

import io
import re
import zipfile

import pytest
from msgspec.structs import replace

from midframe.demo import load, text
from midframe.record import write
from web.conftest import AT


def ids(answer):
    return re.findall(r'class="name" href="/r/([a-z0-9]+)"', answer.text)


@pytest.fixture
def stocked(store):
    """Two demo devices on the shelf; gives their ids by name."""
    return {name: store.new(load(name), at=AT).id for name in ("tern-3", "heron-tab")}


def test_an_empty_shelf_says_what_to_do(client):
    answer = client.get("/")
    assert answer.status_code == 200
    assert "The shelf is empty" in answer.text


def test_the_demo_devices_come_once_however_often_they_are_asked_for(client):
    assert client.post("/demo").status_code == 303
    client.post("/demo")
    answer = client.get("/")
    assert len(ids(answer)) == 4
    assert answer.text.count('class="tag">invented') == 4


@pytest.mark.parametrize(
    ("query", "found"), [("tern", {"tern-3"}), ("hero", {"heron-tab"}), ("batt", {"tern-3", "heron-tab"})]
)
def test_words_of_the_query_are_beginnings_of_words_in_names_and_parts(client, stocked, query, found):
    assert set(ids(client.get("/", params={"q": query}))) == {stocked[name] for name in found}


def test_a_script_gets_the_rows_alone(client, stocked):
    answer = client.get("/", headers={"Swap": "rows"})
    assert answer.headers["fragment"] == "rows"
    assert "<html" not in answer.text
    assert len(ids(answer)) == 2


def test_a_record_is_begun_with_a_name_and_goes_to_its_bench(client, store):
    answer = client.post("/records", data={"name": "Plover 1", "kind": "tablet", "key": "k1"})
    assert answer.status_code == 303
    name = re.fullmatch(r"/r/([a-z0-9]+)/bench", answer.headers["location"])[1]
    assert store.get(name).record.device.kind == "tablet"
    again = client.post("/records", data={"name": "Plover 1", "kind": "tablet", "key": "k1"})
    assert again.headers["location"] == answer.headers["location"]


def test_a_record_without_a_name_is_refused_beside_its_field(client):
    answer = client.post("/records", data={"name": "  ", "kind": "phone"})
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.text
    assert "needs the name" in answer.text


def test_a_file_comes_in_and_goes_out_the_same(client, store):
    answer = client.post("/import", files={"file": ("tern-2.device.toml", text("tern-2").encode())})
    assert answer.status_code == 303
    name = answer.headers["location"].removeprefix("/r/")
    exported = client.get(f"/r/{name}/export")
    assert exported.headers["content-disposition"] == 'attachment; filename="tern-2.zip"'
    with zipfile.ZipFile(io.BytesIO(exported.content)) as archive:
        assert archive.read("record.device.toml").decode() == write(load("tern-2"))
    back = client.post("/import", files={"file": ("tern-2.zip", exported.content)})
    assert store.get(back.headers["location"].removeprefix("/r/")).record == load("tern-2")


def test_every_fault_of_a_file_is_told_and_good_files_beside_it_are_kept(client, store):
    broken = text("tern-2").replace('drive = "', 'drvie = "', 2)
    answer = client.post(
        "/import",
        files=[("file", ("bad.toml", broken.encode())), ("file", ("good.toml", text("tern-3").encode()))],
    )
    assert answer.status_code == 422
    assert answer.text.count("fault: bad.toml, joints[") == 2
    assert "1 of 2 files came in" in answer.text
    form = answer.text.partition('action="/import#bring-in"')
    assert 'id="bring-in"' in form[0].rpartition("<form")[2]
    assert 'role="alert"' in form[2].partition("</form>")[0]
    assert store.shelf().total == 1


def test_no_file_at_all_is_said(client):
    answer = client.post("/import", files={"other": ("x", b"")})
    assert answer.status_code == 422
    assert "No file came with the form" in answer.text


def test_what_is_put_away_leaves_the_shelf_and_comes_back(client, stocked):
    away = stocked["tern-3"]
    client.post(f"/r/{away}/put-away")
    assert ids(client.get("/")) == [stocked["heron-tab"]]
    assert ids(client.get("/", params={"state": "removed"})) == [away]
    client.post(f"/r/{away}/bring-back")
    assert set(ids(client.get("/"))) == set(stocked.values())


def test_names_are_escaped(client, store):
    record = load("tern-2")
    store.new(replace(record, device=replace(record.device, name="<b>x</b>")), at=AT)
    assert "<b>x</b>" not in client.get("/").text


def test_a_record_that_is_not_there_answers_404_in_words(client):
    answer = client.get("/r/zzzzzzzzzz/history")
    assert answer.status_code == 404
    assert "zzzzzzzzzz" in answer.text


def test_the_index_on_the_shelf_is_rounded_as_on_the_label(client, store):
    kept = store.new(load("tern-2"), at=AT)
    store.summarise(kept.id, 1, index_class="C", index_value=2.855, drawing="")
    assert "class C, R 2.86" in client.get("/").text
