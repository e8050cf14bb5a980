from __future__ import annotations

import io
import sys
from functools import cache

import msgspec
import pytest

from midframe.demo import load
from midframe.faults import BadSetting
from midframe.publish.site_contents import SiteSettings, published
from midframe.publish.typeset import STANDARD, pdf
from midframe.record.model import Photo
from publish.pictures import picture

typst = pytest.importorskip("typst")
MM = 72 / 25.4


@cache
def made(code="en", device="tern-2", paper="A4"):
    """A demo device with a photo, and its document."""
    photo = picture()
    record = msgspec.structs.replace(load(device), photos=(Photo(hash=photo.hash, caption="The board"),))
    settings = SiteSettings(language=code, parts="priority", paper=paper)
    of = published(record, settings, photos=[photo.hash])
    return of, pdf(of, {photo.hash: photo.medium})


def read(data):
    from pypdf import PdfReader

    return PdfReader(io.BytesIO(data))


def tags(node, found=None):
    """Every element of the structure tree, as dictionaries."""
    found = [] if found is None else found
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, dict):
        if "/S" in node:
            found.append(node)
        for child in [node.get("/K")] if not isinstance(node.get("/K"), list) else node["/K"]:
            if child is not None:
                tags(child, found)
    elif isinstance(node, list):
        for child in node:
            tags(child, found)
    return found


@pytest.mark.parametrize("code", ["en", "de"])
def test_the_document_is_tagged_and_says_language_title_and_standard(code):
    reader = read(made(code)[1])
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is True or root["/MarkInfo"]["/Marked"] == True  # noqa: E712
    assert root["/Lang"] == code
    assert root["/ViewerPreferences"]["/DisplayDocTitle"] == True  # noqa: E712
    assert reader.metadata.title == "Tern 2"
    assert "pdfuaid" in root["/Metadata"].get_object().get_data().decode()
    assert "/StructTreeRoot" in root


def test_headings_tables_and_figures_are_what_they_are():
    of, data = made()
    found = tags(read(data).trailer["/Root"]["/StructTreeRoot"])
    kinds = [node["/S"] for node in found]
    assert kinds.count("/H1") >= len(of.instructions) + 5
    assert kinds.count("/TH") > 20
    figures = [node for node in found if node["/S"] == "/Figure"]
    drawn = sum(1 + sum(1 + bool(move.plan) for move in one.moves) for one in of.instructions.values())
    assert len(figures) >= drawn + 2
    assert all(node.get("/Alt") for node in figures)


def test_every_instruction_and_every_caution_is_in_it():
    of, data = made()
    text = " ".join(page.extract_text() for page in read(data).pages)
    for one in of.instructions.values():
        assert f"{one.target} of Tern 2" in text
    assert "Lithium cell" in text
    assert "Never puncture" in text


def test_the_screw_sheet_keeps_its_paper_and_the_rest_has_that_which_was_asked_for():
    for paper, size in (("A4", (210, 297)), ("letter", (215.9, 279.4))):
        reader = read(made(paper=paper)[1])
        for page in reader.pages:
            wide, high = (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM)
            assert sorted((wide, high)) == pytest.approx(sorted(size), abs=0.1)


def test_the_bars_of_the_screw_sheet_are_a_hundred_millimetres_in_the_document():
    reader = read(made()[1])
    page = next(page for page in reader.pages if "Measure before use" in page.extract_text())
    boxes = [child for child in lines_of(page) if child == pytest.approx(100.0, abs=0.02)]
    assert boxes


def times(one, other):
    """Two transformations of a page, one after the other."""
    a, b, c, d, e, f = one
    g, h, i, j, k, m = other
    whole = (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j)
    return (*whole, e * g + f * i + k, e * h + f * j + m)


def lines_of(page):
    """Lengths in millimetres of the horizontal lines of a page, in every form that it shows."""
    yield from walked(page, page.get_contents(), page["/Resources"], (1, 0, 0, 1, 0, 0))


def walked(page, stream, resources, matrix):
    from pypdf.generic import ContentStream

    stack, last = [], (0.0, 0.0)
    for operands, operator in ContentStream(stream, page.pdf).operations:
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = times([float(value) for value in operands], matrix)
        elif operator in (b"m", b"l"):
            here = tuple(float(value) for value in operands)
            if operator == b"l" and here[1] == last[1]:
                yield abs(here[0] - last[0]) * abs(matrix[0]) / MM
            last = here
        elif operator == b"Do":
            inner = resources["/XObject"][operands[0]].get_object()
            if inner["/Subtype"] == "/Form":
                own = [float(value) for value in inner.get("/Matrix", (1, 0, 0, 1, 0, 0))]
                yield from walked(page, inner, inner.get("/Resources", resources), times(own, matrix))


def test_the_same_device_gives_the_same_bytes():
    of, data = made()
    assert pdf(of, {name: picture().medium for name in of.photos}) == data


def test_the_standard_refuses_a_picture_without_words():
    sources = {
        "main.typ": b'#set document(title: "x")\n#image("a.svg")',
        "a.svg": b'<svg xmlns="http://www.w3.org/2000/svg" width="1" height="1"/>',
    }
    with pytest.raises(RuntimeError, match="alt"):
        typst.compile(sources, pdf_standards=[STANDARD], ignore_system_fonts=True)


def test_a_sign_that_no_font_has_is_named_with_what_would_be_right():
    record = load("tern-2")
    parts = tuple(msgspec.structs.replace(one, name="電池") for one in record.parts)
    of = published(msgspec.structs.replace(record, parts=parts), SiteSettings(parts="priority", sheets=()))
    with pytest.raises(BadSetting, match=r"PDF: found a sign that no font has.*--fonts"):
        pdf(of)


def test_hostile_names_are_only_text():
    evil = '#panic("x") $ ` \\ </svg> @a <b> [c] "d" \x07\u202e'
    record = load("tern-2")
    hostile = msgspec.structs.replace(
        record,
        device=msgspec.structs.replace(record.device, name=evil),
        parts=tuple(msgspec.structs.replace(one, name=evil, note=evil) for one in record.parts),
    )
    of = published(hostile, SiteSettings(parts="priority"))
    assert "#panic" in read(pdf(of)).metadata.title


def test_without_the_extra_the_message_says_how_to_install_it(monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(BadSetting, match="pip install typst"):
        pdf(made()[0])
