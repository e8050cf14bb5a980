from __future__ import annotations

import pytest

from midframe.publish.pause import DEVICE
from midframe.web.bench import set_running
from midframe.web.jobs import job_at, pause_of
from web.conftest import AT
from web.test_refit import LONG, opened_phone, post, tick_until, told


@pytest.fixture
def name(store):
    """The id of a phone that is partly open."""
    return store.new(opened_phone(), state="apart_now", at=AT).id


@pytest.fixture
def at(name):
    return f"/r/{name}/pause"


def test_a_job_is_put_away_with_where_things_lie_and_what_is_on_order(client, store, name, at):
    set_running(store, name, run=True, at=AT)
    client.cookies.set("person", "Ann")
    fields = {
        f"place-{DEVICE}": "shelf 2",
        "place-upper-mid-cover": "bin 4",
        "item": "Battery strips",
        "part": "battery",
        "expected": "Friday",
        "notes": "call first",
    }
    assert post(client, at, "away", **fields).status_code == 303
    assert store.get(name).state == "waiting"
    assert store.clock(name).running_since is None
    html = client.get(at).text
    for words in ("by Ann", "Waiting for Battery strips", 'value="bin 4"', 'value="shelf 2"', "call first"):
        assert words in html
    assert "Put away" in client.get(f"/r/{name}/refit").text


def test_without_an_order_the_state_stays(client, store, name, at):
    post(client, at, "away")
    assert store.get(name).state == "apart_now"
    assert job_at(store, name).away is not None


def test_the_job_is_taken_up_again_where_it_was(client, store, name, at):
    refit = f"/r/{name}/refit"
    post(client, refit, "begin", basis="log")
    tick_until(client, store, refit, LONG)
    post(client, refit, "hole", joint=LONG, hole="3")
    before = told(store, refit)
    post(client, at, "away", **{f"place-{DEVICE}": "shelf 2", "item": "Tape"})
    assert store.get(name).state == "waiting"
    answer = post(client, at, "up")
    assert answer.headers["location"] == refit
    assert store.get(name).state == "refitting"
    assert told(store, refit) == before
    assert job_at(store, name).places == {DEVICE: "shelf 2"}


def test_who_ticks_has_taken_the_job_up_again(client, store, name, at):
    refit = f"/r/{name}/refit"
    post(client, refit, "begin", basis="log")
    post(client, at, "away", item="Tape")
    post(client, refit, "tick", line="place upper-mid-cover")
    assert job_at(store, name).away is None
    assert store.get(name).state == "refitting"
    assert "Place: Upper mid cover" in client.get(at).text


def test_screws_that_are_in_again_are_not_in_the_tray(client, store, name, at):
    refit = f"/r/{name}/refit"
    post(client, refit, "begin", basis="log")
    tick_until(client, store, refit, LONG)
    post(client, refit, "hole", joint=LONG, hole="3")
    html = client.get(at).text
    assert "5 × A" in html
    sheet = pause_of(store.get(name).record, job_at(store, name))
    assert sheet.screws_out == 5
    assert sheet.driven == 1
    assert sheet.state == told(store, refit).state


def test_what_came_is_ticked_and_what_was_a_slip_goes_off_the_list(client, store, name, at):
    post(client, at, "away", item="Battery")
    post(client, at, "order", item="Tape", expected="Monday")
    first, second = job_at(store, name).orders
    post(client, at, "came", number=first, what="came")
    post(client, at, "came", number=second, what="off")
    orders = job_at(store, name).orders
    assert [(one.item, one.came) for one in orders.values()] == [("Battery", True)]
    assert job_at(store, name).on_order == ()


@pytest.mark.parametrize(
    ("what", "fields", "words"),
    [
        ("order", {}, "right: what is on order"),
        ("came", {"number": "zz", "what": "came"}, "right: one of the list"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(client, at, what, fields, words):
    answer = post(client, at, what, **fields)
    assert (answer.status_code, words in answer.text) == (422, True)
    queued = client.post(f"{at}/{what}", data=fields, headers={"Swap": "outbox"})
    assert (queued.status_code, words in queued.text) == (422, True)


def test_a_closed_device_cannot_be_put_away(client, store):
    from midframe.demo import load
    from midframe.web.bench import begin_anew

    name = store.new(load("tern-2"), at=AT).id
    begin_anew(store, name, now=AT)
    assert "there is no job to put away" in client.get(f"/r/{name}/pause").text
    answer = post(client, f"/r/{name}/pause", "away")
    assert (answer.status_code, "found a closed device" in answer.text) == (422, True)


def test_after_the_end_the_next_job_is_put_away_from_its_own_log(client, store, name, at):
    refit = f"/r/{name}/refit"
    post(client, refit, "begin", basis="log")
    tick_until(client, store, refit)
    post(client, refit, "end")
    post(client, refit, "end")
    assert "there is no job to put away" in client.get(at).text
    client.post(f"/r/{name}/bench/anew")
    client.post(f"/r/{name}/bench/moves", data={"verb": "unclip", "what": "sim-latch"})
    assert "1 move" in client.get(refit).text
    answer = post(client, at, "away", **{f"place-{DEVICE}": "shelf 3"})
    assert answer.status_code == 303, answer.text
    sheet = pause_of(store.get(name).record, job_at(store, name))
    assert (len(sheet.done), sheet.place) == (1, "shelf 3")


def test_the_sheets_are_printed_and_kept_as_files(client, name, at):
    post(client, at, "away", **{"place-upper-mid-cover": "bin 4", "item": "Tape"})
    sheet = client.get(f"{at}/sheet").text
    assert "bin 4" in sheet
    assert "Tape" in sheet
    assert "<style>" not in sheet
    kept = client.get(f"{at}/sheet", params={"file": "yes", "paper": "letter", "language": "de"})
    assert kept.headers["content-disposition"] == 'attachment; filename="tern-3-pause.html"'
    assert "size:letter" in kept.text
    assert "weggelegt" in kept.text
    back = client.get(f"/r/{name}/refit/sheet").text
    assert "Upper cover screws long" in back
    assert client.get(f"{at}/sheet", params={"paper": "A9"}).status_code == 422
