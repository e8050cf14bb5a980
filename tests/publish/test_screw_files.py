from __future__ import annotations

import pytest

from midframe.demo import load
from midframe.faults import BadSetting
from midframe.publish.screw_files import SheetOptions, html_of, sheets_of, svg_of


def test_without_a_side_every_side_that_has_screws_gets_its_sheet():
    assert [one.side for one in sheets_of(load("avocet-fold"), SheetOptions())] == ["front", "back"]
    assert [one.side for one in sheets_of(load("heron-tab"), SheetOptions())] == ["front"]


def test_mirrored_turns_every_hole_about_the_upright_middle():
    (plain,), (other,) = (sheets_of(load("tern-3"), SheetOptions(mirrored=hand)) for hand in (False, True))
    wide = plain.size_mm[0]
    places = {(hole.joint, hole.number): hole for hole in other.holes}
    for hole in plain.holes:
        turned = places[hole.joint, hole.number]
        assert turned.x_mm == pytest.approx(wide - hole.x_mm)
        assert turned.y_mm == hole.y_mm


def test_a_side_without_screws_is_refused_with_the_side_that_has_some():
    with pytest.raises(BadSetting, match=r"no screws on the front; right: .* \(the back\)"):
        sheets_of(load("tern-3"), SheetOptions(side="front"))


def test_labels_stand_in_the_html_only():
    record = load("tern-3")
    assert ">Bag<" in html_of(record, SheetOptions())
    assert ">Bag<" not in html_of(record, SheetOptions(labels="none"))
    assert ">Bag<" not in "".join(svg_of(record, SheetOptions()))
