from __future__ import annotations

import re
from urllib.parse import urlencode

import msgspec
import pytest

from midframe import demo
from midframe.thermal import compare_layers, heat_paths, thermal_stack
from midframe.thermal.wording import figure
from web.conftest import AT, ORIGIN


@pytest.fixture
def tern(store):
    store.new(demo.load("tern-2"), at=AT)
    return store.new(demo.load("tern-3"), at=AT).id


def shown(client, name, status=200, **query):
    answer = client.get(f"/r/{name}/layers" + (f"?{urlencode(query)}" if query else ""))
    assert answer.status_code == status, answer.text[:2000]
    return answer.text


def test_the_page_shows_what_the_library_says(client, tern):
    page = shown(client, tern, power="3")
    stack = thermal_stack(demo.load("tern-3"), 3.0)
    for layer in stack.layers:
        assert layer.id in page
        assert f"<strong>{figure(layer.drop_k.usual)}</strong>" in page
    ends = [way for way in heat_paths(demo.load("tern-3"), stack) if way.ends]
    assert page.count("<svg") - page.count('class="mark"') == len(ends)
    assert "A default; say what flows here." not in page
    assert "A default; say what flows here." in shown(client, tern)


def test_the_predecessor_stands_beside_where_it_is_on_the_shelf(client, tern):
    page = shown(client, tern, power="3")
    found = compare_layers(demo.load("tern-3"), demo.load("tern-2"), 3.0)
    for row in found.rows:
        assert all(line in page for line in row.differs)
    assert "Drops at 3 W on both sides." in page
    assert "on both sides" not in shown(client, tern, **{"with": ""})


def test_a_pad_that_does_not_touch_is_told_and_cannot_be_put_in(client, tern):
    page = shown(client, tern, replace="pad-processor", thickness="0,3", conductivity="6")
    assert "does not touch: 0.2 mm of air in a gap of 0.5 mm" in page
    assert "No pad fits the gap and stays within the limit." in page
    assert "/layers/fit" not in page


def test_a_list_of_pads_is_ranked(client, tern):
    listed = "name,thickness_mil,conductivity_w_mk\nGrey,20,6\nBlue,32,8\n"
    page = shown(client, tern, replace="pad-processor", pads=listed, gap="0.6")
    rows = re.findall(r'<th scope="row">(Grey|Blue)<small>', page)
    assert rows == ["Blue", "Grey"]
    assert "gap 0.6 mm as measured" in page
    assert listed.strip() in page


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ({"power": "two"}, "power: found &#39;two&#39;; right: a number"),
        ({"power": "2500"}, "500 mW are 0.5 W"),
        ({"from": "loudspeaker"}, "which no layer touches"),
        ({"replace": "pad-processor", "thickness": "500", "conductivity": "6"}, "500 µm are 0.5 mm"),
        ({"replace": "pad-processor", "thickness": "0.5"}, "thickness and conductivity, or neither"),
        ({"replace": "pad-processor", "pads": "a,b\n1,2"}, "pads, line 2: found &#39;a&#39;"),
        ({"replace": "nothing"}, "found no &#39;nothing&#39; in Tern 3"),
        ({"tested": "a,b\n1,2"}, "samples, line 2: found a, b"),
    ],
)
def test_bad_input_is_told_and_kept(client, tern, query, words):
    page = shown(client, tern, 422, **query)
    assert words in page
    for name, typed in query.items():
        assert typed in page or name in ("from", "replace")
    assert "Ways of the heat" in page


def test_a_bar_test_is_fitted(client, tern):
    page = shown(client, tern, tested="thickness_mm,impedance_cm2k_w\n0.5,2.1\n1,3.7\n2,7.1")
    assert "2.99 W/(m·K)" in page
    assert "2.52 to 3.68, 95 %" in page


def fit_form(client, name):
    page = shown(client, name, replace="pad-processor", thickness="0.8", conductivity="5")
    form = re.search(r'<form method="post" action="([^"]+/fit[^"]*)">(.*?)</form>', page, re.DOTALL)
    return form[1].replace("&amp;", "&"), dict(re.findall(r'name="(\w+)" value="([^"]*)"', form[2]))


