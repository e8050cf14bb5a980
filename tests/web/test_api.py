from __future__ import annotations

import hashlib
import io
import json
import time
import zipfile

import msgspec
import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis.strategies import booleans
from PIL import Image
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from midframe import demo
from midframe.dossier.index import device_index
from midframe.dossier.summary import way_rows
from midframe.dossier.upkeep import device_upkeep
from midframe.record import plain, write
from midframe.store import Store
from midframe.thermal import thermal_stack
from midframe.ways.objective import Objective
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.web.app import create_app
from midframe.web.pages import api, api_checks, api_heat
from midframe.web.settings import Settings
from web.conftest import AT, ORIGIN

ROUTES = (*api.routes, *api_checks.routes, *api_heat.routes)


@pytest.fixture
def tern(client):
    """The id of a record on the shelf."""
    answer = client.post("/api/records", json={"record": plain(demo.load("tern-3"))})
    assert answer.status_code == 201
    return answer.json()["id"]


def test_a_record_comes_back_as_it_was_sent(client, tern):
    given = client.get(f"/api/records/{tern}").json()
    assert given["record"] == json.loads(json.dumps(plain(demo.load("tern-3"))))
    assert given["revision"] == 1


def test_a_record_comes_back_as_its_file_where_toml_is_asked_for(client, tern):
    answer = client.get(f"/api/records/{tern}", headers={"Accept": "application/toml"})
    assert answer.text == write(demo.load("tern-3"))


def test_an_edit_is_a_revision_and_the_same_key_counts_once(client, tern):
    record = client.get(f"/api/records/{tern}").json()["record"]
    record["device"]["mass_g"] = 222
    sent = {"base": 1, "record": record, "summary": "weighed", "key": "k-1"}
    first = client.put(f"/api/records/{tern}", json=sent).json()
    again = client.put(f"/api/records/{tern}", json=sent).json()
    assert (first["revision"], again["revision"]) == (2, 2)
    assert (first["repeated"], again["repeated"]) == (False, True)
    newest = client.get(f"/api/records/{tern}/history").json()["revisions"][0]
    assert (newest["summary"], newest["number"]) == ("weighed", 2)


def test_an_edit_as_toml_names_its_base_in_the_query(client, tern):
    text = write(demo.load("tern-3")).replace("mass_g = ", "mass_g = 1", 1)
    answer = client.put(
        f"/api/records/{tern}?base=1", content=text, headers={"Content-Type": "application/toml"}
    )
    assert answer.json()["revision"] == 2


def test_a_move_is_logged_and_can_be_taken_back_and_done_again(client, tern):
    lines = len(client.get(f"/api/records/{tern}").json()["record"].get("log", ()))
    note = {"done": {"verb": "note", "note": "swollen"}, "key": "m-1"}
    assert client.post(f"/api/records/{tern}/moves", json=note).status_code == 201
    assert client.post(f"/api/records/{tern}/moves", json=note).json()["revision"] == 2
    assert len(client.get(f"/api/records/{tern}").json()["record"]["log"]) == lines + 1
    assert client.post(f"/api/records/{tern}/undo", json={}).json()["revision"] == 3
    assert len(client.get(f"/api/records/{tern}").json()["record"].get("log", ())) == lines
    assert client.post(f"/api/records/{tern}/redo", json={}).json()["revision"] == 4
    assert len(client.get(f"/api/records/{tern}").json()["record"]["log"]) == lines + 1


def test_every_fault_of_a_record_is_told_at_once(client):
    record = plain(demo.load("tern-3"))
    record["parts"][1]["mass_g"] = -1
    record["joints"][0]["kind"] = "magic"
    answer = client.post("/api/records", json={"record": record})
    assert answer.status_code == 422
    assert "parts[1].mass_g" in answer.json()["fault"]
    assert "joints[0].kind" in answer.json()["fault"]


