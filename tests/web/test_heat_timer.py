"""The timer of a heating: what is told when; what is typed is kept, over a restart and on two screens."""

from __future__ import annotations

import html
import json

import msgspec
import pytest

from midframe.demo import load
from midframe.faults import BadSetting
from midframe.heat import Reheat, settings_of
from midframe.store import BenchNote, Store
from midframe.web import heat_asked
from midframe.web.app import create_app
from midframe.web.heat_watch import again as again_words
from midframe.web.heat_watch import (
    ahead_options,
    begun_in,
    check_reading,
    folded,
    moment,
    more_seconds,
    prying,
    thread_of,
    watched,
)
from midframe.web.own_sources import usable
from midframe.web.settings import Settings
from web.conftest import AT, ORIGIN, settled

DRYER = msgspec.to_builtins(settings_of("hairdryer")[0])
BEGUN = json.dumps({"joint": "battery-bond", "setting": DRYER, "cell": "sound"})
ON = "2026-11-25T08:00:00.000+00:00"


def at(seconds):
    """So many seconds after the source went on."""
    return f"2026-11-25T08:{int(seconds) // 60:02}:{int(seconds) % 60:02}.000+00:00"


def told(*notes):
    """Notes of a heating as the store gives them: (kind, content, seconds)."""
    rows = [("begun", BEGUN, 0), *notes]
    return [BenchNote(n, "heat", kind, text, "Ann", at(s)) for n, (kind, text, s) in enumerate(rows, 1)]


@pytest.fixture(scope="module")
def ahead():
    """What comes next over the strips of the demo phone, without readings."""
    return heat_asked.ahead([load("tern-3")], ahead_options(folded(told())))


def test_notes_come_to_readings_phases_and_an_end():
    found = folded(told(("reading", "[20.0, 25.5]", 20), ("reading", "[40.0, 27.0]", 40), ("off", "0", 300)))
    assert [one.shown_c for one in found.readings] == [25.5, 27.0]
    assert (found.on, found.first, found.heated(at(400)), found.seconds(at(310))) == (
        False,
        True,
        300.0,
        10.0,
    )
    again = folded(told(("off", "0", 300), ("on", "0", 400), ("ended", "0", 420)))
    assert (again.on, again.first, again.ended) == (False, False, True)


def test_a_reading_is_taken_back_and_a_new_heating_begins_bare():
    found = folded(told(("reading", "[20.0, 25.5]", 20), ("taken back", "2", 30)))
    assert found.readings == ()
    assert folded(told(("reading", "[20.0, 25.5]", 20), ("begun", BEGUN, 900))).readings == ()
    assert folded([]) is None


def test_what_does_not_fit_the_state_changes_nothing():
    found = folded(told(("on", "0", 10), ("off", "0", 20), ("off", "0", 30)))
    assert found.heated(at(99)) == 20.0
    assert len(found.phases) == 1


def test_the_screen_says_heat_then_pry_as_the_seconds_run(ahead):
    found, known = folded(told()), ahead.known
    early = moment(found, known, at(5))
    assert (early.step, early.due, early.running) == ("heat", 20.0, True)
    soft = moment(found, known, at(known.soft_seconds + 2))
    assert (soft.step, soft.due) == ("work", None)
    assert "pry" in moment(found, known, at(known.stop_seconds + 2)).say
    off = moment(folded(told(("off", "0", 200))), known, at(210))
    assert known.soft_seconds < 200.0
    assert (off.step, off.seconds) == ("pry", 10.0)
    assert "stays soft" in off.say
    assert moment(folded(told(("ended", "0", 200))), known, at(900)).running is False


def reheated(ahead, **more):
    """What is known, with other figures for heating again."""
    reheat = Reheat(
        stays_soft_seconds=30.0, pried_seconds=90.0, bond_then_c=50.0, again_seconds=20.0, overshoot_k=0.0
    )
    tried = msgspec.structs.replace(ahead.known.tried, reheat=msgspec.structs.replace(reheat, **more))
    return msgspec.structs.replace(ahead.known, tried=tried)


def test_heating_again_is_told_with_its_time_or_refused(ahead):
    found = folded(told(("off", "0", 200)))
    known, hot = reheated(ahead), reheated(ahead, too_hot="cell")
    assert "heat again for 20 s" in prying(found, known, at(240))
    assert "Do not heat again yet: the cell" in prying(found, hot, at(240))
    assert (more_seconds(found, known), more_seconds(found, hot)) == (20.0, None)
    assert again_words(5.0, 20.0) == "Heat again, 15 s more."
    assert "Source off" in again_words(21.0, 20.0)
    assert "no safe time" in again_words(1.0, None)


def test_a_source_that_was_off_too_early_is_never_followed_by_pry_now(ahead):
    early = folded(told(("off", "0", 30)))
    short = ahead.known.soft_seconds - 30.0
    assert prying(early, ahead.known, at(35)).startswith("Not soft yet: the heat was")
    assert more_seconds(early, ahead.known) == pytest.approx(short)
    on = folded(told(("off", "0", 30), ("on", "0", 50)))
    assert moment(on, ahead.known, at(60)).say.startswith("Heat again")
    assert "pry" in moment(on, ahead.known, at(50 + short + 1)).say


def test_of_many_readings_the_first_and_the_newest_are_fitted():
    found = folded(told(*[("reading", f"[{10.0 * n}, 25.0]", 10 * n) for n in range(1, 14)]))
    seconds = [one[0] for one in ahead_options(found)["readings"]]
    assert (len(seconds), seconds[0], seconds[1], seconds[-1]) == (10, 10.0, 50.0, 130.0)


