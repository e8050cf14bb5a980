from __future__ import annotations

import asyncio
import re
import socket
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from starlette.requests import Request
from starlette.testclient import TestClient

from midframe.web import sizes
from midframe.web.app import create_app
from midframe.web.peers import host_name, is_known
from midframe.web.security import foreign
from midframe.web.settings import Settings
from web.conftest import ORIGIN, serving

WEB = Path(sizes.__file__).parent


def clients(store, tmp_path, **settings):
    return TestClient(
        create_app(store, Settings(folder=tmp_path, **settings)), base_url=ORIGIN, follow_redirects=False
    )


# Host names


@pytest.mark.parametrize("host", ["127.0.0.1", "127.0.0.1:8310", "LOCALHOST:1", "[::1]:8310", "localhost."])
def test_the_names_of_this_machine_are_answered(client, host):
    assert client.get("/settings", headers={"Host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    [
        "evil.test",
        "127.0.0.1.evil.test",
        "localhost@evil.test",
        "127.0.0.1:8310:80",
        "",
        "192.168.1.4",
        "a b",
    ],
)
def test_another_name_is_refused_in_words(client, host):
    answer = client.get("/settings", headers={"Host": host})
    assert answer.status_code == 400
    assert "--host NAME" in answer.text


def test_a_shared_bench_answers_to_bare_addresses_but_not_to_foreign_names(tmp_path):
    shared = Settings(folder=tmp_path, share=True, hosts=("bench.local",))
    assert is_known("192.168.1.4", shared)
    assert is_known("[fd00::2]", shared)
    assert is_known("bench.local", shared)
    assert not is_known("0.0.0.0", shared)  # stands for this machine itself in some browsers
    assert not is_known("evil.test", shared)
    assert not is_known(host_name("192.168.1.4.evil.test:80"), shared)


# Origins


@pytest.mark.parametrize(
    ("headers", "word"),
    [
        ({"Origin": "http://evil.test"}, "evil.test"),
        ({"Origin": "null"}, "null"),
        ({"Origin": "https://127.0.0.1"}, "https"),
        ({"Origin": "http://127.0.0.1:81"}, ":81"),
        ({"Origin": "http://127.0.0.1.evil.test"}, "evil.test"),
        ({}, "does not say"),
        ({"Origin": ORIGIN, "Sec-Fetch-Site": "cross-site"}, "cross-site"),
        ({"Origin": ORIGIN, "Sec-Fetch-Site": "same-site"}, "same-site"),
    ],
)
def test_a_change_that_comes_from_elsewhere_is_refused_and_changes_nothing(store, tmp_path, headers, word):
    answer = clients(store, tmp_path).post("/settings", data={"person": "Ada"}, headers=headers)
    assert answer.status_code == 403
    assert word in answer.text
    assert "set-cookie" not in answer.headers


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "post", "BREW"])
def test_every_method_that_may_change_something_is_looked_at(client, method):
    answer = client.request(method, "/settings", headers={"Origin": "http://evil.test"})
    assert answer.status_code == 403


def test_a_change_from_its_own_page_passes(client):
    answer = client.post("/settings", data={"person": "Ada"}, headers={"Sec-Fetch-Site": "same-origin"})
    assert answer.status_code == 303


@pytest.mark.parametrize(
    ("path", "here", "headers", "passes"),
    [
        ("/api/records", True, {}, True),
        ("/api/records", False, {}, False),
        ("/api/records", True, {"cookie": "paired-1=x"}, False),
        ("/settings", True, {}, False),
        ("/apis", True, {}, False),
    ],
)
def test_only_a_program_on_this_machine_may_leave_the_origin_out(path, here, headers, passes):
    assert (foreign(headers, "http", path, here) == "") is passes


# Headers


def test_every_answer_carries_the_content_policy_even_a_refusal(client):
    for path, host in (("/settings", "127.0.0.1"), ("/nowhere", "127.0.0.1"), ("/", "evil.test")):
        headers = client.get(path, headers={"Host": host}).headers
        assert "default-src 'self'" in headers["content-security-policy"]
        assert "unsafe" not in headers["content-security-policy"]
        assert headers["x-content-type-options"] == "nosniff"


