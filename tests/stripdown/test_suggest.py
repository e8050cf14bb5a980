from __future__ import annotations

import msgspec

from midframe.demo import load
from midframe.record.draft import begin
from midframe.stripdown import Done, apply, bench_state, suggest


def texts(record, verb, typed=""):
    return [one.text for one in suggest(record, bench_state(record), verb, typed)]


def test_an_empty_shelf_offers_the_terms_of_the_trade_in_their_usual_order():
    assert texts(begin("Tern", "phone"), "unclip")[:3] == ["SIM tray", "Memory card tray", "Back cover"]


def test_a_part_whose_joints_were_just_opened_comes_first():
    record = begin("Tern", "phone")
    record = apply(record, Done(verb="unclip", what="Back cover"), 5).record
    record = apply(record, Done(verb="unscrew", what="Mid cover"), 9).record
    assert texts(record, "lift")[:2] == ["Mid cover", "Back cover"]


def test_of_a_known_device_the_joints_within_reach_come_first():
    record = msgspec.structs.replace(load("tern-2"), log=())
    first, *others = suggest(record, bench_state(record), "unclip")
    assert (first.kind, first.why) == ("joint", "within reach")
    reachable = bench_state(record).reachable
    assert all(one.value in reachable for one in (first, *others) if one.why == "within reach")


def test_words_typed_find_other_ways_of_saying_it():
    assert texts(begin("Tern", "phone"), "lift", "scr") == ["Display"]
    assert texts(begin("Tern", "phone"), "lift", "no such thing") == []
