"""The screws page: tally, hazards with the grave ones in front, the sheet as page, PDF, SVG and HTML."""

from __future__ import annotations

import io
import re
import zipfile

import pytest
from pypdf import PdfReader

from midframe.demo import load
from midframe.screws import tally, wrong_holes
from web.conftest import AT


@pytest.fixture
def phone(store):
    return store.new(load("tern-3"), at=AT).id


@pytest.fixture
def tablet(store):
    return store.new(load("heron-tab"), at=AT).id


def test_the_page_tallies_by_kind_and_by_cover(client, phone):
    found, page = tally(load("tern-3")), client.get(f"/r/{phone}/screws").text
    by_kind, by_cover = re.findall(r"<tbody>(.*?)</tbody>", page, re.DOTALL)[:2]
    counts = [int(one) for one in re.findall(r'<td class="n">(\d+)</td></tr>', by_kind)]
    assert counts == [line.count for line in found.kinds]
    assert sum(counts) == found.count
    assert by_cover.count("<tr>") == len(found.groups)


def test_what_harms_display_cell_and_board_comes_first(client, phone):
    hazards = wrong_holes(load("tern-3"))
    page = client.get(f"/r/{phone}/screws").text
    first = re.search(r'<ol class="rows">\s*<li><span class="pair"><strong>(.*?)</strong>', page)[1]
    assert first == hazards[0].screw
    assert hazards[0].over[0].vulnerable
    grave = page.split("<details>")[0]
    assert grave.count('<span class="what fault">') == sum(
        one.effect in ("pierces", "may pierce") for one in hazards
    )


def test_the_sheet_takes_paper_side_hand_and_labels(client, phone):
    plain = client.get(f"/r/{phone}/screws/sheet?labels=none").text
    other = client.get(f"/r/{phone}/screws/sheet?labels=none&mirrored=yes").text
    assert "seen from the back" in plain
    assert "screws of the back, mirrored" in other
    assert ">Bag<" not in plain
    with_codes = client.get(f"/r/{phone}/screws/sheet?labels=with+screws&codes=yes&paper=letter").text
    assert ">Bag<" in with_codes
    assert f"The code opens http://127.0.0.1/r/{phone}" in with_codes


@pytest.mark.parametrize("query", ["paper=A3", "lie=askew", "side=edge", "labels=few"])
def test_what_cannot_be_chosen_is_told_with_what_can(client, phone, query):
    answer = client.get(f"/r/{phone}/screws/sheet?{query}")
    assert answer.status_code == 422
    assert "it may be" in answer.text


def test_a_side_without_screws_is_told(client, phone):
    answer = client.get(f"/r/{phone}/screws/sheet?side=front")
    assert answer.status_code == 422
    assert "found no screws on the front; right: a side that has some (the back)" in answer.text


def test_svg_is_one_file_or_an_archive_of_numbered_pages(client, phone, tablet):
    one = client.get(f"/r/{phone}/screws/sheet?file=svg")
    assert one.headers["content-type"].startswith("image/svg+xml")
    assert one.text.startswith("<svg")
    many = client.get(f"/r/{tablet}/screws/sheet?file=svg&paper=letter")
    packed = zipfile.ZipFile(io.BytesIO(many.content))
    assert packed.namelist() == [f"heron-tab-screws-{number}.svg" for number in (1, 2, 3)]
    assert all(packed.read(name).startswith(b"<svg") for name in packed.namelist())
    assert client.get(f"/r/{tablet}/screws/sheet?file=svg&paper=letter").content == many.content


@pytest.mark.browser
def test_pdf_is_computed_apart_and_has_the_pages_of_the_sheet(client, tablet):
    from web.conftest import settled

    answer = settled(client, f"/r/{tablet}/screws/sheet?file=pdf&labels=none&lie=landscape")
    assert answer.headers["content-type"] == "application/pdf"
    read = PdfReader(io.BytesIO(answer.content))
    assert [round(float(page.mediabox.width) / 72 * 25.4) for page in read.pages] == [297] * 3
    again = client.get(
        f"/r/{tablet}/screws/sheet?file=pdf&labels=none&lie=landscape", headers={"Swap": "answer"}
    )
    assert "Keep the PDF" in again.text
