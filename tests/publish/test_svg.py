from __future__ import annotations

from xml.etree import ElementTree

import tinycss2
from hypothesis import given
from hypothesis import strategies as st

from midframe.publish.icons import KINDS, SHAPES, legend_icon
from midframe.publish.svg import drawing, legible, number, standalone, style, words

SVG = "{http://www.w3.org/2000/svg}"


@given(st.text(max_size=60))
def test_any_text_makes_a_well_formed_drawing_with_its_title(text):
    root = ElementTree.fromstring(drawing(10, 10, text, text, [words(0, 0, text)]))
    assert root.get("role") == "img"
    assert root.find(f"{SVG}title") is not None
    assert root.find(f"{SVG}desc") is not None


def test_a_drawing_alone_carries_its_styles():
    root = ElementTree.fromstring(standalone(drawing(10, 10, "a", "b", [])))
    assert "d-slab" in (root.findtext(f"{SVG}style") or "")


def test_the_style_sheet_of_the_drawings_parses():
    rules = tinycss2.parse_stylesheet(style(), skip_comments=True, skip_whitespace=True)
    assert len(rules) > 10
    assert not [rule for rule in rules if rule.type == "error"]


def test_every_kind_of_joint_has_a_mark_of_its_own():
    marks = {legend_icon(kind) for kind in KINDS}
    assert set(SHAPES) == set(KINDS)
    assert len(marks) == len(KINDS)
    for mark in marks:
        ElementTree.fromstring(mark)


def test_zero_is_never_negative():
    assert [number(value) for value in (-0.04, 0.0, -1.0, 0.06)] == ["0", "0", "-1", "0.1"]


def test_control_characters_and_turns_of_direction_become_spaces():
    assert legible("a\x1b[31mb\x9bc\u202ed\u2066e") == "a [31mb c d e"
    assert legible("Ä 60 °C · ж") == "Ä 60 °C · ж"
