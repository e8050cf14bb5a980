"""A work instruction in another language than its record: whole, valid, nothing left in English."""

from __future__ import annotations

import re

import html5lib
import msgspec
import pytest

from midframe.demo import load
from midframe.publish import instruction, to_html, to_markdown
from midframe.publish.bench_sheets import pause_html, refit_html
from midframe.publish.language import languages
from midframe.publish.pause import pause
from midframe.publish.refit import refit
from midframe.publish.screw_files import SheetOptions, html_of
from midframe.ways.teardown import teardown
from publish.test_render import EVIL, evil

JOBS = [("tern-3", "battery"), ("heron-tab", "battery"), ("avocet-fold", "back-cover-lower")]
OTHERS = [code for code in languages() if code != "en"]
SAME = {"Isopropanol"}
ALIKE = re.compile(r"[\d\W]*(Name Name[\d\W]*)+|[0-9a-f]{16,}|[\d.,]+ min")
"""What is written alike in all languages: names here, digests, times."""


def tree_of(page):
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)


def nameless(record):
    """The record with the same name and no note everywhere: what is left in words is ours."""
    checks = tuple(msgspec.structs.replace(check, text="Name Name") for check in record.checks)
    parts, joints = (
        tuple(
            msgspec.structs.replace(
                one, name="Name Name", note="", **({"lift": None} if hasattr(one, "lift") else {})
            )
            for one in ones
        )
        for ones in (record.parts, record.joints)
    )
    device = msgspec.structs.replace(record.device, name="Name Name")
    return msgspec.structs.replace(record, device=device, parts=parts, joints=joints, checks=checks)


def written(record):
    """Notes of operations and what is to be renewed, as the record has them."""
    renewed = (*record.parts, *record.joints, *record.seals, *record.layers)
    steps = (step for joint in record.joints for work in joint.work for step in work)
    return {one.renew.item for one in renewed if one.renew} | {step.note for step in steps}


def texts(page):
    """Sentences and words that are seen or read out, sources left out."""
    tree = tree_of(page)
    for node in tree.iter():
        if not isinstance(node.tag, str) or node.tag.endswith("style"):
            continue
        seen = [node.text, *(child.tail for child in node), node.get("aria-label")]
        for text in seen:
            if text and re.search(r"[^\W\d_]{3,}", text) and "midframe" not in text and "[" not in text:
                yield " ".join(text.split())


@pytest.mark.parametrize("code", OTHERS)
@pytest.mark.parametrize(("device", "target"), JOBS)
def test_nothing_of_the_page_is_left_in_english(way_of, device, target, code):
    record, way = way_of(device, target)
    english, other = (
        set(texts(to_html(instruction(nameless(record), way, missing_tools=["spudger"], language=one))))
        for one in ("en", code)
    )
    free = written(record) | SAME
    assert {text for text in english & other if text not in free and not ALIKE.fullmatch(text)} == set()
    assert len(english) > 60


@pytest.mark.parametrize("code", OTHERS)
@pytest.mark.parametrize(("device", "target"), JOBS)
def test_the_page_is_valid_and_says_its_language_and_that_of_the_names(way_of, device, target, code):
    record, way = way_of(device, target)
    tree = tree_of(to_html(instruction(record, way, language=code)))
    assert tree.get("lang") == code
    marked = {"".join(node.itertext()) for node in tree.iter("bdi")}
    assert {node.get("lang") for node in tree.iter("bdi")} == {"en"}
    names = {part.name for part in record.parts}
    assert {part.name for part in record.parts if part.id == target} <= marked
    assert marked & names
    assert "spudger" not in marked


def test_a_record_in_the_language_of_the_page_is_not_marked(way_of):
    record, way = way_of("tern-3", "battery")
    german = msgspec.structs.replace(record, device=msgspec.structs.replace(record.device, language="de"))
    assert "<bdi" not in to_html(instruction(german, way, language="de"))
    assert '<bdi lang="de">' in to_html(instruction(german, way))
    assert "<bdi" not in to_html(instruction(record, way))