def test_static_files_are_asked_for_anew_and_answered_short_when_unchanged(client):
    first = client.get("/static/base.css")
    assert first.headers["cache-control"] == "no-cache"
    again = client.get("/static/base.css", headers={"If-None-Match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.parametrize(
    "path", ["/static/../app.py", "/static/%2e%2e/app.py", "/static//etc/passwd", "/static/..%2fapp.py"]
)
def test_no_path_leads_out_of_the_static_files(client, path):
    assert client.get(path).status_code == 404


def test_no_template_names_an_address_elsewhere_or_holds_script_or_style():
    for path in [*WEB.glob("templates/*.html"), *WEB.glob("static/*.css"), *WEB.glob("static/*.js")]:
        text = path.read_text(encoding="utf-8").replace("http://www.w3.org/2000/svg", "")
        assert not re.search(r"(?:https?:)?//[a-z0-9-]+\.[a-z]", text), path
        if path.suffix == ".html":
            assert not re.search(r"<style|<script(?![^>]* src=)|\sstyle=|\son[a-z]+=", text), path


# Sizes


def test_a_body_that_says_it_is_too_large_is_refused_with_413(store, tmp_path):
    client = clients(store, tmp_path, most_form_bytes=1000)
    answer = client.post("/settings", data={"person": "x" * 2000}, headers={"Origin": ORIGIN})
    assert answer.status_code == 413
    assert "right: at most 0.001 MB" in answer.text


def test_a_body_that_does_not_say_its_length_is_counted_and_refused_with_413(store, tmp_path):
    def pieces():
        yield b"person="
        for _ in range(50):
            yield b"x" * 100

    client = clients(store, tmp_path, most_form_bytes=1000)
    answer = client.post(
        "/settings",
        content=pieces(),
        headers={"Origin": ORIGIN, "Content-Type": "application/x-www-form-urlencoded"},
    )
    assert answer.status_code == 413
    assert "more than 0.001 MB" in answer.text


def test_a_refusal_under_api_is_json(store, tmp_path):
    client = clients(store, tmp_path, most_form_bytes=1000)
    answer = client.post("/api/records", content=b"x" * 2000, headers={"Origin": ORIGIN})
    assert answer.status_code == 413
    assert "right: at most" in answer.json()["fault"]


@pytest.mark.parametrize(
    ("path", "kind", "most"),
    [
        ("/settings", "application/x-www-form-urlencoded", 2_000_000),
        ("/r/a/bench", "multipart/form-data; boundary=x", 40_000_000),
        ("/r/a/bench", "Multipart/Form-Data; boundary=x", 40_000_000),
        ("/import", "multipart/form-data; boundary=x", 1_000_000_000),
        ("/api/records/a", "application/json", 2_000_000),
    ],
)
def test_each_kind_of_body_has_its_own_bound(tmp_path, path, kind, most):
    assert sizes.most_bytes(path, kind, Settings(folder=tmp_path)) == most


def test_the_sender_of_a_refused_upload_gets_to_see_the_answer(tmp_path):
    """A browser that is still sending sees a reset instead of the answer when nobody reads on."""
    with (
        serving(tmp_path / "data") as (address, _),
        socket.create_connection(("127.0.0.1", int(address.rpartition(":")[2])), timeout=20) as line,
    ):
        length = 50_000_000
        line.sendall(
            f"POST /settings HTTP/1.1\r\nHost: 127.0.0.1\r\nOrigin: {address}\r\n"
            f"Content-Type: multipart/form-data; boundary=x\r\nContent-Length: {length}\r\n\r\n".encode()
        )
        for _ in range(length // 1_000_000):
            line.sendall(b"x" * 1_000_000)
        assert line.recv(100).startswith(b"HTTP/1.1 413")


def apart(coroutine):
    """Run in a thread of its own: where a browser is driven, this thread has a loop already."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, coroutine).result(20)


def slow_body(pieces):
    async def receive():
        if pieces:
            return {"type": "http.request", "body": pieces.pop(0), "more_body": True}
        return await asyncio.sleep(60)

    return receive


def test_a_body_that_stops_half_way_is_cut(monkeypatch):
    monkeypatch.setattr(sizes, "STILL_SECONDS", 0.05)
    body = sizes.Body(slow_body([b"a", b"b"]), most=100)

    async def read():
        while True:
            await body.receive()

    with pytest.raises(Exception, match="stopped half way") as raised:
        apart(read())
    assert raised.value.status_code == 408


def test_a_body_that_never_ends_is_cut_however_little_it_brings(monkeypatch):
    monkeypatch.setattr(sizes, "WHOLE_SECONDS", 0.05)
    body = sizes.Body(slow_body([b"a"] * 10), most=100)

    async def read():
        while True:
            await asyncio.sleep(0.02)
            await body.receive()

    with pytest.raises(Exception, match="stopped half way"):
        apart(read())
    assert body.taken < 10


def test_a_dropped_connection_in_a_body_is_no_fault_of_the_server(tmp_path):
    async def read(scope, receive, send):
        await Request(scope, receive).body()

    messages = [{"type": "http.request", "body": b"a", "more_body": True}, {"type": "http.disconnect"}]

    async def receive():
        return messages.pop(0)

    async def send(message):
        raise AssertionError("nobody is there to answer")

    scope = {"type": "http", "method": "POST", "path": "/", "headers": [], "query_string": b""}
    apart(sizes.Sizes(read, Settings(folder=tmp_path))(scope, receive, send))
    assert messages == []
