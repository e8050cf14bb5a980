"""The printed screw sheet, measured: coordinates are read back from the content stream of the PDF."""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree

import pytest

from midframe.demo import load, names
from midframe.dossier.trays import Tray
from midframe.publish.language import language, languages
from midframe.publish.paper import BAR_MM, UPRIGHT_BAR_MM
from midframe.publish.printing import print_pdf
from midframe.publish.screw_pages import (
    LABEL_LINES,
    bag_texts,
    joints_of,
    label_pages,
    screw_line,
    sheet_html,
    sheet_svg,
    tray_texts,
)
from midframe.publish.screw_sheet import screw_sheet, sides
from midframe.screws import Group, Kind
from publish.geometry import middle, pages

TOLERANCE_MM = 0.1

SHEETS = [
    ("tern-3", "A4", False, (210, 297), 1),
    ("tern-3", "letter", False, (215.9, 279.4), 1),
    ("tern-3", "A4", True, (297, 210), 1),
    ("avocet-fold", "A4", False, (210, 297), 1),
    ("heron-tab", "A4", False, (210, 297), 1),
    ("heron-tab", "letter", False, (215.9, 279.4), 2),
    ("heron-tab", "A4", True, (297, 210), 2),
]


def nearest(points, x, y):
    return min(math.hypot(px - x, py - y) for px, py in points)


def length(line):
    (x1, y1), (x2, y2) = line
    return math.hypot(x2 - x1, y2 - y1)


@pytest.mark.browser
@pytest.mark.parametrize(("name", "on", "landscape", "size", "tiles"), SHEETS)
def test_every_hole_and_both_bars_are_at_true_scale_on_paper(name, on, landscape, size, tiles):
    record = load(name)
    sheets = [screw_sheet(record, side, on=on, landscape=landscape) for side in sides(record)]
    printed = pages(print_pdf(sheet_html(sheets, labels="none")))
    at = 0
    worst = 0.0
    for sheet in sheets:
        assert len(sheet.tiles) == tiles
        for tile in sheet.tiles:
            page = printed[at]
            at += 1
            assert page.size_mm == pytest.approx(size, abs=0.2)
            assert min(abs(length(line) - BAR_MM) for line in page.lines) < TOLERANCE_MM
            assert min(abs(length(line) - UPRIGHT_BAR_MM) for line in page.lines) < TOLERANCE_MM
            crosses = [middle(line) for line in page.lines]
            for hole in sheet.holes:
                if sheet.shows(tile, hole.x_mm, hole.y_mm):
                    x, y = sheet.on_page(tile, hole.x_mm, hole.y_mm)
                    off = max(nearest(page.centres, x, y), nearest(crosses, x, y))
                    worst = max(worst, off)
                    assert off < TOLERANCE_MM, (hole, off)
        at += len(sheet_svg(sheet)) - len(sheet.tiles)
    assert at == len(printed)
    assert worst < TOLERANCE_MM


@pytest.mark.browser
def test_the_distances_between_holes_of_the_record_are_those_on_paper():
    # Independent of our own layout: distances of the record's coordinates against those of drawn circles.
    record = load("tern-3")
    sheet = screw_sheet(record, "back")
    page = pages(print_pdf(sheet_html([sheet], labels="none")))[0]
    spots = [spot for joint in record.joints if joint.kind == "screw" for spot in joint.spots_mm]
    assert len(spots) == 36
    rightmost = max(spots)  # seen from the back it is the leftmost: its place on paper fixes the others
    x0, y0 = sheet.on_page(sheet.tiles[0], 74.8 - rightmost[0], rightmost[1])
    for x, y in spots:
        assert nearest(page.centres, x0 + rightmost[0] - x, y0 + y - rightmost[1]) < TOLERANCE_MM


def test_a_sheet_that_is_printed_one_per_cent_too_small_would_be_found():
    on_paper = [(10.0, 20.0), (82.0, 180.0)]
    assert max(nearest(on_paper, x * 0.99, y * 0.99) for x, y in on_paper) > TOLERANCE_MM


@pytest.mark.browser
def test_neighbouring_tiles_join_at_their_crosses():
    sheet = screw_sheet(load("heron-tab"), "front", on="letter")
    first, second = pages(print_pdf(sheet_html([sheet], labels="none")))[:2]
    marks = list(joints_of(sheet))
    assert len(marks) == 2
    for mark in marks:
        for page, tile in zip((first, second), sheet.tiles, strict=True):
            x, y = sheet.on_page(tile, *mark)
            arms = [line for line in page.lines if abs(length(line) - 6.0) < 0.05]
            assert (
                min(math.hypot((a[0] + b[0]) / 2 - x, (a[1] + b[1]) / 2 - y) for a, b in arms) < TOLERANCE_MM
            )


