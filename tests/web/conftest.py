"""A bench over a fresh store: in process for plain requests, as a server of its own for the browser."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import pytest

from midframe.store import Store
from midframe.web.app import create_app
from midframe.web.settings import Settings
from web.open_pages import CONTEXTS, close_pages_of

AT = "2026-11-25T04:40:00.000+00:00"
ORIGIN = "http://127.0.0.1"


@pytest.fixture
def store(tmp_path):
    """An empty store in a temporary folder."""
    opened = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    yield opened
    opened.close()


@pytest.fixture
def client(store, tmp_path):
    """Requests straight into the application, as from a browser on the bench itself."""
    from starlette.testclient import TestClient

    app = create_app(store, Settings(folder=tmp_path))
    with TestClient(app, base_url=ORIGIN, headers={"Origin": ORIGIN}, follow_redirects=False) as made:
        yield made


def settled(client, address, seconds=60):
    """The page of an answer once it is there."""
    ends = time.monotonic() + seconds
    while (page := client.get(address)).status_code == 202:
        assert "Being computed" in page.text
        assert time.monotonic() < ends, f"{address}: still computing after {seconds} s"
        time.sleep(0.1)
    return page


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def serving(folder: Path, *options: str, port: int | None = None):
    """`midframe serve` as a process of its own; gives (address, process)."""
    port = port or free_port()
    command = [
        sys.executable,
        "-m",
        "midframe",
        "serve",
        "--data",
        str(folder),
        "--port",
        str(port),
        *options,
    ]
    process = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "NO_COLOR": "1"},
    )
    address = f"http://127.0.0.1:{port}"
    for _ in range(200):
        if process.poll() is not None:
            raise AssertionError(f"the server ended: {process.stdout.read()}")
        try:
            with urllib.request.urlopen(address + "/static/base.css", timeout=1) as answer:
                answer.read()
            break
        except OSError:
            time.sleep(0.05)
    else:
        process.kill()
        raise AssertionError(f"no answer in 10 s: {process.stdout.read()}")
    try:
        yield address, process
    finally:
        close_pages_of(port)
        process.terminate()
        try:
            process.wait(5)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        process.stdout.close()


@pytest.fixture
def served(tmp_path):
    """The address of a server over an empty store."""
    with serving(tmp_path / "data") as (address, _):
        yield address


@pytest.fixture
def opened(browser):
    """Opens pages; at the end asserts that no script failed, nothing was logged, nobody else was asked."""
    contexts, faults, asked = [], [], []

    def opener(address="about:blank", *, width=1280, height=900, scheme="light", **options):
        context = browser.new_context(
            viewport={"width": width, "height": height}, color_scheme=scheme, **options
        )
        context.set_default_timeout(8_000)
        contexts.append(context)
        CONTEXTS.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on(
            "console",
            lambda line: (
                faults.append(f"{line.text} {line.location['url']}")
                if line.type in {"error", "warning"}
                else None
            ),
        )
        page.on("request", lambda request: asked.append(request.url))
        if address != "about:blank":
            page.goto(address)
        return page

    opener.faults = faults
    yield opener
    for context in contexts:
        CONTEXTS.remove(context)
        context.close()
    assert faults == []
    inside = ("http://127.0.0.1:", "http://localhost:", "http://bench.test:", "data:", "blob:", "about:")
    assert [url for url in asked if not url.startswith(inside)] == []
