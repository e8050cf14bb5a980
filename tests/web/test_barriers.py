"""Every page of the bench: no barrier that axe finds, nothing sideways out of the page, no message."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe

from midframe.demo import load
from midframe.publish.job import Begun, InHole, OnOrder, PutAway, Ticked, Told, Warned, Weighed, job_of
from midframe.publish.pause import DEVICE
from midframe.publish.progress import progress
from midframe.publish.refit import moves_of_log
from midframe.store import Store
from midframe.web.jobs import tell
from web.conftest import AT, serving

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SHEETS = (
    *(
        "",
        "/parts",
        "/edit/parts/battery",
        "/photos",
        "/ways",
        "/ways/battery",
        "/instruction/battery?language=de",
        "/screws",
    ),
    *("/checks", "/trials", "/trials?show=difference", "/seal", "/battery"),
    *("/index", "/upkeep", "/what-if", "/compare", "/publish", "/history", "/versions"),
    *("/layers", "/layers?replace=pad-processor&power=3"),
    *("/heat/battery-bond?with=hairdryer", "/heat/battery-bond/sources", "/heat/battery-bond/watch"),
    *("/refit", "/refit?part=battery", "/pause"),
)


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    """A server with one demo device; gives its address and the record's id."""
    folder = tmp_path_factory.mktemp("bench")
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    name = store.new(load("tern-2"), at=AT).id
    tell(store, name, refit_with_a_wrong_screw(), at=AT, author="Ann")
    store.close()
    with serving(folder) as (address, _):
        yield address, name


def refit_with_a_wrong_screw():
    """A refit with a wrong screw, a warning, a weighing, and the job put away with something on order."""
    record = load("tern-2")
    begun = Begun("log", moves_of_log(record))
    steps = progress(record, job_of([Told(begun)])).steps
    at = next(step for step in steps if step.line.screws and len(step.holes) > 3)
    done = [Ticked(step.key) for step in steps[: at.line.number - 1]]
    wrong = [InHole(at.line.joint, 1, "A"), InHole(at.line.joint, 2, "B"), Warned(at.key, "no screw")]
    rest = [PutAway(((DEVICE, "shelf 2"),), "call first"), OnOrder("1", "Battery", "battery", "Friday")]
    return [begun, *done, *wrong, Weighed("first", 190.1), Weighed("last", 188.0), *rest]


def settled(page, address):
    """The page once nothing is being computed any more."""
    page.goto(address)
    for _ in range(60):
        if not page.locator(".working").count():
            return
        page.wait_for_timeout(500)
    raise AssertionError(f"{address}: still computing after 30 s")


@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_no_barrier_and_nothing_sideways(bench, opened, width, scheme):
    address, name = bench
    page, wrong = opened(width=width, scheme=scheme), []
    for sheet in ("/", "/draft", "/settings", *(f"/r/{name}{one}" for one in SHEETS)):
        settled(page, address + sheet)
        for rule in Axe().run(page).response["violations"]:
            wrong.append((sheet, rule["id"], rule["nodes"][0]["html"][:140]))
        if page.evaluate("document.documentElement.scrollWidth") > width:
            wrong.append((sheet, "sideways", ""))
    assert wrong == []
