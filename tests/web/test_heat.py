"""Heat as pages: the bonds, the plan, what was typed kept, a cell that gets no heat, own sources."""

from __future__ import annotations

import html
import re
from importlib.resources import files

import msgspec
import pytest

from midframe.demo import load
from midframe.faults import BadSetting
from midframe.store import Store
from midframe.ways.solve import Planner
from midframe.web import heat_asked
from midframe.web.app import create_app
from midframe.web.heat_form import LIMITS, SOURCES, asked_of, celsius, known_state
from midframe.web.own_sources import own_sources, usable
from midframe.web.settings import Settings
from web.conftest import AT, ORIGIN, settled

BOND = "heat/battery-bond?with=hairdryer"


@pytest.fixture
def name(store):
    """A record on the shelf."""
    return store.new(load("tern-3"), at=AT).id


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    """One bench for the plans, whose workers stay warm: the client and the id of a record."""
    from starlette.testclient import TestClient

    folder = tmp_path_factory.mktemp("bench")
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    name = store.new(load("tern-3"), at=AT).id
    app = create_app(store, Settings(folder=folder))
    with TestClient(app, base_url=ORIGIN, headers={"Origin": ORIGIN}) as made:
        yield made, name
    app.state.answers.close()
    store.close()


def with_condition(record, state):
    parts = tuple(
        msgspec.structs.replace(one, condition=state) if one.role == "battery" else one
        for one in record.parts
    )
    return msgspec.structs.replace(record, parts=parts)


def test_the_list_shows_every_bond_at_once_and_can_be_stopped_and_taken_up_again(client, name):
    page = client.get(f"/r/{name}/heat")
    bonds = [one for one in load("tern-3").joints if one.kind == "adhesive"]
    assert page.status_code == 202
    assert all(f'/heat/{one.id}"' in page.text for one in bonds)
    assert f"of {len(bonds)} bonds" in page.text
    client.post(f"/r/{name}/heat/stop")
    stopped = client.get(f"/r/{name}/heat")
    assert stopped.status_code == 200
    assert "Stopped:" in stopped.text
    client.post(f"/r/{name}/heat/again")
    assert client.get(f"/r/{name}/heat").status_code == 202
    client.post(f"/r/{name}/heat/stop")


def test_a_record_without_bonds_says_where_to_log_one(client, store):
    bare = msgspec.structs.replace(load("tern-3"), joints=(), log=())
    page = client.get(f"/r/{store.new(bare, at=AT).id}/heat")
    assert "No bond is in the record yet" in page.text


def test_the_plan_has_times_limits_with_marks_draws_pictures_and_cautions(bench):
    client, name = bench
    page = settled(client, f"/r/{name}/{BOND}")
    assert page.status_code == 200
    found = heat_asked.plan([load("tern-3")], {"joint": "battery-bond", "sources": ["hairdryer"]})
    assert found.best.setting.told in page.text
    for words in ("Soft after", "Source off at", "Window", "of 2000</strong> draws", "What matters most"):
        assert words in page.text
    for mark in ("common practice", "datasheet class", "standard"):
        assert f'<span class="tag">{mark}</span>' in page.text
    assert page.text.count('role="img"') == 2
    for words in ("Hold it in the hand", "Charge the cell", "Press new adhesive", "Local rules go first"):
        assert words in page.text


def test_where_no_source_works_the_plan_leads_to_another_face(bench):
    client, name = bench
    page = settled(client, f"/r/{name}/heat/back-bond?with=heat-bag")
    assert "Not feasible within the limits" in page.text
    assert f"/r/{name}/ways/battery/others" in page.text
    assert "start the timer" not in page.text


def test_an_own_limit_is_marked_and_its_usual_figure_told(bench):
    client, name = bench
    page = settled(client, f"/r/{name}/{BOND}&limit-cell=55")
    assert '<span class="tag">own</span>' in page.text
    assert "set by the user; usual 60 °C (common practice)" in page.text
    assert 'name="limit-cell" type="text" value="55"' in page.text


