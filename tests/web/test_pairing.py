from __future__ import annotations

import math
import re
import stat

import pytest
from starlette.testclient import TestClient

from midframe.faults import BadSetting, StoreTrouble, TooManyTries
from midframe.web.app import create_app
from midframe.web.pages.pairing import qr_svg
from midframe.web.pairing import CODE_SECONDS, CODE_SIGNS, MOST_WRONG, MOST_WRONG_OF_ALL, SIGNS, Pairing
from midframe.web.server import qr_lines
from midframe.web.settings import Settings
from web.conftest import serving

AT = "2026-11-25T05:00:00.000+00:00"
LAN = "http://192.0.2.7"


class Clock:
    now = 1000.0

    def __call__(self):
        return self.now


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def pairing(tmp_path, clock):
    return Pairing(tmp_path / "paired.json", clock)


@pytest.fixture
def app(store, tmp_path):
    """A shared bench."""
    return create_app(store, Settings(folder=tmp_path, share=True, addresses=(LAN,)))


@pytest.fixture
def screen(app):
    """Makes browsers on the network: each with its own address and its own cookies."""

    def made(address="192.0.2.50", base=LAN):
        headers = {"Origin": base, "Accept": "text/html"}
        return TestClient(
            app, base_url=base, headers=headers, follow_redirects=False, client=(address, 50_000)
        )

    return made


def code_of(app):
    return app.state.pairing.code().text


# The code


def test_a_code_has_more_than_39_random_bits_and_no_sign_that_is_taken_for_another(pairing):
    code = pairing.code().text
    assert len(code) == CODE_SIGNS
    assert set(code) <= set(SIGNS)
    assert set("01OIL").isdisjoint(SIGNS)
    assert CODE_SIGNS * math.log2(len(SIGNS)) > 39


def test_a_code_stays_for_ten_minutes_and_then_gives_way_to_a_fresh_one(pairing, clock):
    first = pairing.code().text
    clock.now += CODE_SECONDS - 1
    assert pairing.code().text == first
    clock.now += 1
    assert pairing.code().text != first


def test_a_code_that_has_ended_pairs_nobody(pairing, clock):
    code = pairing.code().text
    clock.now += CODE_SECONDS
    with pytest.raises(BadSetting, match="another code"):
        pairing.pair(code, "phone", "192.0.2.50", AT)


def test_a_code_counts_once(pairing):
    code = pairing.code().text
    assert pairing.knows(pairing.pair(code, "phone", "192.0.2.50", AT))
    with pytest.raises(BadSetting, match="another code"):
        pairing.pair(code, "second phone", "192.0.2.51", AT)
    assert len(pairing.screens()) == 1


@pytest.mark.parametrize("write", [str.lower, lambda code: f" {code[:4]}-{code[4:]} "])
def test_a_code_may_be_typed_in_any_case_and_with_gaps(pairing, write):
    assert pairing.pair(write(pairing.code().text), "phone", "192.0.2.50", AT)


@pytest.mark.parametrize("typed", ["", "AAAAAAAA", "ÄÖÜ", "٣٣٣٣٣٣٣٣", "\x00", "A" * 10_000])
def test_a_wrong_code_is_refused_in_words(pairing, typed):
    pairing.code()
    with pytest.raises(BadSetting, match="right: the one that the terminal"):
        pairing.pair(typed, "phone", "192.0.2.50", AT)


def test_one_address_may_be_wrong_a_few_times_only_and_others_are_not_hindered(pairing, clock):
    for _ in range(MOST_WRONG):
        with pytest.raises(BadSetting):
            pairing.pair("WRONG", "phone", "192.0.2.66", AT)
    with pytest.raises(TooManyTries, match="wait"):
        pairing.pair(pairing.code().text, "phone", "192.0.2.66", AT)
    assert pairing.pair(pairing.code().text, "phone", "192.0.2.50", AT)
    clock.now += CODE_SECONDS
    assert pairing.pair(pairing.code().text, "phone", "192.0.2.66", AT)


def test_all_addresses_together_may_be_wrong_a_bounded_number_of_times(pairing):
    for number in range(MOST_WRONG_OF_ALL):
        with pytest.raises(BadSetting):
            pairing.pair("WRONG", "phone", f"192.0.2.{number}", AT)
    with pytest.raises(TooManyTries):
        pairing.pair(pairing.code().text, "phone", "192.0.2.200", AT)


# What is kept


