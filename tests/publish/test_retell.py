"""What the index and the legal findings say in English, told in another language."""

from __future__ import annotations

import random
from functools import cache

import msgspec
import pytest

from midframe.demo import load, names
from midframe.dossier.index import device_index
from midframe.index.evidence import PRIORITY_ROLES, DeviceEvidence, Fastener, PartEvidence, ToolUse
from midframe.index.regulations import judge_all
from midframe.publish.blocks import Other
from midframe.publish.language import language, languages
from midframe.publish.retell import clause, listed, retold, told
from midframe.ways.wording import in_sentence, joint_words

OTHERS = [code for code in languages() if code != "en"]


def poor(kind):
    """Evidence with as much missing, forbidden and ruined as one device can have."""
    tools = (ToolUse(name="own key", group="proprietary"), ToolUse(name="odd tool", group=None))
    glue = (
        Fastener(joint="g", name="glue", level="none"),
        Fastener(joint="s", name="screws", level=None, assumed=True),
        Fastener(joint="t", name="tape", level="removable"),
    )
    whole = {"fasteners": glue, "tools": tools, "way_fasteners": glue, "way_tools": tools, "steps": 9}
    parts = (
        PartEvidence(
            part="b", name="Cell", role="battery", spare="none", damages=("Tape",), uses_heat=True, **whole
        ),
        PartEvidence(part="d", name="Pane", role="display", spare="professional", uses_solvent=True, **whole),
        PartEvidence(part="c", name="Lens", role="rear_camera", steps=None, spare=None),
        PartEvidence(part="k", name="Lid", role="back_cover", steps=None, remote=("notification",)),
    )
    return DeviceEvidence(
        name="slab", kind=kind, parts=parts, foldable=kind == "tablet", updates_years=2, ingress="IP20",
        repair_information="none", full_cycles=1000, remaining_after_1000_percent=60,
    )  # fmt: skip


@cache
def judged():
    """Everything that is told of the demo devices and of some that lack as much as can be."""
    found = [(name, device_index(load(name)).judgements) for name in names()]
    found += [(f"poor {kind}", judge_all(poor(kind))) for kind in ("phone", "tablet")]
    bare = {
        "empty": DeviceEvidence(name="slab", kind="phone", parts=()),
        "absent": DeviceEvidence(name="slab", kind="tablet", parts=(), absent=PRIORITY_ROLES),
    }
    return found + [(name, judge_all(device)) for name, device in bare.items()]


def texts_of(judgement):
    """The sentences of one judgement that a page shows, names alone left out."""
    yield from (judgement.applies_because, judgement.consolidation, *judgement.notes)
    yield from (one.text for one in judgement.readings if not one.id[1:].isdigit())
    for one in judgement.findings:
        yield one.duty
        if one.verdict != "met" or not one.duty.startswith(("fasteners:", "tools:")):
            yield one.why
    made = judgement.index
    if made is None:
        return
    yield from (*made.trace, *made.notes, made.consolidation)
    yield from (one.text for one in made.readings if not one.id[1:].isdigit())
    yield from (one.what for one in (*made.missing, *made.undefined))
    yield from (one.rule for one in made.undefined)
    for row in made.rows:
        yield from row.step_lines


@pytest.mark.parametrize("code", OTHERS)
def test_every_sentence_of_the_index_and_the_findings_is_told(code):
    said, unknown, count = language(code), set(), 0
    for _, judgements in judged():
        for judgement in judgements:
            for text in texts_of(judgement):
                count += 1
                if retold(text, said, str) is None and not is_list(text, said):
                    unknown.add(text)
    assert unknown == set()
    assert count > 1_000


def is_list(text, said):
    """Whether a text only lists things with their level: `heating mat (commercial), own key (basic)`."""
    return all(retold(item, said, str) is not None for item in text.split(", "))


