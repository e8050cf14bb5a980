"""The published pages as people see them: from the disk, the network cut, on a phone and in the dark."""

from __future__ import annotations

import msgspec
import pytest
from axe_playwright_python.sync_playwright import Axe

from midframe.demo import load
from midframe.publish.site import site
from midframe.publish.site_contents import SiteSettings
from midframe.publish.site_folder import write_folder
from midframe.record.model import Photo
from publish.pictures import picture

pytestmark = pytest.mark.browser

PAGES = (
    *("index", "in/to-battery", "screws", "refit", "repairability"),
    *("lists", "chapters", "photos", "screw-sheet"),
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A demo device published with a photo, in German."""
    photo = picture()
    record = msgspec.structs.replace(load("tern-3"), photos=(Photo(hash=photo.hash, parts=("battery",)),))
    settings = SiteSettings(parts="priority", language="de")
    made = tmp_path_factory.mktemp("published") / "site"
    write_folder(made, site(record, settings, photos={photo.hash: photo.medium}))
    return made


@pytest.mark.parametrize(
    ("names", "width", "scheme"),
    [(PAGES, 390, "light"), (("index", "in/to-battery", "photos"), 1280, "dark")],
)
def test_every_page_opens_from_the_disk_alone_without_a_barrier(browser, folder, names, width, scheme):
    context = browser.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme)
    context.set_offline(True)
    page, faults, asked, wrong = context.new_page(), [], [], []
    page.on("console", lambda line: faults.append(line.text) if line.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    for name in names:
        page.goto((folder / f"{name}.html").as_uri())
        for rule in Axe().run(page, options={"preload": False}).response["violations"]:
            wrong.append((name, rule["id"], rule["nodes"][0]["html"][:140]))
        if name != "screw-sheet" and page.evaluate("document.documentElement.scrollWidth") > width:
            wrong.append((name, "sideways", ""))
        page.evaluate("Promise.all([...document.images].map(one => (one.loading = 'eager', one.decode())))")
    page.goto((folder / "index.html").as_uri())
    page.click("svg a[href*='to-battery']")
    assert page.url.endswith("in/to-battery.html")
    page.click("nav.site a >> nth=0")
    assert page.url.endswith("index.html")
    context.close()
    assert (wrong, faults) == ([], [])
    inside = folder.as_uri()
    assert [url for url in asked if not url.startswith((inside, "data:"))] == []
