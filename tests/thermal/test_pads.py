from __future__ import annotations

import pytest

from midframe.faults import BadSetting
from midframe.thermal import common_pads, pads_from
from midframe.thermal.pads import checked

CSV = """name,thickness_mm,conductivity_w_mk,percent_at_10_psi,percent_at_50_psi
Grey,0.5,6,12,34
Blue,1.0,3,,
"""
TOML = """
[[pads]]
name = "Grey"
thickness_mil = 20
conductivity_btu_in_hft2f = 41.6
percent_at_69_kpa = 12

[[pads]]
name = "Putty"
kind = "putty"
thickness_mm = 1
conductivity_w_mk = 4
"""


def test_a_list_as_csv_with_the_deflection_of_the_datasheet():
    grey, blue = pads_from(CSV)
    assert (grey.name, grey.thickness_mm, grey.conductivity_w_mk) == ("Grey", 0.5, 6.0)
    assert [round(kpa, 1) for kpa, _ in grey.deflection] == [68.9, 344.7]
    assert [share for _, share in grey.deflection] == [0.12, 0.34]
    assert blue.deflection == ()


def test_a_list_as_toml_in_other_units():
    grey, putty = pads_from(TOML)
    assert grey.thickness_mm == pytest.approx(0.508)
    assert grey.conductivity_w_mk == pytest.approx(6.0, abs=0.01)
    assert grey.deflection == ((69.0, 0.12),)
    assert putty.kind == "putty"


def test_semicolons_and_decimal_commas():
    assert pads_from("name;thickness_mm;conductivity_w_mk\nA;0,5;6\n")[0].thickness_mm == 0.5


def test_every_row_that_cannot_be_is_told_at_once():
    text = "name,thickness_mm,conductivity_w_mk\nA,500,6\nB,0.5,half\nC,0.5,\n"
    with pytest.raises(BadSetting) as caught:
        pads_from(text, "mine.csv")
    told = str(caught.value).splitlines()
    assert told[0].startswith(
        "mine.csv, line 2: pad A: found 500 mm; right: 0.02 to 10 mm (500 µm are 0.5 mm"
    )
    assert told[1] == "mine.csv, line 3, conductivity_w_mk: found 'half'; right: a number, such as 0.5"
    assert told[2] == "mine.csv, line 4: found no conductivity; right: both"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "found no pad; right: rows"),
        ("thickness_mm,conductivity_w_mk\n1,3,9\n", "line 2: found more fields than heads"),
        ("thickness_mm,price\n1,3\n", "line 2: found 'price'; right: keys such as"),
        ("thickness_cm,conductivity_w_mk\n1,3\n", "found the unit 'cm'"),
        ("thickness_mm,conductivity_w_mk,kind\n1,3,foil\n", "found the kind 'foil'; right: pad or putty"),
        ("thickness_mm,conductivity_w_mk,percent_at_psi\n1,3,9\n", "found 'percent_at_psi'; right: such as"),
        ("thickness_mm,conductivity_w_mk,percent_at_10_psi\n1,3,120\n", "more than 0 and less than 100"),
        (
            "thickness_mm,conductivity_w_mk,percent_at_10_psi,percent_at_50_psi\n1,3,30,20\n",
            "gives less at more pressure",
        ),
        ("thickness_mm,conductivity_w_mk\n1,400\n", r"found 400 W/\(m·K\); right: 0.1 to 100"),
        ("[[pads]]\nthickness_mm = \n", "right: TOML with"),
        ("[[pad]]\nthickness_mm = 1\n", r"found pad; right: \[\[pads\]\]"),
    ],
)
def test_a_list_that_cannot_be_read_says_what_would_be_right(text, words):
    with pytest.raises(BadSetting, match=words):
        pads_from(text)


def test_every_common_pad_is_one_that_can_be():
    assert [checked(pad) for pad in common_pads()] == list(common_pads())
