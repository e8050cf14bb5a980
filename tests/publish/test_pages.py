"""The instruction as people see it: on a phone, on a wide screen, in the dark, on paper."""

from __future__ import annotations

import re
import zlib

import pytest
from axe_playwright_python.sync_playwright import Axe

pytestmark = pytest.mark.browser

JOBS = [("tern-3", "battery"), ("heron-tab", "battery")]
MM = 72 / 25.4


@pytest.fixture
def show(browser):
    """Opens a page and, at the end, asserts that nothing failed and nothing was fetched."""
    opened, faults, asked = [], [], []

    def opener(html, width, scheme="light"):
        context = browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
        opened.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda line: faults.append(line.text) if line.type == "error" else None)
        page.on("request", lambda request: asked.append(request.url))
        page.set_content(html)
        return page

    yield opener
    for context in opened:
        context.close()
    assert faults == []
    assert [url for url in asked if not url.startswith("data:")] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1280])
def test_no_barrier_is_found_by_axe(html_of, show, width, scheme):
    page = show(html_of("tern-3", "battery"), width, scheme)
    found = Axe().run(page).response["violations"]
    assert [(rule["id"], rule["nodes"][0]["html"][:120]) for rule in found] == []


def test_the_german_page_has_no_barrier_and_nothing_runs_out_of_it_sideways(html_of, show):
    page = show(html_of("tern-3", "battery", language="de"), 320)
    found = Axe().run(page).response["violations"]
    assert [(rule["id"], rule["nodes"][0]["html"][:120]) for rule in found] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


@pytest.mark.parametrize(("device", "target"), JOBS)
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_runs_out_of_the_page_sideways(html_of, show, device, target, width):
    page = show(html_of(device, target), width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_the_dark_page_is_dark_and_the_light_one_light(html_of, show):
    shade = "getComputedStyle(document.documentElement).backgroundColor.match(/\\d+/g).map(Number)[0]"
    assert show(html_of("tern-3", "battery"), 390, "light").evaluate(shade) > 200
    assert show(html_of("tern-3", "battery"), 390, "dark").evaluate(shade) < 50


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_labels_inside_a_drawing_do_not_overlap(html_of, show, scheme):
    page = show(html_of("tern-3", "battery"), 390, scheme)
    clashes = page.evaluate(
        """() => [...document.querySelectorAll('svg.drawing')].flatMap(svg => {
            const boxes = [...svg.querySelectorAll('text')].map(
                t => [t.textContent, t.getBoundingClientRect()]);
            return boxes.flatMap(([a, p], i) => boxes.slice(i + 1).filter(([b, q]) =>
                p.left < q.right - 1 && q.left < p.right - 1 && p.top < q.bottom - 4 && q.top < p.bottom - 4
            ).map(([b]) => a + ' / ' + b));
        })"""
    )
    assert clashes == []


def test_labels_stay_inside_their_drawing(html_of, show):
    page = show(html_of("tern-3", "battery"), 390)
    outside = page.evaluate(
        """() => [...document.querySelectorAll('svg.drawing')].flatMap(svg => {
            const frame = svg.getBoundingClientRect();
            return [...svg.querySelectorAll('text')].filter(t => {
                const box = t.getBoundingClientRect();
                return box.left < frame.left - 1 || box.right > frame.right + 1;
            }).map(t => t.textContent);
        })"""
    )
    assert outside == []


@pytest.mark.parametrize(("paper", "size"), [("A4", (210, 297)), ("letter", (215.9, 279.4))])
def test_print_fits_the_paper_in_a_sane_number_of_pages(html_of, show, paper, size):
    page = show(html_of("tern-3", "battery", paper), 1280, "dark")
    printed = page.pdf(prefer_css_page_size=True)
    sizes = pages_of(printed)
    assert 6 <= len(sizes) <= 14
    for wide, high in sizes:
        assert (wide / MM, high / MM) == pytest.approx(size, abs=0.5)


def test_no_move_is_taller_than_a_printed_page(html_of, show):
    page = show(html_of("tern-3", "battery"), 680)
    page.emulate_media(media="print")
    heights = page.eval_on_selector_all(
        ".move", "moves => moves.map(move => move.getBoundingClientRect().height)"
    )
    assert len(heights) == 19
    assert max(heights) < 260 / 25.4 * 96


def pages_of(pdf):
    """Width and height of every page of a PDF file, in points; object streams are unpacked."""
    text = pdf
    for stream in re.findall(rb"stream\r?\n(.*?)endstream", pdf, re.DOTALL):
        try:
            text += zlib.decompress(stream)
        except zlib.error:
            continue
    boxes = re.findall(rb"/MediaBox\s*\[\s*([\d. ]+)\]", text)
    return [tuple(float(number) for number in box.split()[2:4]) for box in boxes]


def test_the_number_of_a_move_stays_on_one_line_on_a_phone(html_of, show):
    page = show(html_of("tern-3", "battery"), 390)
    lines = page.eval_on_selector_all(
        ".move .number",
        """numbers => numbers.map(number => {
            const range = document.createRange();
            range.selectNodeContents(number);
            return range.getClientRects().length;
        })""",
    )
    assert lines == [1] * 19
