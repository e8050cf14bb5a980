"""A log read on a phone: chosen, its columns looked at, the result kept; no barrier on the way."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from midframe.demo import load
from midframe.store import Store
from web.conftest import AT, serving

pytestmark = [pytest.mark.browser, pytest.mark.slow]

LOG = "one;two;three\n" + "\n".join(
    f"{60 * at};{4.1 - at * 0.003:.3f};{-800 if at < 240 else 0}".replace(".", ",") for at in range(260)
)


@pytest.mark.parametrize("width", [390])
def test_a_log_is_read_and_kept_with_one_thumb(opened, tmp_path, width):
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    name = store.new(load("tern-3"), at=AT).id
    store.close()
    (tmp_path / "meter.csv").write_text(LOG, encoding="utf-8")

    def clear():
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert [rule["id"] for rule in Axe().run(page).response["violations"]] == []

    with serving(tmp_path) as (address, _):
        page = opened(f"{address}/r/{name}/battery", width=width)
        page.get_by_label("CSV of the meter or cycler").set_input_files(tmp_path / "meter.csv")
        page.get_by_label("Battery at the start").fill("90")
        page.get_by_label("Battery at the end").fill("25")
        page.get_by_role("button", name="Read the log").click()
        page.get_by_role("heading", name="What its columns are").wait_for()
        clear()
        for role, column, unit in (("Time", "one", "s"), ("Voltage", "two", "V"), ("Current", "three", "mA")):
            page.get_by_label(f"{role}: column", exact=True).select_option(column)
            page.get_by_label(f"{role}: unit", exact=True).select_option(unit)
        page.get_by_label("positive while charging", exact=True).check()
        page.get_by_role("button", name="These are the columns").click()
        page.get_by_role("heading", name="Result").wait_for()
        assert page.get_by_role("img", name="State of health").count() == 1
        clear()
        page.get_by_role("button", name="Keep with the record").click()
        page.get_by_text("Discharge logged at the cell, 90 to 25 %; meter.csv.").wait_for()
        clear()
        page.get_by_label("Swollen").check()
        page.get_by_role("button", name="Keep", exact=True).click()
        page.get_by_text("This cell was seen swollen.").wait_for()
        clear()