@pytest.mark.parametrize(
    ("body", "kind", "word"),
    [
        (b"{", "application/json", "the body"),
        (b"[]", "application/json", "found Expected"),
        (b"{}", "application/json", "record"),
        (b'{"record": {}, "more": 1}', "application/json", "more"),
        (b"\xff\xfe", "application/toml", "no UTF-8"),
        (b"= 1", "application/toml", "no TOML"),
        (b"x", "text/plain", "right: application/json or application/toml"),
        (b"[" * 100_000, "application/json", "the body"),
    ],
)
def test_a_body_that_does_not_fit_is_told(client, body, kind, word):
    answer = client.post("/api/records", content=body, headers={"Content-Type": kind})
    assert answer.status_code == 422
    assert word in answer.json()["fault"]


def test_an_unknown_record_is_not_here(client):
    for path in ("", "/history", "/export"):
        assert client.get(f"/api/records/nosuchone0{path}").status_code == 404
    assert client.post("/api/records/nosuchone0/photos", content=b"x").status_code == 404
    assert client.get("/api/nothing").json() == {"fault": "There is no page at this address."}


def test_a_photo_and_the_archive_go_round(client, tern):
    drawn = io.BytesIO()
    Image.new("RGB", (80, 60), "teal").save(drawn, "PNG")
    row = client.post(
        f"/api/records/{tern}/photos", content=drawn.getvalue(), headers={"Content-Type": "image/png"}
    ).json()
    assert (row["width"], row["height"]) == (80, 60)
    assert hashlib.sha256(client.get(f"/photo/{row['hash']}/full.jpg").content).hexdigest() == row["hash"]
    archive = client.get(f"/api/records/{tern}/export").content
    assert zipfile.ZipFile(io.BytesIO(archive)).testzip() is None
    brought = client.post("/api/import", content=archive, headers={"Content-Type": "application/zip"})
    assert brought.status_code == 201
    assert brought.json()["record"] == client.get(f"/api/records/{tern}").json()["record"]


def test_the_shelf_is_found_by_words_and_bounded(client, tern):
    assert client.get("/api/records?q=tern").json()["total"] == 1
    assert client.get("/api/records?q=zebra").json()["total"] == 0
    for query in ("limit=-1", "limit=501", "limit=x", "state=lost", "offset=99999999999"):
        assert client.get(f"/api/records?{query}").status_code == 422


def answered(client, address, seconds=60):
    """The JSON of an answer once it is there; asks again at the place that a 202 names."""
    ends = time.monotonic() + seconds
    answer = client.get(address)
    while answer.status_code == 202:
        assert time.monotonic() < ends, f"{address}: still computing"
        assert answer.headers["location"] == answer.json()["again"]
        answer = client.get(answer.json()["again"])
    assert answer.status_code == 200, answer.text
    return answer.json()


def test_ways_are_those_of_the_library(client, tern):
    given = answered(client, f"/api/records/{tern}/ways?by=seconds")
    record = demo.load("tern-3")
    planner = Planner(record, Objective.parse("seconds"))
    expected = {row.part: (row.steps, row.seconds) for row in way_rows(record, planner)}
    assert given["revision"] == 1
    assert {row["part"]: (row["steps"], row["seconds"]) for row in given["ways"]} == expected


@pytest.mark.slow
def test_one_way_is_told_move_by_move_with_reasons(client, tern):
    given = answered(client, f"/api/records/{tern}/ways/battery?power=off")
    way = Planner(demo.load("tern-3"), Objective.parse("steps,seconds")).way("battery")
    done = [(one["open"], tuple(one["lift"])) for one in given["moves"]]
    assert done == [(move.open, move.lift) for move in way.moves]
    assert given["way"]["steps"] == way.steps
    assert given["moves"][-1]["needed_by"] == [0]
    assert all(one["names"] for one in given["moves"])


@pytest.mark.slow
def test_index_and_upkeep_are_those_of_the_library(client, tern):
    found = answered(client, f"/api/records/{tern}/index")["found"]
    record = demo.load("tern-3")
    assert found["index"] == json.loads(msgspec.json.encode(device_index(record).index))
    found = answered(client, f"/api/records/{tern}/upkeep")["found"]
    assert found["upkeep"] == json.loads(msgspec.json.encode(device_upkeep(record).upkeep))


