from __future__ import annotations

import re

import msgspec
import pytest

from midframe.demo import load
from midframe.publish.job import Ticked
from midframe.publish.progress import progress
from midframe.store import Store
from midframe.web.jobs import job_at
from web.conftest import AT, serving

LONG, SHORT = "upper-cover-screws-long", "upper-cover-screws-short"
FEW = 10
"""Moves of the log that are kept: up to the upper mid cover, with 12 screws of three kinds."""


def opened_phone():
    record = load("tern-3")
    return msgspec.structs.replace(record, log=record.log[:FEW])


@pytest.fixture
def at(store):
    """The address of the refit of a phone that is partly open."""
    return f"/r/{store.new(opened_phone(), state='apart_now', at=AT).id}/refit"


def told(store, at):
    name = at.split("/")[2]
    return progress(store.get(name).record, job_at(store, name))


def post(client, at, act, /, **fields):
    return client.post(f"{at}/{act}", data=fields)


def tick_until(client, store, at, joint=""):
    """Tick one move after the other until a joint is next, all screws in their holes."""
    while (now := told(store, at)).next and now.next != f"close {joint}":
        if now.next.startswith("close ") and any(one.joint == now.next[6:] for one in now.count.groups):
            post(client, at, "hole", joint=now.next[6:], all="yes")
        post(client, at, "tick", line="trial", done="yes")
        post(client, at, "tick", line=now.next, done="yes")


# Plain forms, no script


def test_a_beginning_that_cannot_be_kept_leaves_the_shelf_as_it_was(client, store, at):
    other = store.new(load("tern-2"), at=AT).id
    assert post(client, at, "begin", basis="log", key="once").status_code == 303
    assert post(client, f"/r/{other}/refit", "begin", basis="everything", key="once").status_code == 422
    assert store.get(other).state != "refitting"


def test_it_begins_from_the_log_and_the_shelf_says_so(client, store, at):
    assert "Begin from the log" in client.get(at).text
    assert post(client, at, "begin", basis="log").status_code == 303
    now = told(store, at)
    assert (len(now.steps), now.done, now.next, now.out) == (FEW, 0, "place upper-mid-cover", 12)
    assert store.get(at.split("/")[2]).state == "refitting"
    assert "<strong>0</strong> of 10 moves" in client.get(at).text


def test_it_begins_from_everything_apart_and_from_the_way_to_a_part(client, store, at):
    post(client, at, "begin", basis="everything")
    assert len(told(store, at).steps) > 100
    page = client.get(at, params={"part": "battery"})
    while page.status_code == 202:
        page = client.get(at, params={"part": "battery"})
    assert "From the way in to battery" in page.text
    post(client, at, "begin", basis="part", part="battery")
    now = told(store, at)
    assert "battery" in now.steps[0].line.new_parts


def test_the_section_shows_where_the_next_move_belongs_and_the_far_moves_are_folded(client, store, at):
    post(client, at, "begin", basis="everything")
    page, now = client.get(at).text, told(store, at)
    figure = page.partition('<figure class="stack place">')[2].partition("</figure>")[0]
    assert f">{now.steps[0].line.names[0]}<" in figure
    assert 'class="d-ghost"' in figure
    assert f"{len(now.steps) - 11} moves after these" in page


