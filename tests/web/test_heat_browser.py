"""The timer in a browser at the width of a phone: seconds that run, readings with one hand, no barrier."""

from __future__ import annotations

import json

import msgspec
import pytest
from axe_playwright_python.sync_playwright import Axe

from midframe.demo import load
from midframe.heat import settings_of
from midframe.store import Store
from web.conftest import AT, serving

pytestmark = [pytest.mark.browser, pytest.mark.slow]

BEGUN = json.dumps(
    {"joint": "battery-bond", "setting": msgspec.to_builtins(settings_of("hairdryer")[0]), "cell": "sound"}
)


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    """A server whose record is being heated; gives its address and the record's id."""
    folder = tmp_path_factory.mktemp("bench")
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    name = store.new(load("tern-3"), at=AT).id
    store.close()
    with serving(folder) as (address, _):
        yield f"{address}/r/{name}/heat", name


def test_the_timer_runs_takes_a_reading_and_a_second_screen_follows(bench, opened):
    heat, _ = bench
    page = opened(width=390, height=844)
    page.goto(f"{heat}/battery-bond/watch")
    page.evaluate(
        """begun => { const form = document.createElement("form");
        form.method = "post"; form.action = location.pathname + "/begin";
        for (const [name, value] of [["begun", begun], ["key", "k"]]) {
          const field = document.createElement("input"); field.name = name; field.value = value;
          form.append(field); }
        document.body.append(form); form.submit(); }""",
        BEGUN,
    )
    page.wait_for_selector(".timer .clock[data-runs]")
    second = opened(f"{heat}/battery-bond/watch", width=1280, scheme="dark")
    before = page.inner_text(".timer .clock")
    page.wait_for_function(
        "before => document.querySelector('.timer .clock').textContent !== before", arg=before
    )
    page.fill("#f-shown", "25,4")
    assert int(page.input_value("#f-seconds")) >= 1
    page.click("#add-reading")
    page.wait_for_selector(".typed li:has-text('25.4 °C')")
    assert page.input_value("#f-shown") == ""
    page.click("#do-off")
    page.wait_for_selector("#do-on")
    second.wait_for_selector("text=source off since", timeout=15_000)
    for one in (page, second):
        assert Axe().run(one).response["violations"] == []
        assert one.evaluate("document.documentElement.scrollWidth <= innerWidth")
    lowest = min(
        box["height"] for one in page.query_selector_all(".timer button") if (box := one.bounding_box())
    )
    assert lowest >= 44


def test_the_list_has_no_barrier_while_it_is_computed(bench, opened):
    heat, _ = bench
    for width, scheme in ((390, "light"), (1280, "dark")):
        page = opened(heat, width=width, scheme=scheme)
        page.wait_for_selector(".bonds")
        assert Axe().run(page).response["violations"] == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.click("#stop-all")
    page.wait_for_selector("#compute-all")