@pytest.mark.parametrize("code", OTHERS)
def test_a_sentence_keeps_its_figures_and_its_names(code):
    said = language(code)
    text = (
        "Cell: 9 steps + 2 for remote actions (C8) = 11, 1 points; fastener glue (none): no score defined; "
        "tool own key (proprietary): 4, from Pane [lbl-2023-1669, Annex IV point 5]"
    )
    line = told(text, said)
    assert [piece.text for piece in line if isinstance(piece, Other)] == ["Cell", "glue", "own key", "Pane"]
    text = "".join(piece if isinstance(piece, str) else piece.text for piece in line)
    assert all(figure in text for figure in ("9 ", "+ 2 ", "(C8) = 11", "lbl-2023-1669", " 4,"))


def test_german_sums_have_commas_and_their_clause():
    (text,) = told("SF = 0.30·3 + 0.10·(1 to 5) = 1.00 to 3.50 [lbl-2023-1669, Annex IV point 5, Fasteners]",
                   language("de"))  # fmt: skip
    assert text == (
        "SF = 0,30·3 + 0,10·(1 bis 5) = 1,00 bis 3,50 [lbl-2023-1669, Anhang IV Nr. 5, Verbindungselemente]"
    )
    assert clause("Annex II B points 1.1(1)(c)(i) and 1.1(5)(b)", language()) == (
        "Annex II B points 1.1(1)(c)(i) and 1.1(5)(b)"
    )


def test_what_is_not_known_stays_and_is_marked():
    assert told("a sentence of nobody", language("de")) == (Other("a sentence of nobody", "en"),)
    assert told("a sentence of nobody", language("de"), "de") == ("a sentence of nobody",)
    assert told("a sentence of nobody", language()) == ("a sentence of nobody",)


def varied(device, rng):
    """The same device with other offers, levels and tools, and with more that is not known."""
    levels = (None, "none", "removable", "resupplied", "reusable")
    groups = (None, "basic", "spare_set", "product_set", "commercial", "proprietary")

    def otherwise(part):
        fasteners, tools = (
            tuple(msgspec.structs.replace(one, **{field: rng.choice(values)}) for one in ones)
            for ones, field, values in (
                (part.way_fasteners or (), "level", levels),
                (part.way_tools or (), "group", groups),
            )
        )
        return msgspec.structs.replace(
            part,
            spare=rng.choice((None, "none", "professional", "end_user")),
            uses_heat=rng.random() < 0.5,
            uses_solvent=rng.random() < 0.5,
            damages=rng.choice(((), ("Tape", "Foil"))),
            remote=rng.choice(((), ("authorisation",))),
            way_fasteners=fasteners,
            fasteners=fasteners,
            way_tools=tools,
            tools=tools,
        )

    return msgspec.structs.replace(
        device,
        parts=tuple(map(otherwise, device.parts)),
        foldable=rng.random() < 0.5,
        updates_years=rng.choice((None, 2, 5.5, 7)),
        repair_information=rng.choice((None, "none", "paid_professional")),
        full_cycles=rng.choice((None, 500, 1000)),
        remaining_after_1000_percent=rng.choice((None, 60, 80.5)),
    )


@pytest.mark.parametrize("code", OTHERS)
def test_what_is_put_aside_of_a_sentence_are_names_and_nothing_else(code):
    said, rng, kept = language(code), random.Random(5), set()
    records = [load(name) for name in names()]
    known = {"Tape", "Foil"}
    for record in records:
        known |= {one.name for one in record.parts} | {in_sentence(one.name) for one in record.parts}
        known |= {joint_words(one) for one in record.joints}
    known |= {piece for name in known for piece in name.split(", ")}
    for record in records:
        device = device_index(record).evidence
        for judgement in (one for _ in range(6) for one in judge_all(varied(device, rng))):
            for text in texts_of(judgement):
                listed(text, said, lambda name: kept.add(name) or name)
    assert kept - known == set()
    assert len(kept & known) > 100