@pytest.mark.parametrize(
    ("what", "fields", "words"),
    [
        ("begin", {}, "found nothing to begin from"),
        ("begin", {"basis": "part", "part": "nothing"}, "no part"),
        ("tick", {"line": "close nothing"}, "right: one of its list"),
        ("hole", {"joint": "nothing", "hole": "1"}, "no screws of"),
        ("hole", {"joint": LONG, "hole": "7"}, "right: 1 to 6"),
        ("hole", {"joint": LONG, "hole": "1", "letter": "Z"}, "out are A, B, C"),
        ("tray", {"lying-A": "many"}, "right: a whole number"),
        ("weigh", {"mass_g": "heavy"}, "right: grams above 0"),
        ("end", {}, "10 moves are not ticked"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(client, store, at, what, fields, words):
    post(client, at, "begin", basis="log")
    answer = post(client, at, what, **fields)
    assert (answer.status_code, words in answer.text) in ((422, True), (404, True))
    queued = client.post(f"{at}/{what}", data=fields, headers={"Swap": "outbox"})
    assert (queued.status_code, words in queued.text) == (422, True)
    assert told(store, at).done == 0


def test_before_it_begins_nothing_can_be_ticked(client, at):
    assert "right: begin it first" in post(client, at, "tick", line="place upper-mid-cover").text


def test_a_tick_is_kept_with_its_author_and_can_be_taken_back(client, store, at):
    post(client, at, "begin", basis="log")
    client.cookies.set("person", "Ann")
    post(client, at, "tick", line="place upper-mid-cover", done="yes")
    assert told(store, at).steps[0].by == "Ann"
    post(client, at, "tick", line="place upper-mid-cover", done="no")
    assert told(store, at).done == 0


def test_a_move_whose_turn_is_not_yet_is_told_and_not_ticked(client, store, at):
    post(client, at, "begin", basis="log")
    post(client, at, "tick", line="place back-cover", done="yes", anyway="yes")
    assert told(store, at).done == 0
    html = client.get(at).text
    assert "Not ticked: place: Back cover" in html
    assert "Tick it all the same" not in html
    post(client, at, "tick", line="place upper-mid-cover", done="yes")
    assert "Not ticked" not in client.get(at).text


def test_a_tick_told_twice_counts_once(client, store, at):
    post(client, at, "begin", basis="log")
    for _ in range(2):
        post(client, at, "tick", line="place upper-mid-cover", done="yes", key="same")
    assert len(store.notes(f"job:{at.split('/')[2]}")) == 2


def test_what_comes_from_the_outbox_is_answered_without_a_redirect(client, store, at):
    post(client, at, "begin", basis="log")
    answer = client.post(f"{at}/tick", data={"line": "place upper-mid-cover"}, headers={"Swap": "outbox"})
    assert answer.status_code == 204
    block = client.get(at, params={"block": "refit"}, headers={"Swap": "refit"})
    assert block.headers["Fragment"] == "refit"
    assert "<strong>1</strong> of 10 moves" in block.text


def test_an_inner_tick_taken_back_takes_back_what_lies_over_it_and_its_screws(client, store, at):
    post(client, at, "begin", basis="log")
    tick_until(client, store, at, "back-bond")
    post(client, at, "tick", line="place upper-mid-cover", done="no")
    now = told(store, at)
    assert (now.done, now.back_in, now.next) == (0, 0, "place upper-mid-cover")


def test_the_closing_tick_of_a_cover_warns_of_an_empty_hole_and_can_be_made_all_the_same(client, store, at):
    post(client, at, "begin", basis="log")
    tick_until(client, store, at, LONG)
    post(client, at, "hole", joint=LONG, all="yes")
    post(client, at, "hole", joint=LONG, out="4")
    post(client, at, "tick", line=f"close {LONG}", done="yes")
    html = client.get(at).text
    assert "hole 4 has no screw" in html
    assert "Tick it all the same" in html
    post(client, at, "tick", line=f"close {LONG}", done="yes", anyway="yes")
    tick_until(client, store, at)
    answer = post(client, at, "end")
    assert (answer.status_code, "hole 4 has no screw" in answer.text) == (422, True)
    post(client, at, "end", anyway="yes")
    assert job_at(store, at.split("/")[2]).ended.telling.open_points == (
        "Upper cover screws long: hole 4 has no screw",
    )
    assert "Still open then: Upper cover screws long: hole 4" in client.get(at).text


def test_an_end_told_too_early_is_taken_back_with_all_ticks(client, store, at):
    post(client, at, "begin", basis="log")
    tick_until(client, store, at)
    post(client, at, "end")
    assert store.get(at.split("/")[2]).state == "closed"
    post(client, at, "reopen")
    assert told(store, at).done == FEW
    assert store.get(at.split("/")[2]).state == "refitting"


def test_after_the_end_nothing_is_ticked_by_a_slip_but_the_last_weighing_still_counts(client, store, at):
    post(client, at, "weigh", when="first", mass_g="191.3", resolution_g="0.01")
    post(client, at, "begin", basis="log")
    tick_until(client, store, at)
    post(client, at, "end")
    for act, fields in (("tick", {"line": "place back-cover"}), ("hole", {"joint": LONG, "out": "1"})):
        assert "right: say first that it is not closed yet" in post(client, at, act, **fields).text
    post(client, at, "weigh", when="last", mass_g="191.3", resolution_g="0.01")
    job = job_at(store, at.split("/")[2])
    assert (job.ended is not None, job.first.mass_g, job.last.mass_g) == (True, 191.3, 191.3)
    assert "No difference that this scale can see" in client.get(at).text
    post(client, at, "begin", basis="log")  # the next job
    job = job_at(store, at.split("/")[2])
    assert (job.ended, job.first, job.before, job.ticks) == (None, None, None, {})


def test_the_weighings_are_compared_with_what_the_scale_can_see(client, store, at):
    post(client, at, "weigh", when="first", mass_g="191.30", resolution_g="0.01", repeatability_g="0.01")
    post(client, at, "begin", basis="log")
    post(client, at, "weigh", when="last", mass_g="190,90", resolution_g="0.01", repeatability_g="0.01")
    html = client.get(at).text
    assert "0.4 g lighter than expected" in html
    assert told(store, at).weighed.sees_lightest is False
    assert "only counting back finds it" in html


def test_a_log_that_went_on_is_told(client, store, at):
    post(client, at, "begin", basis="log")
    name = at.split("/")[2]
    longer = msgspec.structs.replace(opened_phone(), log=load("tern-3").log[: FEW + 2])
    store.save(name, longer, base=1, at=AT)
    assert "The bench log went on" in client.get(at).text


def test_a_record_edited_so_that_the_moves_do_not_fit_is_told(client, store, at):
    post(client, at, "begin", basis="log")
    name, record = at.split("/")[2], opened_phone()
    joints = tuple(one for one in record.joints if one.id != LONG)
    store.save(name, msgspec.structs.replace(record, joints=joints, log=()), base=1, at=AT)
    page = client.get(at)
    assert (page.status_code, "do not fit any more" in page.text) == (200, True)


def test_holes_without_a_place_are_a_row_of_numbers(client, store):
    record = opened_phone()
    joints = tuple(msgspec.structs.replace(one, spots_mm=()) for one in record.joints)
    name = store.new(msgspec.structs.replace(record, joints=joints), at=AT).id
    at = f"/r/{name}/refit"
    post(client, at, "begin", basis="log")
    post(client, at, "tick", line="place upper-mid-cover")
    html = client.get(at).text
    assert "hole-plan" not in html
    assert len(re.findall(r'name="hole"', html.split('id="next"')[1].split("</section>")[0])) == 1


def test_a_telling_of_another_version_is_not_thrown_away(store, at):
    name = at.split("/")[2]
    store.add_note(f"job:{name}", "told", '[{"type":"ticked","line":"a","more":1}]', at=AT)
    assert job_at(store, name).ticks["a"].telling == Ticked("a")


def test_a_refit_begun_anew_by_a_slip_can_be_taken_back(client, store, at):
    post(client, at, "begin", basis="log")
    tick_until(client, store, at, LONG)
    ticked = told(store, at).done
    post(client, at, "begin", basis="everything")
    assert "Take the one before up again" in client.get(at).text
    post(client, at, "before")
    assert (told(store, at).done, len(told(store, at).steps)) == (ticked, FEW)


def test_a_bond_that_was_ticked_says_when_it_is_strong(client, store, at):
    post(client, at, "begin", basis="log")
    tick_until(client, store, at)
    html = client.get(at).text
    assert "Bonds that gain strength" in html
    assert "leave it weighted until" in html


def test_photo_and_note_from_taking_apart_stand_beside_the_move_that_undoes_it(client, store, at):
    from web.test_bench import picture

    name = at.split("/")[2]
    client.post(
        f"/r/{name}/bench/moves",
        data={"verb": "lift", "what": "Grounding tape", "note": "copper side down"},
        files={"photo": ("a.jpg", picture(), "image/jpeg")},
    )
    post(client, at, "begin", basis="log")
    photo = store.get(name).record.log[-1].photo
    html = client.get(at).text.split('id="next"')[1].split("</section>")[0]
    assert f"/photo/{photo}/medium.jpg" in html
    assert "Noted when it was taken apart: copper side down" in html
    assert f"/photo/{photo}/small.jpg" in client.get(f"/r/{name}/pause").text


def test_two_people_at_once_both_count(client, store, at):
    from concurrent.futures import ThreadPoolExecutor

    post(client, at, "begin", basis="log")
    post(client, at, "tick", line="place upper-mid-cover")
    with ThreadPoolExecutor(4) as pool:
        for answer in pool.map(
            lambda n: post(client, at, "hole", joint=LONG, hole=str(n)), [1, 2, 3, 4, 5, 6] * 2
        ):
            assert answer.status_code == 303
    assert told(store, at).back_in == 6


# In the browser


def drive_in(page, selector="#next .hole[name=hole]", *, name="out"):
    """Tap a hole, and wait until the bench says that it is taken."""
    hole = page.locator(selector).first
    mark = hole.get_attribute("id")
    hole.tap()
    page.locator(f"#{mark}[name={name}]").wait_for()


def fill_holes(page, leave=0):
    """Tap every empty hole of the move at hand but so many."""
    while page.locator("#next .hole[name=hole]").count() > leave:
        drive_in(page)


def tick(page):
    """Tick the move at hand, and the trial before it."""
    if page.locator("#trial-button.main").count():
        page.locator("#trial-button.main").tap()
        page.locator("#next .trial.tried").wait_for()
    number = page.locator("#now-head .number").inner_text()
    page.locator("#next .send button").tap()
    page.wait_for_function(
        "number => document.querySelector('#now-head .number')?.textContent !== number", arg=number
    )


def begin_on_the_page(opened, address, name):
    page = opened(f"{address}/r/{name}/refit", width=390, height=844, has_touch=True, is_mobile=True)
    page.locator("text=Begin from the log").tap()
    page.locator("#now-head").wait_for()
    return page


def phone_in(folder):
    """A store with a phone that is partly open: the store and the phone's id."""
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    return store, store.new(opened_phone(), state="apart_now", at=AT).id


@pytest.mark.browser
def test_a_screw_missing_and_one_swapped_are_found_at_once_mended_and_the_device_closed(tmp_path, opened):
    store, name = phone_in(tmp_path)
    with serving(tmp_path) as (address, _):
        page = begin_on_the_page(opened, address, name)
        laptop = opened(f"{address}/r/{name}/refit")
        tick(page)  # the cover is placed
        for _ in range(2):  # the grounding screw, then five ticked as B: in truth an A went into one hole
            fill_holes(page)
            tick(page)
        for hole in page.locator("#next .hole").all():
            box = hole.bounding_box()
            assert min(box["width"], box["height"]) >= 43.5
        fill_holes(page, leave=1)
        page.locator("#next .chip:has([value=B])").tap()
        drive_in(page)  # only a B is left in the tray
        wrong = page.locator("#alarm").inner_text()
        assert "B (M1.4×2.5 pan) is in hole 6 of Upper mid cover, which is not its own" in wrong
        assert "Look at Upper mid cover: A (M1.4×4 pan) may be in a hole of B" in wrong
        assert "reaches Main board" in wrong
        assert page.locator("#alarm").evaluate("one => parseFloat(getComputedStyle(one).fontSize)") >= 20
        laptop.locator("#alarm").wait_for()  # told on the other screen too
        drive_in(page, "#next .hole.wrong", name="hole")  # out again
        page.fill("#lying-A", "0")
        page.locator("#tray-button").tap()
        page.locator("#alarm", has_text="1 of A (M1.4×4 pan) missing from the tray: for Upper").wait_for()
        page.locator("#next .send button").tap()
        page.locator("#warned", has_text="hole 6 has no screw").wait_for()
        if page.locator("#ticked:not([open])").count():
            page.locator("#ticked > summary").tap()
        page.locator("#untick-3-row").tap()  # back to the short ones, where the A is found
        page.locator("#now-head", has_text="Upper cover screws short").wait_for()
        drive_in(page, "#next .hole[name=out]", name="hole")
        drive_in(page)
        tick(page)
        fill_holes(page)  # and the A in its own hole
        assert page.locator("#alarm").count() == 0
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        while page.locator("#now-head").count():
            tick(page)
        page.locator("#end-button").tap()
        page.locator("text=12 screws back in their own holes").wait_for()
        laptop.locator("text=12 screws back in their own holes").wait_for()
    assert store.get(name).state == "closed"
    assert job_at(store, name).ended.telling.open_points == ()
    store.close()


@pytest.mark.browser
def test_a_job_put_away_outlives_the_server_and_is_finished_where_it_was(tmp_path, opened):
    store, name = phone_in(tmp_path)
    with serving(tmp_path) as (address, process):
        page = begin_on_the_page(opened, address, name)
        tick(page)
        fill_holes(page)
        tick(page)
        drive_in(page)
        page.goto(f"{address}/r/{name}/pause")
        page.fill("#place-device", "shelf 2")
        page.fill("#item", "Battery strips")
        page.locator("#away-button").tap()
        page.locator("text=Waiting for Battery strips").first.wait_for()
        page.close()
        process.kill()
        process.wait()
    before = told(store, f"/r/{name}/refit")
    with serving(tmp_path) as (address, _):
        page = opened(f"{address}/r/{name}/pause", width=390, height=844, has_touch=True, is_mobile=True)
        assert page.locator("#place-device").input_value() == "shelf 2"
        page.locator("#up-button").tap()
        page.wait_for_url("**/refit")
        assert told(store, f"/r/{name}/refit") == before
        assert page.locator("#next .hole.in").count() == 1
        while page.locator("#now-head").count():
            if page.locator("#next [name=all]").count():
                page.locator("#next [name=all]").tap()
                page.locator("#next .hole[name=hole]").first.wait_for(state="detached")
            tick(page)
        page.locator("#end-button").tap()
        page.locator("text=12 screws back in their own holes").wait_for()
    assert store.get(name).state == "closed"
    store.close()


@pytest.mark.browser
def test_what_is_told_while_the_network_is_away_arrives_in_its_order(tmp_path, opened):
    store, name = phone_in(tmp_path)
    with serving(tmp_path) as (address, _):
        page = begin_on_the_page(opened, address, name)
        tick(page)
        fill_holes(page)
        tick(page)
        page.context.set_offline(True)
        for number in range(5):
            page.locator(f"#next .hole >> nth={number}").tap()
            page.locator(f"#waiting li >> nth={number}").wait_for()
            assert "…" in page.locator(f"#next .hole >> nth={number}").inner_text()
        page.locator("#next .send button").tap()
        page.locator("#waiting li >> nth=5", has_text="Upper cover screws short").wait_for()
        page.context.set_offline(False)
        page.evaluate("dispatchEvent(new Event('online'))")
        page.fill("#w-last-mass_g", "190.5")  # typed, not kept yet
        page.locator("#waiting li").first.wait_for(state="detached")
        page.locator("#now-head", has_text="Upper cover screws long").wait_for()
        assert page.locator("#w-last-mass_g").input_value() == "190.5"
    assert told(store, f"/r/{name}/refit").back_in == 6
    opened.faults[:] = [line for line in opened.faults if "ERR_INTERNET_DISCONNECTED" not in line]
    store.close()
