from __future__ import annotations

from pathlib import Path

import pytest

from cli.small import data, run
from midframe.demo import load
from midframe.screws import tally, wrong_holes


def test_the_sheet_of_text_tells_tally_pairs_and_hazards_in_order():
    output = run("screws", "demo:tern-3").output
    places = [
        output.index(word) for word in ("36 screws", "Mistaken for each other", "Wrong hole", "Sources")
    ]
    assert places == sorted(places)
    assert "reaches Display assembly" in " ".join(output.split())


def test_mild_hazards_are_counted_and_listed_on_request():
    assert "32 further cases where another screw bites askew" in " ".join(
        run("screws", "demo:tern-3").output.split()
    )
    assert "further case" not in run("screws", "demo:tern-3", "--all").output


def test_the_json_is_what_the_library_gives():
    found = data("screws", "demo:tern-2")
    library = load("tern-2")
    assert found["count"] == tally(library).count
    assert [one["joint"] for one in found["wrong_holes"]] == [one.joint for one in wrong_holes(library)]


def test_svg_of_several_pages_is_numbered_and_nothing_is_overwritten():
    assert run("screws", "demo:heron-tab", "--paper", "letter", "-o", "s.svg").exit_code == 0
    assert sorted(path.name for path in Path().glob("s*.svg")) == ["s-1.svg", "s-2.svg", "s-3.svg"]
    again = run("screws", "demo:heron-tab", "--paper", "letter", "-o", "s.svg")
    assert again.exit_code == 1
    assert "a new name" in again.stderr
    assert run("screws", "demo:heron-tab", "--paper", "letter", "-o", "s.svg", "--force").exit_code == 0


def test_html_holds_labels_and_takes_the_order_of_a_way():
    assert (
        run("screws", "demo:tern-2", "-o", "s.html", "--to", "battery", "--lie", "landscape").exit_code == 0
    )
    text = Path("s.html").read_text(encoding="utf-8")
    assert "@page{size:297mm 210mm;margin:0}" in text
    assert "Tray 1" in text
    assert "stays in" in text


@pytest.mark.browser
def test_pdf_is_printed():
    assert run("screws", "demo:tern-2", "-o", "s.pdf").exit_code == 0
    assert Path("s.pdf").read_bytes().startswith(b"%PDF")


def test_a_name_that_says_no_format_is_refused():
    result = run("screws", "demo:tern-2", "-o", "sheet.doc")
    assert result.exit_code == 1
    assert ".pdf, .html or .svg" in result.stderr


def test_a_record_without_screws_says_so(tmp_path):
    text = 'format = 1\n[device]\nname = "Bare"\nkind = "phone"\nbody = "frame"\n'
    text += '[[parts]]\nid = "frame"\nname = "Frame"\n'
    Path("bare.toml").write_text(text, encoding="utf-8")
    assert "no screw" in run("screws", "bare.toml").output


def test_hand_and_labels_are_asked_for_by_options():
    assert run("screws", "demo:tern-3", "-o", "a.html", "--mirrored", "--labels", "none").exit_code == 0
    text = Path("a.html").read_text(encoding="utf-8")
    assert "screws of the back, mirrored" in text
    assert ">Bag<" not in text
    assert run("screws", "demo:tern-3", "-o", "b.html", "--labels", "with screws").exit_code == 0
    assert ">Bag<" in Path("b.html").read_text(encoding="utf-8")


def test_a_side_without_screws_is_told_with_the_side_that_has_some():
    result = run("screws", "demo:tern-3", "-o", "a.html", "--side", "front")
    assert result.exit_code == 1
    assert "no screws on the front; right: a side that has some (the back)" in result.stderr