@pytest.mark.slow
def test_an_answer_that_is_not_there_yet_says_where_to_ask_again(client, tern):
    address = f"/api/records/{tern}/upkeep?wait=0&reading=unplugging"
    first = client.get(address)
    assert first.status_code == 202
    assert first.headers["retry-after"] == "1"
    assert first.json()["again"] == address
    assert first.json()["words"] == "the time to repair over the mix of failures"
    assert answered(client, address)["id"] == tern


def test_an_answer_that_somebody_stopped_is_asked_anew(client, tern):
    address = f"/api/records/{tern}/index"
    answers = client.app.state.answers
    assert client.get(f"{address}?wait=0").status_code == 202
    key = answers.ask("index", demo.load("tern-3"), {"readings": msgspec.to_builtins(Readings())}, wait=0).key
    answers.stop(key)
    assert answered(client, address)["found"]["device"] == "Tern 3"


def test_thermal_layers_are_given_at_once(client, tern):
    given = client.get(f"/api/records/{tern}/layers?power=3").json()
    stack = thermal_stack(demo.load("tern-3"), 3.0)
    assert given["stack"] == json.loads(msgspec.json.encode(stack))
    assert [path["parts"][-1] for path in given["paths"]][:1] == ["heat-spreader"]


@pytest.mark.parametrize(
    ("address", "status", "words"),
    [
        ("/ways?by=beauty", 422, "by: found 'beauty'"),
        ("/ways?wait=60", 422, "wait: found 60 s; right: 0 to 20"),
        ("/index?reading=Q99", 422, "reading: found 'Q99'"),
        ("/ways/nothing", 404, "no part 'nothing'"),
        ("/ways/frame", 404, "is the body"),
        ("/layers?power=2500", 422, "500 mW are 0.5 W"),
        ("/layers?from=loudspeaker", 404, "which no layer touches"),
    ],
)
def test_a_question_that_does_not_fit_is_told(client, tern, address, status, words):
    answer = client.get(f"/api/records/{tern}{address}")
    assert answer.status_code == status
    assert words in answer.json()["fault"]


def test_the_description_names_every_route_of_the_api_and_no_other(client):
    described = client.get("/api/openapi.json").json()
    said = {(path, method) for path, methods in described["paths"].items() for method in methods}
    routes = {(route.path, method.lower()) for route in ROUTES for method in route.methods - {"HEAD"}} - {
        ("/api/openapi.json", "get")
    }
    assert said == routes


# Fuzz: whatever is sent, no fault of the server, and every answer as the description says


@pytest.fixture(scope="module")
def described(tmp_path_factory):
    folder = tmp_path_factory.mktemp("api")
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    app = create_app(store, Settings(folder=folder))
    yield schemathesis.openapi.from_asgi("/api/openapi.json", app, headers={"Host": "127.0.0.1"}), store
    app.state.answers.close()
    store.close()


CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
]
OPERATIONS = [
    (route.path, next(iter(route.methods - {"HEAD"})))
    for route in ROUTES
    if route.path not in ("/api/openapi.json", "/api/import")  # the latter in test_uploads_fuzz.py
]


@pytest.mark.slow
@pytest.mark.parametrize(("path", "method"), OPERATIONS)
def test_the_api_keeps_to_its_description_whatever_is_sent(described, path, method):
    schema, store = described
    known = store.new(demo.load("tern-2"), at=AT, key="one").id
    statuses = set()

    @settings(max_examples=25, suppress_health_check=list(HealthCheck), deadline=None, derandomize=True)
    @given(case=schema[path][method].as_strategy(), of_known=booleans())
    def sent(case, of_known):
        if of_known and "id" in (case.path_parameters or {}):
            case.path_parameters["id"] = known
        case.headers = {**(case.headers or {}), "Host": "127.0.0.1", "Origin": ORIGIN}
        answer = case.call(base_url=ORIGIN)
        case.validate_response(answer, checks=CHECKS)
        statuses.add(answer.status_code)

    sent()
    assert statuses