def test_every_page_is_well_formed_and_sized_in_millimetres():
    sheet = screw_sheet(load("heron-tab"), "front", on="letter")
    drawn = [*sheet_svg(sheet), *label_pages(sheet, "http://bench.test/records/1")]
    for page in drawn:
        root = ElementTree.fromstring(page)
        assert (root.get("width"), root.get("height")) == ("215.9mm", "279.4mm")
        assert root.get("viewBox") == "0 0 215.9 279.4"
        assert root.find("{http://www.w3.org/2000/svg}title").text
    assert len(drawn) == 5


def test_every_hole_is_drawn_once_on_a_plan_of_one_page():
    sheet = screw_sheet(load("tern-3"), "back")
    assert sheet_svg(sheet)[0].count("<circle") == 36


def test_a_label_without_an_address_has_no_code_and_says_so():
    sheet = screw_sheet(load("tern-2"), "back")
    without, with_code = next(label_pages(sheet)), next(label_pages(sheet, "http://bench.test/1"))
    assert "<path" not in without
    assert "no address" in without
    assert with_code.count("<path") == 27


def test_the_code_on_a_label_opens_the_record():
    import zxingcpp
    from PIL import Image, ImageDraw

    link = "http://bench.test:8000/records/tern-3"
    path = next(label_pages(screw_sheet(load("tern-2"), "back"), link)).split('<path d="')[1].split('"')[0]
    image = Image.new("L", (700, 500), 255)
    draw = ImageDraw.Draw(image)
    for run in path.strip("Mz").split("zM"):
        x, rest = run.split(" ")
        y, rest = rest.split("h", 1)
        wide, rest = rest.split("v", 1)
        x, y, wide, high = float(x), float(y), float(wide), float(rest.split("h")[0])
        draw.rectangle([x * 10, y * 10, (x + wide) * 10, (y + high) * 10], fill=0)
    assert [code.text for code in zxingcpp.read_barcodes(image)] == [link]


@pytest.mark.parametrize("code", languages())
def test_no_label_hides_a_screw_and_the_bag_counts_them_all(code):
    for name in names():
        record = load(name)
        sheet = screw_sheet(record, sides(record)[0])
        for tray in sheet.trays:
            title, lines = tray_texts(tray, language(code))
            assert title.endswith(f" {tray.number}")
            assert len(lines) <= LABEL_LINES
            assert [line for line in lines if "×" in line] == [
                screw_line(group, language(code)) for group in tray.screws
            ]
        total = sum(tray.count for tray in sheet.trays)
        assert f", {total} " in bag_texts(sheet, language(code))[1][0]


def test_a_tray_of_many_things_counts_what_finds_no_room():
    kind = Kind("", "M1.4", "pan", 3.0)
    groups = tuple(Group(f"j{n}", "plate", "ABCDEFG"[n], kind, n + 1, True, (), None) for n in range(7))
    parts = tuple("abc")
    few = Tray(1, 3, parts, ("Board", "Shield over the whole of the main board", "Flex"), groups[:1])
    assert tray_texts(few, language())[1] == [
        "Board",
        "Shield over the whole of the",
        "main board",
        "Flex",
        "1 × A  M1.4×3 pan",
    ]
    many = Tray(2, 9, parts, ("Board", "Shield", "Flex", "Cable", "Foam"), groups[:2])
    assert tray_texts(many, language())[1][:3] == ["Board", "Shield", "and 3 parts more"]
    full = Tray(3, 9, parts, ("Board", "Shield"), groups)
    screws = [f"{count} × {letter}  M1.4×3 pan" for count, letter in ((1, "A"), (2, "B"), (3, "C"))]
    assert tray_texts(full, language())[1] == ["2 parts", *screws, "and 22 screws more: see the list"]


def test_labels_may_be_printed_for_trays_with_screws_only():
    sheet = screw_sheet(load("tern-3"), "back")
    filled = sum(bool(tray.screws) for tray in sheet.trays)
    drawn = "".join(label_pages(sheet, "", "with screws"))
    assert len(re.findall(r">Tray \d", drawn)) == filled < len(sheet.trays)
    assert drawn.count(">Bag<") == 1