@pytest.mark.parametrize("state", ["swollen", "damaged"])
def test_a_cell_that_is_not_sound_gets_no_heat(bench, state):
    client, name = bench
    page = settled(client, f"/r/{name}/heat/battery-bond?cell={state}")
    assert f"No heat: the cell is {state}" in page.text
    assert "start the timer" not in page.text
    assert "Soft after" not in page.text


def test_what_the_record_says_of_a_swollen_cell_stands_against_what_is_ticked(client, store):
    name = store.new(with_condition(load("tern-3"), "swollen"), at=AT).id
    page = settled(client, f"/r/{name}/heat/battery-bond?cell=sound")
    assert "No heat: the cell is swollen" in page.text
    assert "The record says that the cell is swollen" in page.text
    assert known_state(load("tern-3")) == ""


def test_figures_that_are_none_are_told_and_kept(bench):
    client, name = bench
    page = client.get(f"/r/{name}/heat/battery-bond?soft=warm&limit-cell=55&with=hairdryer")
    assert page.status_code == 422
    assert "found &#39;warm&#39;; right: a temperature in °C" in page.text
    assert 'value="warm"' in page.text
    assert 'value="55"' in page.text


def test_a_cell_limit_above_the_hard_stop_is_refused_and_kept(bench):
    client, name = bench
    page = settled(client, f"/r/{name}/heat/battery-bond?limit-cell=85&with=hairdryer")
    assert page.status_code == 422
    assert "found 85 °C; right: 25 to 70 °C" in page.text
    assert 'value="85"' in page.text


@pytest.mark.parametrize(
    ("address", "status", "words"),
    [
        ("heat/porridge", 404, "a bond of the sheet Heat"),
        ("heat/upper-cover-screws-long", 404, "a screw, which heat does not soften"),
        ("heat/battery-bond?cell=fine", 422, "it may be"),
        ("heat/battery-bond?with=fire", 422, "it may be"),
        ("heat/battery-bond/sources/none", 404, "a number of the list"),
        ("heat/battery-bond/sources/77", 404, "own source 77: found none"),
    ],
)
def test_addresses_that_lead_nowhere_say_what_would_be_right(bench, address, status, words):
    client, name = bench
    page = client.get(f"/r/{name}/{address}")
    assert page.status_code == status
    assert re.search(words, html.unescape(page.text))


def test_temperatures_are_read_with_point_or_comma_and_nothing_else():
    assert [celsius(one) for one in ("41,5", " 41.5 °C", "")] == [41.5, 41.5, None]
    for wrong in ("hot", "1e999", "nan"):
        with pytest.raises(BadSetting, match="right: a temperature"):
            celsius(wrong)


READINGS = {"s-1": "20", "c-1": "25,5", "s-2": "60", "c-2": "29", "s-3": "120", "c-3": "33.5"}
FORM = {"name": "Dryer of bench 2", "setting": "hairdryer 3", "emissivity": "0.95", **READINGS}
OWN = "heat/battery-bond/sources"


def keep(client, record_id, **more):
    return client.post(f"/r/{record_id}/{OWN}", data={"key": "typed once", **FORM, **more})


def test_readings_are_fitted_kept_and_used_by_the_plans_of_other_records(client, store, name):
    kept = keep(client, name)
    assert kept.status_code == 303
    page = settled(client, kept.headers["location"])
    assert "W/(m²·K)" in page.text
    (own,) = usable(store)
    low, air, high = own.calibration["air_c"]
    assert low < air < high
    other = store.new(load("tern-2"), at=AT).id
    plan = settled(client, f"/r/{other}/heat/battery-bond?with={own.key}")
    assert "Dryer of bench 2, 5 cm away, measured, whole face" in html.unescape(plan.text)
    assert "Hairdryer, 15 cm" not in plan.text


def test_the_same_form_sent_twice_is_one_source(client, store, name):
    assert keep(client, name).headers["location"] == keep(client, name).headers["location"]
    assert len(own_sources(store)) == 1