def test_the_file_holds_no_token_and_only_its_owner_may_read_it(pairing):
    token = pairing.pair(pairing.code().text, "phone", "192.0.2.50", AT)
    assert len(token) >= 43  # 256 bits
    assert token not in pairing.file.read_text()
    assert stat.S_IMODE(pairing.file.stat().st_mode) == 0o600


def test_a_restart_unpairs_nobody(pairing):
    token = pairing.pair(pairing.code().text, "phone", "192.0.2.50", AT)
    assert Pairing(pairing.file).knows(token)


def test_two_servers_on_one_folder_know_the_same_screens(pairing):
    other = Pairing(pairing.file)
    assert other.screens() == ()
    token = pairing.pair(pairing.code().text, "phone", "192.0.2.50", AT)
    assert other.knows(token)
    other.unpair(other.screens()[0].id)
    assert not pairing.knows(token)


def test_a_list_that_cannot_be_written_pairs_nobody_and_keeps_the_code(tmp_path):
    pairing = Pairing(tmp_path / "no such folder" / "paired.json")
    code = pairing.code().text
    with pytest.raises(StoreTrouble, match="nothing changed"):
        pairing.pair(code, "phone", "192.0.2.50", AT)
    assert pairing.code().text == code


def test_a_damaged_list_is_told_with_what_to_do(pairing):
    pairing.file.write_text("{")
    with pytest.raises(StoreTrouble, match="delete it and pair anew"):
        pairing.screens()


def test_the_terminal_is_told_who_was_paired_and_the_next_code(tmp_path):
    lines = []
    pairing = Pairing(tmp_path / "paired.json", tell=lines.append)
    pairing.pair(pairing.code().text, "phone of the left bench", "192.0.2.50", AT)
    assert lines == [
        f"Paired: phone of the left bench. The code for the next screen: {pairing.code().spaced}"
    ]


# Over HTTP


@pytest.mark.parametrize("path", ["/", "/settings", "/r/x", "/photos/a/full.jpg", "/pairs", "//static/x"])
def test_a_screen_that_is_not_paired_is_led_to_the_pairing_page(screen, path):
    answer = screen().get(path)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/pair")


@pytest.mark.parametrize(
    ("method", "path", "headers"),
    [
        ("GET", "/events", {"Accept": "text/event-stream"}),
        ("GET", "/r/x/bench", {"Swap": "log"}),
        ("POST", "/settings", {}),
        ("POST", "/r/x/bench", {"Swap": "outbox"}),
    ],
)
def test_scripts_and_forms_of_a_screen_that_is_not_paired_are_refused(screen, method, path, headers):
    answer = screen().request(method, path, headers=headers)
    assert answer.status_code == 403
    assert "not paired" in answer.text


def test_programs_that_are_not_paired_get_json(screen):
    answer = screen().get("/api/records")
    assert answer.status_code == 403
    assert "pairing code" in answer.json()["fault"]


