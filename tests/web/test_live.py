from __future__ import annotations

import asyncio
import threading
import time
import urllib.request
from concurrent.futures import ThreadPoolExecutor

import pytest
from msgspec.structs import replace

from midframe import demo
from midframe.faults import StoreTrouble, UnknownRecord
from midframe.store import Store
from midframe.web import live
from midframe.web.live import Hub
from web.conftest import AT, serving


class Shelf:
    """As much of a store as the hub asks for; counts how often it is asked."""

    def __init__(self, **heads):
        self.numbers = heads
        self.newest = 10
        self.asked = 0
        self.trouble = False

    def heads(self):
        self.asked += 1
        if self.trouble:
            raise StoreTrouble("found a locked database")
        return self.newest

    def head(self, record_id):
        self.asked += 1
        if record_id not in self.numbers:
            raise UnknownRecord(record_id)
        return self.numbers[record_id]

    def change(self, record_id):
        self.numbers[record_id] += 1
        self.newest += 1


def apart(coroutine):
    """Run in a thread of its own: where a browser is driven, this thread has a loop already."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, coroutine).result(20)


async def taken(changes, number, seconds=2.0):
    return [await asyncio.wait_for(anext(changes), seconds) for _ in range(number)]


def test_a_stream_begins_with_the_present_revision_and_tells_each_later_one():
    shelf = Shelf(a=3)

    async def run():
        changes = Hub(shelf, 0.01).changes("a")
        seen = await taken(changes, 1)
        shelf.change("a")
        seen += await taken(changes, 1)
        shelf.change("a")
        return seen + await taken(changes, 1)

    assert apart(run()) == [3, 4, 5]


def test_a_change_of_another_record_is_told_to_the_shelf_only():
    shelf = Shelf(a=3, b=7)

    async def run():
        hub = Hub(shelf, 0.01)
        one, all_of_them = hub.changes("a"), hub.changes()
        seen = await taken(one, 1) + await taken(all_of_them, 1)
        waiting = asyncio.ensure_future(anext(one))
        shelf.change("b")
        seen += await taken(all_of_them, 1)
        await asyncio.sleep(0.1)
        done = waiting.done()
        waiting.cancel()
        return seen, done

    assert apart(run()) == ([3, 10, 11], False)


def test_a_change_between_the_first_answer_and_the_first_look_is_not_missed():
    shelf = Shelf(a=3, b=1)

    async def run():
        hub = Hub(shelf, 0.01)
        early = hub.changes("b")
        await taken(early, 1)
        keeps = asyncio.ensure_future(anext(early))  # the looker is at work for another record already
        await asyncio.sleep(0.05)
        changes = hub.changes("a")
        await taken(changes, 1)
        shelf.change("a")
        await asyncio.sleep(0.05)
        seen = await taken(changes, 1)
        keeps.cancel()
        return seen

    assert apart(run()) == [4]


def test_many_streams_cost_one_look():
    shelf = Shelf(a=3)

    async def run(streams):
        hub = Hub(shelf, 0.02)
        changes = [hub.changes("a") for _ in range(streams)]
        for one in changes:
            await taken(one, 1)
        waiting = [asyncio.ensure_future(anext(one)) for one in changes]
        await asyncio.sleep(0.05)
        shelf.asked = 0
        await asyncio.sleep(0.3)
        idle, shelf.asked = shelf.asked, 0
        shelf.change("a")
        seen = await asyncio.gather(*waiting)
        return idle, set(seen), hub

    idle, seen, _ = apart(run(200))
    assert seen == {4}
    assert idle <= 16  # fifteen looks at most in this time, however many streams


def test_nobody_is_asked_when_nobody_listens():
    shelf = Shelf(a=3)

    async def run():
        hub = Hub(shelf, 0.01)
        changes = hub.changes("a")
        await taken(changes, 1)
        shelf.change("a")
        await taken(changes, 1)
        await changes.aclose()
        await asyncio.sleep(0.05)
        shelf.asked = 0
        await asyncio.sleep(0.1)
        return shelf.asked, hub.watched

    assert apart(run()) == (0, {})


def test_a_quiet_stream_is_kept_open_by_comments(monkeypatch):
    monkeypatch.setattr(live, "PING_SECONDS", 0.03)

    async def run():
        return await taken(Hub(Shelf(a=3), 0.01).changes("a"), 3)

    assert apart(run()) == [3, None, None]


def test_a_store_in_trouble_for_a_moment_ends_no_stream():
    shelf = Shelf(a=3)

    async def run():
        changes = Hub(shelf, 0.01).changes("a")
        await taken(changes, 1)
        shelf.trouble = True
        waiting = asyncio.ensure_future(anext(changes))
        await asyncio.sleep(0.05)
        shelf.trouble = False
        shelf.change("a")
        return await asyncio.wait_for(waiting, 2)

    assert apart(run()) == 4


def test_the_stream_of_a_record_that_is_gone_ends():
    shelf = Shelf(a=3)

    async def run():
        changes = Hub(shelf, 0.01).changes("a")
        await taken(changes, 1)
        del shelf.numbers["a"]
        shelf.newest += 1
        return [one async for one in changes]

    assert apart(run()) == []


def test_closing_the_hub_ends_every_stream():
    async def run():
        hub = Hub(Shelf(a=3), 0.01)
        changes = hub.changes("a")
        await taken(changes, 1)
        waiting = asyncio.ensure_future(anext(changes, "ended"))
        await asyncio.sleep(0.02)
        hub.close()
        return await asyncio.wait_for(waiting, 1)

    assert apart(run()) == "ended"


def test_the_stream_of_an_unknown_record_answers_404(client):
    answer = client.get("/r/nosuchrecord/events")
    assert answer.status_code == 404
    assert "event-stream" not in answer.headers["content-type"]


# Over real connections


class Listener(threading.Thread):
    """Reads one stream until it ends; keeps every number and when it came."""

    def __init__(self, address):
        super().__init__(daemon=True)
        self.address = address
        self.seen = []
        self.started = threading.Event()

    def run(self):
        with urllib.request.urlopen(self.address, timeout=20) as stream:
            assert stream.headers["content-type"].startswith("text/event-stream")
            for line in stream:
                if line.startswith(b"data: "):
                    self.seen.append((int(line[6:]), time.monotonic()))
                    self.started.set()


@pytest.fixture
def record(tmp_path):
    """A store with one record, opened beside the server: (store, id)."""
    folder = tmp_path / "data"
    folder.mkdir()
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    saved = store.new(demo.load("tern-3"), at=AT)
    yield store, saved.id, folder
    store.close()


def edited(store, record_id, **changes):
    kept = store.get(record_id)
    device = replace(kept.record.device, **changes)
    return store.save(record_id, replace(kept.record, device=device), base=kept.revision, at=AT)


def test_a_change_by_another_server_reaches_sixty_open_streams_while_pages_answer(record):
    store, record_id, folder = record
    with serving(folder) as (address, process):
        listeners = [Listener(f"{address}/r/{record_id}/events") for _ in range(60)]
        for one in listeners:
            one.start()
        assert all(one.started.wait(10) for one in listeners)
        started = time.monotonic()
        with urllib.request.urlopen(f"{address}/settings", timeout=5) as answer:
            assert answer.status == 200  # more streams than threads, and still pages answer
        assert time.monotonic() - started < 2
        saved = edited(store, record_id, note="changed elsewhere")
        at = time.monotonic()
        deadline = at + 5
        while any(len(one.seen) < 2 for one in listeners) and time.monotonic() < deadline:
            time.sleep(0.02)
        assert {one.seen[-1][0] for one in listeners} == {saved.revision}
        stopping = time.monotonic()
        process.terminate()
        process.wait(5)
        assert time.monotonic() - stopping < 3
        assert "Traceback" not in process.stdout.read()


@pytest.mark.browser
def test_the_shelf_of_another_screen_follows(opened, record):
    store, record_id, folder = record
    with serving(folder) as (address, _):
        page = opened(address)
        page.get_by_text("Tern 3").first.wait_for()
        edited(store, record_id, name="Tern 3 of the left bench")
        page.get_by_text("Tern 3 of the left bench").first.wait_for(timeout=5000)
