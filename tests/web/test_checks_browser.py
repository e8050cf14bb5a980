"""The checks under the thumb: one tap is kept and seen on the other screen; nothing typed is lost."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from midframe.demo import load
from midframe.store import Store
from web.conftest import AT, serving

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    folder = tmp_path_factory.mktemp("checks")
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    name = store.new(load("tern-2"), at=AT).id
    store.close()
    with serving(folder) as (address, _):
        yield f"{address}/r/{name}", folder, name


def test_a_tap_is_kept_and_seen_on_the_other_screen_while_a_note_is_being_typed(bench, opened):
    address, folder, name = bench
    phone = opened(f"{address}/trials?show=before", width=390, height=844)
    other = opened(f"{address}/trials?show=before")
    noted = other.locator("#trial-picture textarea")
    other.locator("#trial-picture summary").click()
    phone.locator("#trial-touch").get_by_role("button", name="does not").click()
    expect(phone.locator("#trial-touch [aria-pressed=true]")).to_have_text("does not")
    expect(other.locator("#trial-touch [aria-pressed=true]")).to_have_text("does not")
    expect(other.locator("#more-picture")).to_have_attribute("open", "")
    noted.fill("a line at the rim")
    other.locator("h1").click()
    phone.locator("#trial-touch").get_by_role("button", name="works").click()
    expect(phone.locator("#trial-touch [aria-pressed=true]")).to_have_text("works")
    other.wait_for_timeout(1_200)
    expect(noted).to_have_value("a line at the rim")
    other.locator("#trial-picture").get_by_role("button", name="worse").click()
    expect(phone.locator("#trial-picture [aria-pressed=true]")).to_have_text("worse")
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    kept = {one.check: one.before for one in store.get(name).record.tried}
    store.close()
    assert (kept["touch"].outcome, kept["picture"].outcome) == ("works", "worse")
    assert kept["picture"].note == "a line at the rim"


def test_a_tap_while_the_network_is_away_waits_and_counts_once_when_it_is_back(bench, opened):
    address, folder, name = bench
    phone = opened(f"{address}/trials?show=after", width=390, height=844)
    line = phone.locator("#trial-touch")
    phone.context.set_offline(True)
    line.locator("summary").click()
    line.locator("textarea").fill("typed without a network")
    line.get_by_role("button", name="worse").click()
    expect(line).to_have_attribute("data-waits", "")
    expect(line.locator("[aria-pressed=true]")).to_have_text("worse")
    expect(phone.locator("[data-outbox]")).to_contain_text("1")
    phone.context.set_offline(False)
    phone.evaluate("dispatchEvent(new Event('online'))")
    expect(phone.locator("[data-outbox]")).to_be_hidden(timeout=15_000)
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    (kept,) = [one.after for one in store.get(name).record.tried if one.check == "touch"]
    revisions = [one.summary for one in store.history(name)]
    store.close()
    assert (kept.outcome, kept.note) == ("worse", "typed without a network")
    assert revisions.count("Function check Touch, after the job: worse") == 1
    opened.faults[:] = [line for line in opened.faults if "ERR_INTERNET_DISCONNECTED" not in line]


def test_readings_that_cannot_be_read_stay_in_the_form_and_a_mended_one_is_kept(bench, opened):
    address, _, _ = bench
    page = opened(f"{address}/seal", width=390, height=844)
    for number, (time, pressure) in enumerate([("0", "10"), ("60", "9,9x")]):
        page.locator("[name=time]").nth(number).fill(time)
        page.locator("[name=pressure]").nth(number).fill(pressure)
    page.locator("#f-volume_ml").fill("10")
    page.get_by_role("button", name="Compute and keep").click()
    expect(page.get_by_role("alert")).to_contain_text("row 2, pressure: found '9,9x'")
    expect(page.locator("[name=pressure]").nth(1)).to_have_value("9,9x")
    opened.faults.clear()
    page.locator("[name=pressure]").nth(1).fill("9,9")
    page.get_by_role("button", name="Compute and keep").click()
    expect(page.locator(".kept").first).to_contain_text("the bench limit")
    expect(page.locator(".kept .drawing").first).to_be_visible()
    expect(page.locator("[name=pressure]").first).to_have_value("")