def test_the_common_vocabulary_is_said_in_the_language_of_the_page_whatever_that_of_the_names(way_of):
    record, way = way_of("tern-3", "battery")
    german = msgspec.structs.replace(record, device=msgspec.structs.replace(record.device, language="de"))
    assert "<li>Pinzette <" in to_html(instruction(german, way, language="de"))
    assert "<li>tweezers <" in to_html(instruction(german, way))


def test_a_word_that_no_catalogue_knows_stays_as_it_is_written_and_is_marked(way_of):
    record, way = way_of("tern-3", "battery")
    page = to_html(instruction(record, way, missing_tools=["own tool"], language="de"))
    assert '<li><bdi lang="en">own tool</bdi></li>' in page


def test_german_figures_have_commas_and_english_ones_points(way_of):
    record, way = way_of("tern-3", "battery")
    pages = {code: to_markdown(instruction(record, way, language=code)) for code in languages()}
    cut = {code: page[: page.rindex("## ")] for code, page in pages.items()}
    assert not re.search(r"\d\.\d", re.sub(r"midframe [\d.]+|M\d\.\d", "", cut["de"]))
    assert len(re.findall(r"\d,\d", cut["de"])) == len(
        re.findall(r"\d\.\d", re.sub(r"midframe [\d.]+|M\d\.\d", "", cut["en"]))
    )


@pytest.mark.parametrize("code", languages())
def test_markdown_holds_every_move_in_order_in_every_language(way_of, code):
    record, way = way_of("tern-3", "battery")
    text = to_markdown(instruction(record, way, language=code))
    assert [int(n) for n in re.findall(r"^(\d+)\. \*\*", text, re.MULTILINE)] == list(
        range(1, len(way.moves) + 1)
    )
    assert text.count("\n   - ") > len(way.moves)
    assert not re.search(r"[^\n]   - ", text)


def test_a_condition_of_the_proof_is_told_in_the_language(way_of):
    record, way = way_of("tern-3", "battery")
    sheet = instruction(record, way, condition="with the battery unplugged first", language="de")
    assert sheet.summary.minimised == "Schritte, dann Sekunden, mit zuerst abgestecktem Akku"


@pytest.mark.parametrize("code", OTHERS)
@pytest.mark.parametrize("device", ["tern-3", "heron-tab"])
def test_nothing_of_the_screw_sheet_and_its_labels_is_left_in_english(device, code):
    record = nameless(load(device))
    for part in ({}, {"paper": "letter", "mirrored": True, "labels": "with screws"}):
        english, other = (
            set(texts(html_of(record, SheetOptions(language=one, link="http://a.test", **part))))
            for one in ("en", code)
        )
        alike = re.compile(r"[\W\d]*(Name Name)?[\W\d]*(, [A-Z])?")
        assert {text for text in english & other if not alike.fullmatch(text)} == set()
        assert len(english) > 20


@pytest.mark.parametrize("code", OTHERS)
def test_nothing_of_the_way_back_and_the_pause_sheet_is_left_in_english(code):
    record = nameless(load("avocet-fold"))
    moves = teardown(record)
    for sheet in (
        lambda one: refit_html(record, refit(record, moves), code=one),
        lambda one: pause_html(record, pause(record, moves[:25], code=one), code=one),
    ):
        english, other = (set(texts(sheet(one))) for one in ("en", code))
        alike = re.compile(r"[\W\d]*(Name Name)?[\W\d]*(, [A-Z])?")
        free = written(record)
        assert {text for text in english & other if text not in free and not alike.fullmatch(text)} == set()
        assert len(english) > 20


@pytest.mark.parametrize("code", languages())
def test_hostile_names_stay_text_in_every_language(way_of, code):
    record, way = way_of("tern-3", "battery")
    page = to_html(instruction(evil(record), way, missing_tools=[EVIL], date=EVIL, language=code))
    names = [node.tag for node in tree_of(page).iter() if isinstance(node.tag, str)]
    assert "script" not in names
    assert "img" not in names
    assert names.count("style") == 1
    assert page.count("alert(1)") > 20