def test_a_pad_is_put_into_the_record_once_and_can_be_taken_back(client, store, tern):
    address, fields = fit_form(client, tern)
    for _ in range(2):
        answer = client.post(address, data=fields)
        assert answer.status_code == 303
        assert answer.headers["location"].startswith(f"/r/{tern}/layers?")
    kept = store.get(tern)
    assert kept.revision == 2
    layer = kept.record.layers[0]
    assert (layer.thickness_mm, layer.conductivity_w_mk) == (0.5, 5.0)
    assert layer.renew.item == "Thermal pad 0.8 mm, 5 W/(m·K)"
    assert "put in" in store.history(tern)[0].summary
    store.undo(tern, at=AT)
    assert store.get(tern).record == demo.load("tern-3")


def test_a_tested_conductivity_is_put_into_the_record_with_a_note(client, store, tern):
    samples = "thickness_mm,impedance_cm2k_w\n0.5,2.1\n1,3.7\n2,7.1"
    page = shown(client, tern, tested=samples)
    assert f'action="/r/{tern}/layers/tested' in page
    sent = {"base": "1", "key": "t-1", "layer": "pad-radio", "tested": samples}
    assert client.post(f"/r/{tern}/layers/tested", data=sent).status_code == 303
    layer = store.get(tern).record.layers[2]
    assert layer.conductivity_w_mk == 2.99
    assert layer.note.endswith("Bar test of 3 samples: 2.99 W/(m·K), 2.52 to 3.68 (95 %).")
    for wrong in ({"layer": "graphite-plate"}, {"layer": "nothing"}, {"tested": ""}, {"tested": "a,b"}):
        refused = client.post(f"/r/{tern}/layers/tested", data={**sent, "key": "t-2", **wrong})
        assert refused.status_code == 422
    assert store.get(tern).revision == 2


def test_a_pad_that_cannot_be_is_not_put_in(client, store, tern):
    address, fields = fit_form(client, tern)
    answer = client.post(address, data={**fields, "thickness": "500"}, headers={"Origin": ORIGIN})
    assert answer.status_code == 422
    assert store.get(tern).revision == 1


def test_a_record_without_layers_says_where_to_enter_them(client, store):

    bare = msgspec.structs.replace(demo.load("tern-2"), layers=())
    name = store.new(bare, at=AT).id
    page = shown(client, name)
    assert "No thermal layer is in the record yet." in page
    assert f"/r/{name}/edit/layers/new" in page


def test_a_layer_that_cannot_be_is_told_with_the_way_to_its_form_and_the_others_stand(client, store):

    record = demo.load("tern-2")
    thick = msgspec.structs.replace(record.layers[0], thickness_mm=800.0)
    name = store.new(msgspec.structs.replace(record, layers=(thick, *record.layers[1:])), at=AT).id
    page = shown(client, name)
    assert "layer pad-processor: thickness: found 800 mm" in page
    assert f"/r/{name}/edit/layers/pad-processor" in page
    assert "graphite-shield" in page
    assert client.get(f"/r/{name}/checks").status_code == 200


def test_the_hub_says_how_many_layers_there_are(client, tern):
    assert "6 in the record." in client.get(f"/r/{tern}/checks").text


def test_a_script_in_a_field_stays_text(client, tern):
    page = shown(client, tern, 422, power="<script>alert(1)</script>")
    assert "<script>alert" not in page


@pytest.mark.browser
def test_the_form_keeps_what_was_typed_from_every_place(tmp_path, opened):
    from midframe.store import Store
    from web.conftest import serving

    folder = tmp_path / "data"
    folder.mkdir()
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    name = store.new(demo.load("tern-3"), at=AT).id
    store.close()
    with serving(folder) as (address, _):
        page = opened(f"{address}/r/{name}/layers", width=390)
        page.get_by_label("Power").fill("3")
        page.get_by_label("In place of").select_option("pad-processor")
        page.get_by_role("button", name="Rank").click()
        page.wait_for_url("**#substitute")
        assert page.get_by_label("Power").input_value() == "3"
        page.get_by_role("button", name=re.compile("Put into the record.*0.8 mm, 12 ")).click()
        page.wait_for_url("**/layers?**")
        assert page.get_by_label("In place of", exact=True).input_value() == "pad-processor"
        assert page.get_by_role("region", name="Each layer").get_by_text("12", exact=True).count() == 1
