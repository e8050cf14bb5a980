from __future__ import annotations

import io
import re

import msgspec
import pytest
from PIL import Image

from midframe.dossier.index import device_index
from midframe.record import read
from midframe.record.model import PRIORITY_ROLES
from midframe.stripdown import bench_state, condition_questions, replay
from midframe.ways.solve import Planner
from web.bench_phone import FILE, MOVES
from web.conftest import serving

AT = "2026-11-25T04:40:00.000+00:00"


def picture(size=(60, 40)):
    held = io.BytesIO()
    Image.new("RGB", size, (90, 120, 60)).save(held, "JPEG")
    return held.getvalue()


@pytest.fixture
def bench(client):
    """The address of the bench of a new record."""
    return client.post("/records", data={"name": "Plover", "kind": "phone"}).headers["location"]


def record_at(store, bench):
    return store.get(bench.split("/")[2]).record


def log(client, bench, verb, what, **fields):
    return client.post(f"{bench}/moves", data={"verb": verb, "what": what, **fields})


def completed(record):
    """The record with what no strip-down can tell (offers of the maker), the same for every record."""
    replace = msgspec.structs.replace
    there = {part.role for part in record.parts}
    device = replace(
        record.device,
        absent=tuple(role for role in PRIORITY_ROLES if role not in there),
        updates_years=5.0,
        repair_information="public",
    )
    joints = (
        replace(one, fastener="resupplied" if one.kind == "adhesive" else "reusable") for one in record.joints
    )
    parts = (replace(one, spare="end_user") for one in record.parts)
    return replace(record, device=device, parts=tuple(parts), joints=tuple(joints))


def outcome(record):
    """Ways and index of a record by the names of its parts."""
    names = {part.id: part.name for part in record.parts}
    ways = {
        names[target]: (way.steps, way.seconds, way.proven, len(way.moves))
        for target, way in Planner(record).ways().items()
    }
    index = device_index(completed(record)).index
    assert index.value is not None
    open_range = device_index(record).index
    return ways, index.value, open_range.lowest, open_range.highest


# Plain forms, no script


def test_a_move_by_plain_form_grows_record_and_log(client, store, bench):
    assert (
        log(
            client, bench, "unscrew", "Mid cover", **{"count-screw": "4", "drive": "cross recess 00"}
        ).status_code
        == 303
    )
    record = record_at(store, bench)
    assert (record.joints[0].count, record.joints[0].drive) == (4, "cross recess 00")
    assert record.log[0].open == record.joints[0].id
    assert "Unscrew mid cover screws (4 × cross recess 00)" in client.get(bench).text


def test_the_first_move_sets_the_clock_going_and_the_state(client, store, bench):
    name = bench.split("/")[2]
    store.set_state(name, "closed", AT)
    assert store.clock(name).running_since is None
    log(client, bench, "unclip", "Lid")
    assert store.clock(name).running_since is not None
    assert store.get(name).state == "apart_now"
    client.post(f"{bench}/clock", data={"do": "pause"})
    assert store.clock(name).running_since is None


def test_a_move_told_twice_counts_once(client, store, bench):
    for _ in range(2):
        log(client, bench, "unclip", "Lid", key="same")
    assert len(record_at(store, bench).log) == 1


def test_undo_takes_the_last_move_back_and_the_record_shrinks(client, store, bench):
    log(client, bench, "unclip", "Lid")
    log(client, bench, "unscrew", "Plate")
    client.post(f"{bench}/undo")
    record = record_at(store, bench)
    assert ([part.id for part in record.parts], len(record.log)) == (["frame", "lid"], 1)


def test_what_was_aside_is_assumed_until_it_is_changed_or_confirmed(client, store, bench):
    log(client, bench, "unclip", "Lid")
    log(client, bench, "lift", "Lid")
    guess = {"guess-aside": "lid"}
    log(client, bench, "unplug", "Cell", aside=["lid"], **guess)
    log(client, bench, "unplug", "Coil", aside=["lid"], certain="yes", **guess)
    log(client, bench, "unplug", "Flash", **guess)
    found = {joint.id: (joint.behind, joint.assumed) for joint in record_at(store, bench).joints}
    assert found["cell-plug"] == ((("lid",),), True)
    assert found["coil-plug"] == ((("lid",),), False)
    assert found["flash-plug"] == ((), False)


