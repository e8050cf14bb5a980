"""Index, what-if, upkeep, compare and instruction: the pages say what the library computes."""

from __future__ import annotations

import re

import pytest

from midframe.demo import load
from midframe.dossier.compare import CompareOptions, compare
from midframe.dossier.firmness import firmness
from midframe.dossier.index import device_index
from midframe.dossier.upkeep import device_upkeep
from midframe.ways.solve import solve
from web.conftest import AT, settled

pytestmark = pytest.mark.slow


@pytest.fixture
def records(store):
    """Tern 2 and Heron Tab on the shelf; gives their ids."""
    return [store.new(load(name), at=AT).id for name in ("tern-2", "heron-tab")]


def plain(page):
    """The text of a page without its marks."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def test_the_index_says_r_class_every_score_and_every_finding(client, records):
    page = plain(settled(client, f"/r/{records[0]}/index").text)
    found = device_index(load("tern-2"))
    value = found.index.value
    assert f"exactly {value.exact}" in page
    assert f"Class {value.repair_class}" in page
    for score in found.index.scores:
        assert f"{score.symbol} {score.name} {score.shown} {score.weight} %" in page
    for finding in found.findings:
        assert finding.clause in page
    assert found.index.disclaimer in page


def test_a_reading_changes_the_index_as_in_the_library(client, records):
    from midframe.ways.readings import Readings

    page = plain(settled(client, f"/r/{records[0]}/index?reading=unplugging").text)
    assert f"exactly {device_index(load('tern-2'), Readings(unplugging=True)).index.value.exact}" in page


@pytest.mark.parametrize("query", ["reading=cow", "reading=unplugging&reading=cow"])
def test_a_reading_that_is_none_is_told(client, records, query):
    answer = client.get(f"/r/{records[0]}/index?{query}")
    assert answer.status_code == 422
    assert "found &#39;cow&#39;" in answer.text


def test_upkeep_has_a_row_for_each_part_and_its_mean(client, records):
    from midframe.web.telling import brief

    page = plain(settled(client, f"/r/{records[0]}/upkeep").text)
    made = device_upkeep(load("tern-2")).upkeep
    assert f"Mean time to repair {brief(made.mean_seconds)}" in page
    for row in made.parts:
        assert row.name in page


def test_what_if_ranks_by_index_or_by_minutes(client, records):
    first = settled(client, f"/r/{records[0]}/what-if").text
    gains = [float(gain) for gain in re.findall(r'data-is="Gain in R">([+-][\d.]+)', first)]
    assert gains
    assert gains == sorted(gains, reverse=True)
    other = settled(client, f"/r/{records[0]}/what-if?sort=minutes").text
    assert re.findall(r'scope="row">([^<]+)', other) != re.findall(r'scope="row">([^<]+)', first)
    assert client.get(f"/r/{records[0]}/what-if?sort=colour").status_code == 422


def test_compare_says_what_differs_in_the_words_of_the_library(client, records):
    asked = client.get(f"/r/{records[0]}/compare")
    assert "Heron Tab" in asked.text
    page = plain(settled(client, f"/r/{records[0]}/compare?with={records[1]}").text)
    found = compare([load("tern-2"), load("heron-tab")], CompareOptions(upkeep=None))
    for line in found.index_lines:
        assert line in page
    for row in found.parts:
        assert row.name in page


def test_compare_says_how_firm_the_order_is_where_that_is_asked_for(client, records):
    at = f"/r/{records[0]}/compare?with={records[1]}"
    assert "How firm the order is" not in plain(settled(client, at).text)
    page = plain(settled(client, f"{at}&ranking=yes").text)
    found = firmness([load("tern-2"), load("heron-tab")])
    assert "How firm the order is" in page
    for one in found.standings:
        assert one.text[:1].upper() + one.text[1:] in page
    assert f"{found.standings[0].low[0]:.2f} to {found.standings[0].high[0]:.2f}" in page


def test_compare_with_what_is_not_there_or_too_many_is_told(client, records, store):
    assert client.get(f"/r/{records[0]}/compare?with=zzzzzzzzzz").status_code == 404
    more = [store.new(load("tern-2"), at=AT).id for _ in range(4)]
    many = "&".join(f"with={name}" for name in more)
    assert client.get(f"/r/{records[0]}/compare?{many}").status_code == 422


def test_the_instruction_is_a_document_without_inline_style_and_a_file_with_it(client, records):
    address = f"/r/{records[0]}/instruction/battery"
    page = settled(client, address).text
    way = solve(load("tern-2"), "battery")
    assert page.count('class="move"') == len(way.moves)
    assert "<style" not in page
    (style,) = set(re.findall(r'href="(/styles/[0-9a-f]+\.css)"', page))
    assert client.get(style).headers["content-type"].startswith("text/css")
    kept = client.get(f"{address}?file=yes")
    assert kept.headers["content-disposition"] == 'attachment; filename="tern-2-battery.html"'
    assert "<style" in kept.text
    assert client.get(f"/r/{records[0]}/instruction/frame").status_code == 404
    assert client.get(f"{address}?paper=napkin").status_code == 422


def test_the_screws_page_names_each_kind_and_its_sheet_prints(client, records):
    page = plain(client.get(f"/r/{records[0]}/screws").text)
    assert "32 screws" in page
    sheet = client.get(f"/r/{records[0]}/screws/sheet?codes=yes")
    assert sheet.status_code == 200
    assert "<style" not in sheet.text
    assert client.get(f"/r/{records[0]}/screws/sheet?side=edge").status_code == 422
    assert client.get(f"/r/{records[0]}/screws/sheet?paper=napkin").status_code == 422


def test_the_instruction_is_shown_in_the_language_that_is_chosen_over_it(client, records):
    address = f"/r/{records[0]}/instruction/battery"
    page = settled(client, f"{address}?language=de&by=seconds").text
    assert '<html lang="de">' in page
    assert "Ausbau und Zusammenbau" in page
    bar = page[page.index("<nav") : page.index("</nav>")]
    assert '<option value="de" lang="de" selected>Deutsch</option>' in bar
    assert f'href="/r/{records[0]}/ways/battery?by=seconds"' in bar
    assert '<input type="hidden" name="by" value="seconds">' in bar
    kept = client.get(f"{address}?language=de&by=seconds&file=yes")
    assert kept.headers["content-disposition"] == 'attachment; filename="tern-2-battery-de.html"'
    assert "<nav" not in kept.text
    assert client.get(f"{address}?language=xx").status_code == 422