def test_a_source_is_taken_out_and_brought_back(client, store, name):
    address = keep(client, name).headers["location"]
    settled(client, address)
    gone = client.post(address, data={"key": "out", "do": "out"})
    assert usable(store) == ()
    page = client.get(gone.headers["location"])
    assert "is taken out of the plans" in page.text
    assert "Bring it back" in page.text
    client.post(address, data={"key": "back", "do": "back"})
    assert [one.typed.name for one in usable(store)] == ["Dryer of bench 2"]


def test_what_was_typed_is_kept_before_it_is_fitted(client, store, name):
    keep(client, name)
    (own,) = own_sources(store)
    assert own.typed.readings == ((20.0, 25.5), (60.0, 29.0), (120.0, 33.5))
    assert own.calibration is None
    assert "not fitted yet" in client.get(f"/r/{name}/{OWN}").text


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"name": ""}, "right: a name"),
        ({"setting": "fire 9"}, "found none of the list"),
        ({"emissivity": "7"}, "right: 0.1 to 1"),
        ({"c-2": ""}, "found no temperature"),
        ({"s-2": "20"}, "each at its own time"),
        ({"c-3": "900"}, "right: −20 to 400 °C"),
        ({"s-2": "", "c-2": "", "s-3": "", "c-3": ""}, "found 1; right: 2 to 10"),
    ],
)
def test_readings_that_cannot_be_used_are_told_and_everything_typed_stays(client, store, name, more, words):
    page = keep(client, name, **more)
    assert page.status_code == 422
    assert words in html.unescape(page.text)
    for key, value in {**FORM, **more}.items():
        if value and key not in ("setting",):
            assert f'value="{value}"' in html.unescape(page.text), key
    assert own_sources(store) == ()


def test_readings_on_bare_metal_are_refused_and_on_tape_taken():
    record = load("tern-3")
    record = msgspec.structs.replace(
        record,
        parts=tuple(
            msgspec.structs.replace(one, material="aluminium alloy") if one.id == "back-cover" else one
            for one in record.parts
        ),
    )
    options = {
        "joint": "back-bond",
        "setting": asked_setting(),
        "readings": [[30, 30], [90, 36]],
        "thermometer_emissivity": 0.95,
    }
    with pytest.raises(BadSetting, match="matt tape"):
        heat_asked.fit([record], options)
    assert heat_asked.fit([record], {**options, "taped": True}).emissivity == 0.95
    assert heat_asked.ahead([record], options).metal


def asked_setting():
    """The mildest hairdryer of the table as plain data."""
    from midframe.heat import settings_of

    return msgspec.to_builtins(settings_of("hairdryer")[0])


def test_only_own_sources_can_be_asked_for():
    options = asked_of({}, ()).options
    assert (options["sources"], options["own"]) == ([], [])


def test_a_way_in_leads_to_the_heat_of_the_bonds_it_opens(client, name):
    page = settled(client, f"/r/{name}/ways/battery")
    bonds = {one.id for one in load("tern-3").joints if one.kind == "adhesive"}
    opened = {move.open for move in Planner(load("tern-3")).way("battery").moves} & bonds
    assert {"back-bond", "battery-bond"} <= opened
    assert page.text.count("How long and how hot") == len(opened)
    assert all(f'href="/r/{name}/heat/{one}"' in page.text for one in opened)


def test_what_the_pages_name_without_loading_the_model_is_what_the_model_has():
    from midframe.heat import NAMES, tables
    from midframe.heat.calibrate import FEWEST, MOST
    from midframe.heat.grid import RIM_MM
    from midframe.heat.limits import limit_table
    from midframe.web import heat_watch
    from midframe.web.pages import heat_sources

    assert {key: settings[0].name for key, settings in tables().items()} == dict(SOURCES)
    assert set(LIMITS) == set(NAMES)
    assert (heat_sources.FEWEST, heat_sources.ROWS, heat_watch.MOST_FITTED) == (FEWEST, MOST, MOST)
    templates = files("midframe.web").joinpath("templates")
    assert f"a band of {RIM_MM:g} mm" in templates.joinpath("heat_parts.html").read_text(encoding="utf-8")
    told = templates.joinpath("heat_bond.html").read_text(encoding="utf-8")
    assert f"hard stop, {limit_table()['cell-hard'].limit_c:g} °C" in told