def test_a_photo_comes_with_its_move(client, store, bench):
    files = {"photo": ("a.jpg", picture(), "image/jpeg")}
    answer = client.post(f"{bench}/moves", data={"verb": "unclip", "what": "Lid"}, files=files)
    assert answer.status_code == 303
    record = record_at(store, bench)
    assert record.log[0].photo == record.photos[0].hash
    assert store.photo(record.photos[0].hash, "small").is_file()


def test_a_sentence_is_logged_as_a_move_and_never_lost(client, store, bench):
    said = "undid four hexalobular four screws, three millimetres, from the mid cover"
    client.post(f"{bench}/said", data={"said": said})
    client.post(f"{bench}/said", data={"said": "hm, strange smell"})
    record = record_at(store, bench)
    assert (record.joints[0].count, record.joints[0].length_mm) == (4, 3)
    assert record.log[1].note == "hm, strange smell"


def test_look_first_fills_the_form_and_logs_nothing(client, store, bench):
    html = client.get(bench, params={"said": "unclipped the back cover zigzag"}).text
    assert re.search(r'value="unclip"[^>]* checked', html)
    assert 'value="Back cover"' in html
    assert "Not understood: zigzag" in html
    assert record_at(store, bench).log == ()


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({}, "what was done"),
        ({"verb": "lift"}, "nothing that it was done to"),
        ({"verb": "unscrew", "what": "Lid", "length_mm": "three"}, "right: a number"),
        ({"verb": "lift", "what": "Frame"}, "the body"),
    ],
)
def test_what_cannot_be_logged_is_refused_with_what_would_be_right(client, store, bench, fields, words):
    answer = client.post(f"{bench}/moves", data=fields)
    assert answer.status_code == 422
    assert words in answer.text
    queued = client.post(f"{bench}/moves", data=fields, headers={"Swap": "outbox"})
    assert (queued.status_code, words in queued.text) == (422, True)
    assert record_at(store, bench).log == ()


def test_a_count_that_differs_is_asked_and_settled(client, store):
    from midframe.demo import load
    from midframe.web.bench import begin_anew

    name = store.new(load("tern-2"), at=AT).id
    begin_anew(store, name, now=AT)
    bench = f"/r/{name}/bench"
    log(client, bench, "unscrew", "lower-cover-screws", **{"count-screw": "3"})
    assert "count 3 here, 4 in the record" in client.get(bench).text
    client.post(f"{bench}/asked", data={"line": "0", "fact": "count", "take": "here"})
    joint = next(one for one in store.get(name).record.joints if one.id == "lower-cover-screws")
    assert joint.count == 3
    assert "in the record. Which is right" not in client.get(bench).text


# In the browser


def begin_on_the_page(page, address):
    page.goto(address)
    page.locator("details:has(#f-name) summary").click()
    page.fill("#f-name", "Plover")
    page.locator("form[action='/records'] button").click()
    page.wait_for_url("**/bench")
    return page.url


def fill(page, verb, what, fields, tap):
    tap(page.locator(f".verb:has([value='{verb}'])"))
    page.fill("#what", what)
    for name, value in fields.items():
        field = page.locator(f"#move-form [name='{name}']")
        if name == "seconds" and not field.is_visible():
            tap(page.locator("#move-form details summary"))
        if name in ("drive", "to-plug"):
            field.select_option(label=value)
        else:
            field.fill(value)
    tap(page.locator(".log-it"))


def logged(page, count):
    """Wait until the newest line of the log is this one, and the form is fresh."""
    page.locator(f"#log li >> nth={min(count, 10) - 1}").wait_for()
    page.locator("#undo-button:enabled").wait_for()


def downloaded(page, url):
    """The record as the server exports it."""
    import zipfile

    address = url.replace("bench.test", "127.0.0.1").removesuffix("/bench")
    body = page.request.get(f"{address}/export").body()
    with zipfile.ZipFile(io.BytesIO(body)) as archive:
        name = next(one for one in archive.namelist() if one.endswith(".device.toml"))
        return read(archive.read(name).decode(), name)


def same_as_file(record):
    told = {**{part.id: part for part in record.parts}}
    assert told["frame"].name == "Frame"
    assert outcome(record) == outcome(read(FILE))
    assert [line.against for line in replay(record).lines if line.against] == []