def test_a_screen_is_paired_by_the_code_and_goes_on_to_where_it_wanted(screen, app):
    phone = screen()
    answer = phone.post("/pair", data={"code": code_of(app), "name": "phone", "to": "/settings"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/settings")
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert "path=/" in cookie
    assert phone.get("/settings").status_code == 200
    assert screen("192.0.2.51").get("/settings").status_code == 303


@pytest.mark.parametrize(
    "to", ["//evil.test", "https://evil.test", "/\\evil.test", "javascript:1", "/a\r\nb"]
)
def test_pairing_leads_nowhere_else(screen, app, to):
    answer = screen().post("/pair", data={"code": code_of(app), "to": to})
    assert answer.headers["location"] == "/"


def test_looking_at_the_address_of_the_qr_uses_nothing_up(screen, app):
    code = code_of(app)
    for _ in range(3):  # a preview of the link, and the person
        answer = screen().get(f"/pair?code={code}")
        assert answer.status_code == 200
        assert f'name="code" value="{code}"' in answer.text
    assert screen().post("/pair", data={"code": code}).status_code == 303


def test_a_code_in_the_address_is_shown_as_text_only(screen):
    answer = screen().get("/pair", params={"code": '"><script>alert(1)</script>'})
    assert "<script>alert" not in answer.text


def test_a_wrong_code_over_http_is_told_and_at_last_slowed(screen):
    phone = screen()
    assert [phone.post("/pair", data={"code": "WRONG"}).status_code for _ in range(MOST_WRONG + 1)] == [
        *[422] * MOST_WRONG,
        429,
    ]


def test_a_foreign_page_cannot_pair(screen, app):
    answer = screen().post("/pair", data={"code": code_of(app)}, headers={"Origin": "http://evil.test"})
    assert answer.status_code == 403
    assert app.state.pairing.screens() == ()


def test_a_made_up_cookie_opens_nothing(screen):
    phone = screen()
    phone.cookies.set("paired-8310", "A" * 43)
    assert phone.get("/settings").status_code == 303


def test_a_screen_that_was_unpaired_has_to_pair_anew(screen, app):
    phone = screen()
    phone.post("/pair", data={"code": code_of(app), "name": "old phone"})
    shown = phone.get("/settings/share")
    assert "old phone" in shown.text
    assert (
        phone.post("/settings/share", data={"screen": app.state.pairing.screens()[0].id}).status_code == 303
    )
    assert phone.get("/settings").status_code == 303


def test_the_bench_itself_needs_no_pairing_but_a_foreign_name_for_it_does(app, store, tmp_path):
    own = TestClient(app, base_url="http://127.0.0.1", client=("127.0.0.1", 1), follow_redirects=False)
    assert own.get("/settings").status_code == 200
    lan = TestClient(app, base_url=LAN, client=("127.0.0.1", 1), follow_redirects=False)
    assert lan.get("/settings").status_code == 403
    claims = TestClient(app, base_url="http://127.0.0.1", client=("192.0.2.50", 1), follow_redirects=False)
    assert claims.get("/settings", headers={"X-Forwarded-For": "127.0.0.1"}).status_code == 403


def test_sharing_shows_the_code_its_qr_and_how_long_it_lasts(app):
    own = TestClient(app, base_url="http://127.0.0.1", client=("127.0.0.1", 1))
    text = own.get("/settings/share").text
    assert app.state.pairing.code().spaced in text
    assert "10 minutes" in text
    assert "<svg" in text
    assert LAN in text


def test_without_sharing_no_code_is_made(client):
    text = client.get("/settings/share").text
    assert "midframe serve --share" in text
    assert "pair-code" not in text


# The QR


def squares(lines):
    """The half blocks of a terminal as dark (True) and light squares."""
    upper, lower = {"█": 0, "▀": 0, "▄": 1, " ": 1}, {"█": 0, "▀": 1, "▄": 0, " ": 1}
    for line in lines:
        yield [upper[sign] for sign in line]
        yield [lower[sign] for sign in line]


def test_the_qr_of_the_terminal_is_the_one_of_the_page():
    content = "http://192.0.2.7:8310/pair?code=ABCD2345"
    segno = pytest.importorskip("segno")
    expected = [list(row) for row in segno.make(content, error="l", micro=False).matrix_iter(border=2)]
    shown = list(squares(qr_lines(content)))[: len(expected)]
    assert shown == expected


def test_the_qr_of_the_page_is_dark_on_light_without_style():
    drawn = qr_svg("http://192.0.2.7:8310/pair?code=ABCD2345")
    assert 'stroke="#000"' in drawn
    assert 'fill="#fff"' in drawn
    assert "style=" not in drawn


@pytest.mark.browser
def test_a_phone_pairs_by_the_code_and_by_the_address_of_the_qr(opened, tmp_path):
    with serving(tmp_path / "data", "--share", "--host", "bench.test") as (address, process):
        bench = opened(f"{address}/settings/share")
        phone_at = address.replace("127.0.0.1", "bench.test")
        phone = opened(phone_at, width=390, height=780)
        assert phone.url == f"{phone_at}/pair"
        phone.get_by_label("Code").fill(bench.locator(".pair-code").inner_text().lower())
        phone.get_by_label("Name of this screen").fill("phone of the left bench")
        phone.get_by_role("button", name="Pair this screen").click()
        phone.wait_for_url(f"{phone_at}/")

        bench.get_by_role("link", name="Show the present code").click()
        bench.get_by_text("phone of the left bench").wait_for()
        code = bench.locator(".pair-code").inner_text().replace(" ", "")
        second = opened(f"{phone_at}/pair?code={code}", width=390, height=780)
        second.get_by_role("button", name="Pair this screen").click()
        second.wait_for_url(f"{phone_at}/")

        bench.get_by_role("button", name="Unpair phone of the left bench").click()
        bench.get_by_text("phone of the left bench").wait_for(state="detached")
        phone.goto(f"{phone_at}/settings")
        assert re.search(r"/pair\?to=/settings$", phone.url)
        second.goto(f"{phone_at}/settings")
        assert second.url == f"{phone_at}/settings"
        process.terminate()
        assert "Paired: phone of the left bench" in process.stdout.read()
