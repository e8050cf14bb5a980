"""Marking: what is tapped on a slanted photo comes out in millimetres of the plan."""

from __future__ import annotations

import io

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image, ImageDraw

from midframe.demo import load
from midframe.photos import clean
from midframe.store import Store
from web.conftest import AT, serving
from web.test_photos import send

HEIGHT, WIDTH, _ = load("tern-2").device.size_mm
SPOTS = [(10.0, 12.0), (60.0, 15.0), (33.0, 90.0)]
JOINT = next(one.id for one in load("tern-2").joints if one.kind == "screw")


def seen(x_mm, y_mm):
    """Where a point of the plan lies on the slanted photo: a projection written out by hand."""
    depth = 1 + 0.0012 * x_mm + 0.0009 * y_mm
    return (120 + 7.5 * x_mm + 0.6 * y_mm) / depth, (90 + 0.4 * x_mm + 6.8 * y_mm) / depth


def corners():
    return [seen(*at) for at in ((0, 0), (WIDTH, 0), (WIDTH, HEIGHT), (0, HEIGHT))]


def lines(points):
    return "\n".join(f"{x:.2f} {y:.2f}" for x, y in points)


def picture():
    image = Image.new("RGB", (1000, 1300), (90, 90, 90))
    drawn = ImageDraw.Draw(image)
    drawn.polygon(corners(), fill=(30, 30, 30))
    for spot in SPOTS:
        x, y = seen(*spot)
        drawn.ellipse((x - 6, y - 6, x + 6, y + 6), fill=(230, 230, 230))
    held = io.BytesIO()
    image.save(held, "JPEG", quality=92)
    return held.getvalue()


@pytest.fixture
def marked(client, store):
    """A record with the slanted photo; gives its id and the address of the marking sheet."""
    name = store.new(load("tern-2"), at=AT).id
    send(client, name, picture())
    (photo,) = store.get(name).record.photos
    return name, f"/r/{name}/photos/{photo.hash}/mark"


def joint(store, name):
    return next(one for one in store.get(name).record.joints if one.id == JOINT)


def test_typed_points_come_out_in_millimetres(client, store, marked):
    name, address = marked
    assert client.get(address).status_code == 200
    form = {"what": f"joint:{JOINT}", "seen": "front", "corners": lines(corners())}
    answer = client.post(address, data={**form, "points": lines([seen(*at) for at in SPOTS])})
    assert answer.status_code == 303
    assert joint(store, name).spots_mm == tuple(pytest.approx(spot, abs=0.05) for spot in SPOTS)


def test_the_back_is_turned_over(client, store, marked):
    name, address = marked
    form = {"what": f"joint:{JOINT}", "seen": "back", "corners": lines(corners())}
    client.post(address, data={**form, "points": lines([seen(10.0, 12.0)])})
    assert joint(store, name).spots_mm == (pytest.approx((WIDTH - 10.0, 12.0), abs=0.05),)


def test_an_outline_goes_to_its_part(client, store, marked):
    name, address = marked
    form = {"what": "part:battery", "seen": "front", "corners": lines(corners())}
    client.post(address, data={**form, "points": lines([seen(10, 20), seen(40, 80)])})
    battery = next(one for one in store.get(name).record.parts if one.id == "battery")
    assert battery.outline_mm == (pytest.approx((10, 20), abs=0.05), pytest.approx((40, 80), abs=0.05))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"corners": "1 2\n3 4"}, "right: four"),
        ({"corners": "1 1\n2 2\n3 3\n4 4"}, "corner"),
        ({"points": "left 4"}, "line 1"),
        ({"points": "2 2"}, "off the device"),
        ({"points": ""}, "found none"),
        ({"what": "joint:nothing"}, "right: a group of screws"),
    ],
)
def test_what_does_not_fit_is_told_and_nothing_typed_is_lost(client, store, marked, change, words):
    name, address = marked
    form = {
        "what": f"joint:{JOINT}",
        "seen": "front",
        "corners": lines(corners()),
        "points": lines([seen(9, 9)]),
    }
    before = store.get(name).revision
    answer = client.post(address, data=form | change)
    assert answer.status_code == 422
    assert words in answer.text
    assert (form | change)["points"].strip() in answer.text
    assert store.get(name).revision == before


@pytest.mark.browser
@pytest.mark.parametrize(("width", "scheme", "abs_mm"), [(1280, "dark", 0.3), (390, "light", 0.6)])
def test_what_is_tapped_comes_out_in_millimetres(opened, tmp_path, width, scheme, abs_mm):
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    name = store.new(load("tern-2"), at=AT).id
    client_photo = clean(picture())
    row = store.keep_photo(name, client_photo, at=AT)
    store.close()
    with serving(tmp_path) as (address, _):
        page = opened(width=width, scheme=scheme)
        page.goto(f"{address}/r/{name}/photos")
        page.set_input_files("#f-photo", {"name": "p.jpg", "mimeType": "image/jpeg", "buffer": picture()})
        page.get_by_role("button", name="Add").click()
        for _ in range(20):  # the outbox sends it by itself
            page.wait_for_timeout(300)
            page.goto(f"{address}/r/{name}/photos")
            if page.locator(".grid a").count():
                break
        page.locator(".grid a").first.click()
        page.get_by_role("link", name="Mark screws").click()
        image = page.locator(".mark-page .frame img")
        image.scroll_into_view_if_needed()
        for at in (*corners(), *(seen(*spot) for spot in SPOTS)):
            scale = image.bounding_box()["width"] / 1000
            image.click(position={"x": at[0] * scale, "y": at[1] * scale})
        page.get_by_label("Front").check()
        page.select_option("#f-what", f"joint:{JOINT}")
        assert Axe().run(page).response["violations"] == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        page.get_by_role("button", name="Keep in millimetres").click()
        page.get_by_role("status").filter(has_text="Kept").wait_for()
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    found = joint(store, name).spots_mm
    store.close()
    assert row.width == 1000
    assert found == tuple(pytest.approx(spot, abs=abs_mm) for spot in SPOTS)