@pytest.mark.browser
def test_a_whole_phone_is_logged_from_an_empty_shelf_and_gives_the_ways_and_index_of_its_file(served, opened):
    page = opened()
    url = begin_on_the_page(page, served)
    for place, (verb, what, fields) in enumerate(MOVES, start=1):
        fill(page, verb, what, fields, lambda one: one.click())
        logged(page, place)
    page.locator(".quiet-head", has_text="Last ten of 12").wait_for()
    record = downloaded(page, url)
    assert len(record.log) == len(MOVES)
    same_as_file(record)
    assert len(condition_questions(record)) == 5


@pytest.mark.browser
def test_a_phone_on_plain_http_with_the_network_dropped_three_times_loses_nothing(tmp_path, opened):
    with serving(tmp_path / "data", "--host", "bench.test") as (loopback, _):
        address = loopback.replace("127.0.0.1", "bench.test")
        page = opened(width=390, height=844, has_touch=True, is_mobile=True)
        url = begin_on_the_page(page, address)
        assert page.evaluate("isSecureContext") is False
        dropped = {2, 6, 9}
        for place, (verb, what, fields) in enumerate(MOVES, start=1):
            if place in dropped:
                page.context.set_offline(True)
            fill(page, verb, what, fields, lambda one: one.tap())
            if place in dropped or place - 1 in dropped:
                page.locator("#waiting li").first.wait_for()
            if place - 1 in dropped:
                page.context.set_offline(False)
                page.evaluate("dispatchEvent(new Event('online'))")
                page.locator("#waiting li").first.wait_for(state="detached")
                logged(page, place)
        page.locator(".quiet-head", has_text="Last ten of 12").wait_for()
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        record = downloaded(page, url)
    opened.faults[:] = [line for line in opened.faults if "ERR_INTERNET_DISCONNECTED" not in line]
    same_as_file(record)


@pytest.mark.browser
def test_a_move_is_logged_and_undone_with_the_keyboard_alone(served, opened):
    page = opened()
    begin_on_the_page(page, served)
    page.keyboard.press("7")
    page.keyboard.type("Back cover")
    page.keyboard.press("Enter")
    page.locator("#log li", has_text="Unclip back cover clips").wait_for()
    page.locator("[name=verb]:focus").wait_for()
    page.keyboard.press("9")
    page.keyboard.type("Back cover")
    page.keyboard.press("Enter")
    page.locator("#log li", has_text="Lift back cover").wait_for()
    page.locator("#undo-button").focus()
    page.keyboard.press("Enter")
    page.locator("#log li", has_text="Lift back cover").wait_for(state="detached")


KEYS = {
    "unscrew": "1",
    "unplug": "2",
    "peel": "3",
    "heat": "4",
    "soak": "5",
    "pry": "6",
    "unclip": "7",
    "lift": "9",
}


def tab_to(page, wanted):
    """Press Tab until a field of this name, or the summary over it, has the focus."""
    for _ in range(80):
        page.keyboard.press("Tab")
        held = page.evaluate("[document.activeElement.name ?? '', document.activeElement.tagName]")
        if held[0] == wanted:
            return
        folded = page.locator(f"details:has(> summary:focus):has([name='{wanted}'])")
        if held[1] == "SUMMARY" and folded.count() and not page.locator(f"[name='{wanted}']").is_visible():
            page.keyboard.press("Enter")
    raise AssertionError(f"no way to {wanted} with the Tab key")


@pytest.mark.browser
def test_a_whole_phone_is_logged_with_the_keyboard_alone(served, opened):
    page = opened()
    page.goto(served)
    page.locator(".begin summary").focus()
    page.keyboard.press("Enter")
    tab_to(page, "name")
    page.keyboard.type("Plover")
    page.keyboard.press("Enter")
    page.wait_for_url("**/bench")
    for place, (verb, what, fields) in enumerate(MOVES, start=1):
        page.keyboard.press(KEYS[verb])
        page.keyboard.type(what)
        for name, value in fields.items():
            tab_to(page, name)
            if name in ("drive", "to-plug"):
                page.keyboard.type(value)
            else:
                page.keyboard.press("Control+A")
                page.keyboard.type(value)
        page.keyboard.press("Enter")
        logged(page, place)
        page.locator("[name=verb]:focus").wait_for()
    page.locator(".quiet-head", has_text="Last ten of 12").wait_for()
    same_as_file(downloaded(page, page.url))


