from __future__ import annotations

import re

import msgspec
import pytest

from midframe.demo import load, names
from midframe.faults import BadSetting
from midframe.publish.bench_sheets import pause_html, pause_markdown, refit_html
from midframe.publish.job import Begun, InHole, Ticked, Told, job_of
from midframe.publish.pause import DEVICE, Ordered, pause
from midframe.publish.progress import progress
from midframe.publish.refit import moves_of_log, refit
from midframe.ways.teardown import teardown

TERN = load("tern-3")
MOVES = moves_of_log(TERN, 30)
BACK = refit(TERN, MOVES)
SHEET = pause(
    TERN,
    MOVES,
    on_order=[Ordered("Battery", "battery", "Friday")],
    notes=["<b>bold</b>"],
    places={DEVICE: "shelf 2", "battery": "steel box"},
)


def text_of(html):
    body = re.sub(r"<style>.*?</style>", " ", html, flags=re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", body).split())


@pytest.mark.parametrize("name", names())
def test_every_move_screw_and_hole_stands_on_the_printed_way_back(name):
    record = load(name)
    back = refit(record, teardown(record))
    html = refit_html(record, back)
    assert len(re.findall(r'class="number">\d+<', html)) == len(back.lines)
    assert len(re.findall(r"<i></i>\d+", html)) == back.screws
    assert html.count('class="trial"') == 1
    assert "<script" not in html


def test_the_trial_stands_before_its_move_and_names_what_is_closed():
    html = refit_html(TERN, BACK)
    place = next(line for line in BACK.lines if line.trial)
    assert html.index('class="trial"') < html.index(f'class="number">{place.number}<')
    assert "Closed by then: Grounding tape bond." in text_of(html)


def test_what_is_ticked_and_driven_in_already_is_printed_so():
    joint = next(line.joint for line in BACK.lines if line.screws)
    made = [Begun("log", MOVES), InHole(joint, 2, "B"), Ticked("place charging-coil")]
    told = progress(TERN, job_of(map(Told, made)))
    html = refit_html(TERN, told.refit, told=told)
    assert "<i>B</i>2" in html
    assert html.count('class="box">✓') == told.done


def test_a_pause_sheet_says_what_lies_where_what_is_on_order_and_what_to_look_at():
    text = text_of(pause_html(TERN, SHEET, put_away="2026-11-25 10:02 UTC, Ann"))
    for words in ("shelf 2", "steel box", "6 × A, 5 × B, 1 × C", "Battery: Friday"):
        assert words in text
    assert "Put away 2026-11-25 10:02 UTC, Ann." in text
    assert "All 12 trays are there, and 21 screws in them" in text
    assert "&lt;b&gt;bold&lt;/b&gt;" in pause_html(TERN, SHEET)


def test_the_same_pause_as_markdown():
    made = pause_markdown(TERN, SHEET)
    assert "| 9 | Battery |  | steel box |" in made
    assert "| 4 | Upper mid cover | 6 × A, 5 × B, 1 × C |  |" in made
    assert "- [ ] Battery: Friday" in made
    assert "\n\n\n" not in made
    assert made.count("\n| ") == 13


def test_both_are_printed_in_german_too():
    assert "Zusammenbau: Tern 3" in refit_html(TERN, BACK, code="de")
    assert "weggelegt" in pause_html(TERN, SHEET, code="de")
    assert "# Tern 3: weggelegt" in pause_markdown(TERN, SHEET, "de")


def test_a_name_cannot_break_out_of_the_sheet_or_its_style():
    device = msgspec.structs.replace(TERN.device, name='</style><script>"x"</script>')
    record = msgspec.structs.replace(TERN, device=device)
    for html in (refit_html(record, refit(record, MOVES)), pause_html(record, pause(record, MOVES))):
        assert "<script" not in html
        assert html.count("</style>") == 1


@pytest.mark.parametrize(
    "make", [lambda **k: refit_html(TERN, BACK, **k), lambda **k: pause_html(TERN, SHEET, **k)]
)
def test_an_unknown_paper_or_language_is_refused(make):
    with pytest.raises(BadSetting, match="paper: found 'A9'"):
        make(paper="A9")
    with pytest.raises(BadSetting, match="language: found 'xx'"):
        make(code="xx")
