from __future__ import annotations

import re

import html5lib
import msgspec
import pytest
import tinycss2
from jinja2 import UndefinedError

from midframe.faults import BadSetting
from midframe.publish import instruction, to_html, to_markdown
from midframe.publish.templating import css, environment, legible_value

JOBS = [
    ("tern-3", "battery"),
    ("tern-2", "display"),
    ("heron-tab", "battery"),
    ("avocet-fold", "back-cover-lower"),
]
EVIL = '</style><script>alert(1)</script><img src="https://example.org/x">"\'|`*\x07'


def tree_of(page):
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)


def evil(record):
    parts = tuple(msgspec.structs.replace(part, name=EVIL, note=EVIL) for part in record.parts)
    joints = tuple(msgspec.structs.replace(joint, name=EVIL, note=EVIL) for joint in record.joints)
    device = msgspec.structs.replace(record.device, name=EVIL)
    checks = tuple(msgspec.structs.replace(check, text=EVIL) for check in record.checks)
    return msgspec.structs.replace(record, device=device, parts=parts, joints=joints, checks=checks)


@pytest.mark.parametrize(("device", "target"), JOBS)
def test_the_page_parses_strictly_and_holds_every_move_once_in_order(html_of, way_of, device, target):
    tree = tree_of(html_of(device, target))
    _, way = way_of(device, target)
    moves = [node.get("id") for node in tree.iter("li") if (node.get("class") or "") == "move"]
    assert moves == [f"move-{number}" for number in range(1, len(way.moves) + 1)]
    ids = [node.get("id") for node in tree.iter() if node.get("id")]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize(("device", "target"), JOBS)
def test_the_page_fetches_nothing_and_runs_nothing(html_of, device, target):
    tree = tree_of(html_of(device, target))
    names = {node.tag for node in tree.iter() if isinstance(node.tag, str)}
    assert not names & {"script", "img", "iframe", "object", "embed", "form", "image", "use", "base"}
    assert {node.get("href") for node in tree.iter("link")} == {"data:,"}
    for node in tree.iter():
        assert not any(key.startswith("on") or key in ("src", "srcset", "style") for key in node.attrib)
    sheets = "".join(node.text for node in tree.iter("style"))
    assert "url(" not in sheets
    assert "@import" not in sheets


def test_headings_follow_the_order_of_the_work(html_of):
    tree = tree_of(html_of("tern-3", "battery"))
    assert [node.text for node in tree.iter("h2")] == [
        "Tools, in the order of use",
        "Consumables",
        "Cautions",
        "New for the refit",
        "Before you start",
        "Way in",
        "What stays untouched",
        "Refit",
        "Checks at the end",
        "How the steps were counted",
    ]


def test_missing_tools_come_first(way_of):
    page = to_html(instruction(*way_of("tern-3", "battery"), missing_tools=["spudger"]))
    assert page.index("Tools missing") < page.index("Time for the way in")


def test_every_drawing_says_in_words_what_it_shows(html_of):
    tree = tree_of(html_of("tern-3", "battery"))
    drawings = [node for node in tree.iter() if str(node.tag).endswith("svg") and node.get("role") == "img"]
    assert len(drawings) > 19
    for node in drawings:
        assert node.get("aria-label")
        assert any(str(child.tag).endswith("desc") and child.text for child in node)


def test_hostile_names_stay_text_on_the_page(way_of):
    record, way = way_of("tern-3", "battery")
    page = to_html(instruction(evil(record), way, missing_tools=[EVIL], date=EVIL))
    tree = tree_of(page)
    names = [node.tag for node in tree.iter() if isinstance(node.tag, str)]
    assert "script" not in names
    assert "img" not in names
    assert names.count("style") == 1
    assert any("alert(1)" in (node.text or "") for node in tree.iter("h1"))


def test_hostile_names_stay_text_in_markdown(way_of):
    record, way = way_of("tern-3", "battery")
    text = to_markdown(instruction(evil(record), way))
    assert "<script" not in re.sub(r"\\<", "", text)
    table = [line for line in text.splitlines() if line.startswith("| ") and "alert" in line]
    assert all(len(re.findall(r"(?<!\\)\|", line)) == 5 for line in table)


def test_the_style_sheet_parses_for_every_paper(way_of):
    sheet = instruction(*way_of("tern-3", "battery"))
    for paper in ("A4", "letter"):
        text = next(tree_of(to_html(sheet, paper)).iter("style")).text
        rules = tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True)
        assert not [rule for rule in rules if rule.type == "error"]
        assert f"size:{paper}" in text


def test_a_paper_that_is_not_known_is_refused_with_what_would_be_right(way_of):
    with pytest.raises(BadSetting, match="found 'A3'; it may be A4 or letter"):
        to_html(instruction(*way_of("tern-2", "display")), "A3")


def test_a_css_string_gives_back_the_name():
    token = tinycss2.parse_one_component_value(f'"{css(EVIL)}"')
    assert token.type == "string"
    assert token.value == EVIL.replace("\x07", " ")


def test_markdown_holds_every_move_in_order(way_of):
    record, way = way_of("tern-3", "battery")
    text = to_markdown(instruction(record, way))
    part = text[text.index("## Way in") : text.index("## What stays untouched")]
    assert [int(n) for n in re.findall(r"^(\d+)\. \*\*", part, re.MULTILINE)] == list(range(1, 20))
    assert "\n\n\n" not in text
    assert text.startswith("# Battery of Tern 3 – way in and refit\n\nInvented device")


def test_both_forms_say_what_else_opens_a_joint_and_what_a_move_is_for(way_of):
    sheet = instruction(*way_of("tern-3", "battery"))
    for text in (to_html(sheet).replace("\N{NO-BREAK SPACE}", " "), to_markdown(sheet)):
        assert "If it does not give way: soak with isopropanol" in text
        assert "Needed for move 19, and for the battery to be out" in text
        assert "screws still out: 0 of 21" in text.lower()


def test_a_number_keeps_its_unit_on_the_line():
    assert legible_value("under 60 °C for 3 min 20 s") == "under 60\xa0°C for 3\xa0min 20\xa0s"
    assert legible_value("2 screws") == "2 screws"


def test_the_same_way_gives_the_same_page(way_of):
    assert to_html(instruction(*way_of("tern-3", "battery"))) == to_html(
        instruction(*way_of("tern-3", "battery"))
    )


def test_a_name_that_a_template_does_not_know_is_an_error():
    with pytest.raises(UndefinedError):
        environment(markup=True).from_string("{{ nothing }}").render()


def test_names_keep_their_capitals_in_sentences_and_an_edge_is_worked_at(way_of):
    sheet = instruction(*way_of("tern-3", "sim-tray"))
    for text in (to_html(sheet), to_markdown(sheet)):
        assert "for the SIM tray to be out" in text
        assert "Turn the device: work at the edge." in text


def test_what_leaves_at_the_edge_is_drawn_over_what_hides_it(way_of):
    sheet = instruction(*way_of("tern-3", "sim-tray"))
    slabs = re.findall(r"<title>([^<]+)</title><rect", sheet.overview)
    assert slabs[-1] == "SIM tray"


def test_new_adhesive_is_laid_on_before_its_part_is_placed(way_of):
    sheet = instruction(*way_of("tern-3", "battery"))
    for text in (to_html(sheet), to_markdown(sheet)):
        assert "Battery strips, laid on before the part is placed" in text