@pytest.mark.browser
def test_keys_are_quiet_where_their_hints_are_switched_off(served, opened):
    page = opened()
    url = begin_on_the_page(page, served)
    assert page.locator(".verb kbd").count() == 11
    page.context.add_cookies([{"name": "hints", "value": "off", "url": served}])
    page.goto(url)
    assert page.locator(".verb kbd").count() == 0
    page.keyboard.press("7")
    assert page.locator("[name=verb]:checked").count() == 0


@pytest.mark.browser
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_bench_and_questions_pass_the_accessibility_rules(served, opened, scheme, width):
    from axe_playwright_python.sync_playwright import Axe

    page = opened(width=width, height=844, scheme=scheme, bypass_csp=True)
    url = begin_on_the_page(page, served)
    for place, (verb, what) in enumerate([("unclip", "Lid"), ("lift", "Lid"), ("unplug", "Cell")], start=1):
        fill(page, verb, what, {}, lambda one: one.click())
        logged(page, place)
    for verb in ("", "unscrew", "lift"):
        if verb:
            page.locator(f".verb:has([value='{verb}'])").click()
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
    page.goto(url.replace("/bench", "/questions"))
    page.locator(".question").wait_for()
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()


def test_the_state_of_the_bench_is_told_from_the_log(client, store, bench):
    log(client, bench, "pry", "Display")
    log(client, bench, "fold aside", "Display", **{"to-cable": "Main board"})
    state = bench_state(record_at(store, bench))
    assert state.hanging == ("display",)
    assert "Off now: display (on its cable)." in client.get(bench).text


@pytest.mark.browser
def test_the_laptop_beside_the_phone_follows_by_itself(served, opened):
    phone = opened(width=390, height=844)
    url = begin_on_the_page(phone, served)
    laptop = opened(url)
    laptop.locator(".empty").wait_for()
    fill(phone, "unclip", "Back cover", {}, lambda one: one.click())
    laptop.locator("#log li", has_text="Unclip back cover clips").wait_for()
    laptop.locator("#move .picks.for-lift .chip >> nth=0", has_text="Back cover").wait_for(state="attached")


@pytest.mark.browser
def test_everything_to_be_tapped_on_the_phone_is_large_enough(served, opened):
    page = opened(width=390, height=844, has_touch=True, is_mobile=True)
    begin_on_the_page(page, served)
    fill(page, "unclip", "Back cover", {}, lambda one: one.tap())
    logged(page, 1)
    page.locator(".verb:has([value='unscrew'])").tap()
    hidden = "[type=radio],[type=checkbox],[type=file],[type=hidden]"
    tapped = f"button,a,select,.chip,.verb,summary,input:not({hidden})"
    for control in page.locator(f"main :is({tapped})").all():
        box = control.bounding_box() if control.is_visible() else None
        assert box is None or box["height"] >= 43.5, control.evaluate("one => one.outerHTML")


def test_a_queued_move_counts_from_when_it_was_done_not_from_when_it_was_sent(client, store, bench):
    from datetime import UTC, datetime, timedelta

    def ago(seconds):
        return (datetime.now(UTC) - timedelta(seconds=seconds)).isoformat(timespec="milliseconds")

    log(client, bench, "unclip", "Lid", at=ago(300))
    log(client, bench, "unscrew", "Plate", at=ago(240))
    log(client, bench, "lift", "Plate", at="tomorrow")
    record = record_at(store, bench)
    assert [entry.seconds for entry in record.log] == pytest.approx([0, 60, 300], abs=2)
    assert record.joints[1].work[0][0].seconds == pytest.approx(60, abs=2)


def test_a_photo_that_is_none_is_refused_and_the_outbox_is_told(client, store, bench):
    answer = client.post(
        f"{bench}/moves",
        data={"verb": "unclip", "what": "Lid"},
        files={"photo": ("a.jpg", b"no picture", "image/jpeg")},
        headers={"Swap": "outbox"},
    )
    assert answer.status_code == 422
    assert record_at(store, bench).log == ()


def test_a_new_log_keeps_what_the_record_knows(client, store, bench):
    log(client, bench, "unclip", "Lid")
    client.post(f"{bench}/anew")
    record = record_at(store, bench)
    assert (record.log, [joint.id for joint in record.joints]) == ((), ["lid-clips"])
    log(client, bench, "unclip", "Lid")
    assert len(record_at(store, bench).joints) == 1