def test_readings_out_of_range_or_twice_are_refused():
    found = folded(told(("reading", "[20.0, 25.5]", 20)))
    for seconds, shown_c in ((20.2, 26.0), (0.0, 26.0), (50.0, 900.0)):
        with pytest.raises(BadSetting, match="right"):
            check_reading(found, seconds, shown_c)


@pytest.mark.parametrize(
    "content",
    [
        "",
        "{}",
        '{"joint": "battery-bond", "setting": {"source": 1}}',
        '{"joint": "other", "setting": {}}',
        "[1",
    ],
)
def test_a_timer_begins_from_a_plan_of_its_bond_only(content):
    with pytest.raises(BadSetting, match="start it from the plan"):
        begun_in(content, "battery-bond", taped=False)


@pytest.fixture
def name(store):
    """A record on the shelf."""
    return store.new(load("tern-3"), at=AT).id


def begin(client, name):
    address = f"/r/{name}/heat/battery-bond/watch"
    assert "No heating is begun" in client.get(address).text
    assert client.post(f"{address}/begin", data={"key": "b", "begun": BEGUN}).status_code == 303
    return address


def test_the_timer_goes_on_after_a_restart_and_on_a_second_screen(client, store, name, tmp_path):
    from starlette.testclient import TestClient

    address = begin(client, name)
    typed = {"key": "r1", "shown": "25,6", "seconds": "20"}
    assert client.post(f"{address}/readings", data=typed).status_code == 303
    assert client.post(f"{address}/readings", data=typed).status_code == 303  # sent twice counts once
    second = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    assert [one.shown_c for one in watched(second, name, "battery-bond").readings] == [25.6]
    app = create_app(second, Settings(folder=tmp_path))
    with TestClient(app, base_url=ORIGIN, headers={"Origin": ORIGIN}) as other:
        page = settled(other, address)
        assert "25.6 °C" in page.text
        assert "Hairdryer, 15 cm away" in page.text
        other.post(f"{address}/do", data={"key": "o", "do": "off"})
    app.state.answers.close()
    second.close()
    assert not watched(store, name, "battery-bond").on


def test_a_reading_that_is_none_is_told_and_kept_in_its_field(client, store, name):
    address = begin(client, name)
    page = client.post(f"{address}/readings", data={"key": "r", "shown": "warm"})
    assert page.status_code == 422
    assert "found &#39;warm&#39;" in page.text
    assert 'value="warm"' in page.text
    assert watched(store, name, "battery-bond").readings == ()


def test_source_off_heat_again_and_end_are_kept_in_their_order(client, store, name):
    address = begin(client, name)
    for number, what in enumerate(("off", "on", "off", "end")):
        assert client.post(f"{address}/do", data={"key": f"d{number}", "do": what}).status_code == 303
    assert watched(store, name, "battery-bond").ended
    kinds = [note.kind for note in store.notes(thread_of(name, "battery-bond"))]
    assert kinds == ["begun", "off", "on", "off", "ended"]
    late = client.post(f"{address}/readings", data={"key": "late", "shown": "30"})
    assert late.status_code == 422
    assert "found no first heat running" in html.unescape(late.text)


def test_a_cell_that_swells_meanwhile_ends_the_guidance(client, store, name):
    address = begin(client, name)
    record = store.get(name).record
    parts = tuple(
        msgspec.structs.replace(one, condition="swollen") if one.role == "battery" else one
        for one in record.parts
    )
    store.save(name, msgspec.structs.replace(record, parts=parts), base=1, at=AT)
    page = settled(client, address)
    assert "No heat: the cell is swollen" in page.text
    assert "take the source off" in page.text


def test_on_and_off_in_turn_is_guided_by_the_clock():
    begun = {
        "joint": "lens-bond",
        "setting": msgspec.to_builtins(settings_of("heat-gun")[0]),
        "limits_c": {"cover": 100.0},
        "cycles": True,
    }
    note = BenchNote(1, "heat", "begun", json.dumps(begun), "", ON)
    found = folded([note])
    known = heat_asked.ahead([load("tern-3")], ahead_options(found)).known
    turns = known.tried.cycles
    assert turns.works
    first = moment(found, known, at(5))
    assert first.say.startswith("Source on, turn 1 of")
    assert "off at 1:" in first.say
    assert "on again at" in moment(found, known, at(turns.first_on_seconds + 1)).say
    assert moment(found, known, at(turns.soft_seconds + 1)).step == "work"


def test_a_source_read_at_the_timer_is_kept_among_the_own_ones(client, store, name):
    address = begin(client, name)
    assert client.post(f"{address}/keep", data={"key": "early"}).status_code == 422
    for number, (seconds, shown) in enumerate((("20", "25,6"), ("60", "29"), ("120", "33"))):
        client.post(f"{address}/readings", data={"key": f"r{number}", "shown": shown, "seconds": seconds})
    assert "Keep this source" in settled(client, address).text
    kept = client.post(f"{address}/keep", data={"key": "keep"})
    assert kept.status_code == 303
    assert "W/(m²·K)" in settled(client, kept.headers["location"]).text
    (own,) = usable(store)
    assert own.typed.name == "Hairdryer, read at the timer"
    assert [one[1] for one in own.typed.readings] == [25.6, 29.0, 33.0]
