from __future__ import annotations

import pytest
from hypothesis import given, settings

from midframe.demo import load
from midframe.faults import BadSetting
from midframe.record import check, faults, read, write
from midframe.record.draft import begin
from midframe.stripdown import (
    Done,
    apply,
    bench_state,
    condition_questions,
    line_words,
    log_questions,
    replay,
)
from strategies import devices
from stripdown.strategies_of_moves import timed_moves


def stripped(*moves, record=None, every=10):
    record = record or begin("Tern", "phone")
    start = record.log[-1].seconds if record.log else 0
    for place, move in enumerate(moves, start=1):
        record = apply(record, move, start + every * place).record
    return record


def joint(record, name):
    return next(one for one in record.joints if one.id == name)


def part(record, name):
    return next(one for one in record.parts if one.id == name)


@settings(max_examples=60, deadline=None)
@given(timed_moves)
def test_whatever_is_said_the_record_stays_sound_and_replays(moves):
    record, at = begin("Tern", "phone"), 0.0
    for move, gap in moves:
        at += gap
        try:
            applied = apply(record, move, at)
        except BadSetting:
            continue
        assert faults(check(applied.record)) == ()
        assert len(applied.record.log) > len(record.log)
        assert applied.entry in applied.record.log
        record = applied.record
    assert read(write(record)) == record
    times = [entry.seconds for entry in record.log]
    assert times == sorted(times)
    state = bench_state(record)
    assert len(state.lines) == len(record.log)
    assert all(line_words(record, line) for line in state.lines)
    assert len(condition_questions(record)) <= len(record.parts) + len(record.joints)


@settings(max_examples=25, deadline=None)
@given(devices(), timed_moves)
def test_a_record_that_came_with_knowledge_keeps_all_of_it(known, moves):
    record = known
    for place, (move, _) in enumerate(moves):
        try:
            record = apply(record, move, 10.0 * place).record
        except BadSetting:
            continue
        assert faults(check(record)) == ()
    for before in known.joints:
        after = joint(record, before.id)
        assert (after.holds, after.kind, after.tether, after.behind) == (
            before.holds,
            before.kind,
            before.tether,
            before.behind,
        )
        assert after.work == before.work or before.kind == "adhesive"
    for before in known.parts:
        assert part(record, before.id).under == before.under


def test_screws_make_a_joint_with_all_that_was_said():
    said = Done(verb="unscrew", what="mid cover", count=14, drive="hexalobular 4", thread="M1.4", length_mm=3)
    record = stripped(said)
    made = joint(record, "mid-cover-screws")
    assert (made.kind, made.holds, made.count) == ("screw", ("mid-cover", "frame"), 14)
    assert (made.drive, made.thread, made.length_mm) == ("hexalobular 4", "M1.4", 3)
    assert made.work[0][0].tools == ("hexalobular 4 driver",)
    assert made.work[0][0].seconds == 10
    assert record.log[0].open == "mid-cover-screws"


def test_heat_and_soak_alone_do_not_open_the_last_opening_verb_does():
    heat, pry = Done(verb="heat", what="back cover"), Done(verb="pry", what="back cover")
    record = stripped(heat, Done(verb="soak", what="back cover"))
    assert replay(record).state.open == frozenset()
    record = stripped(pry, heat, pry, record=record)
    (bond,) = record.joints
    assert [step.do for step in bond.work[0]] == ["heat", "soak", "pry", "heat", "pry"]
    assert [entry.open for entry in record.log] == ["", "", "", "", "back-cover-bond"]
    assert replay(record).state.open == {"back-cover-bond"}


def test_a_bond_that_was_only_heated_is_open_once_its_part_is_lifted():
    record = stripped(Done(verb="heat", what="back cover"), Done(verb="lift", what="back cover"))
    assert [entry.open for entry in record.log] == ["", "back-cover-bond", ""]
    assert [line.against for line in replay(record).lines] == ["", "", ""]
    assert replay(record).aside == ("back-cover",)


def test_what_was_lifted_since_is_assumed_to_have_been_in_the_way():
    screws = Done(verb="unscrew", what="mid cover")
    record = stripped(Done(verb="unclip", what="back cover"), Done(verb="lift", what="back cover"), screws)
    assert (joint(record, "mid-cover-screws").behind, joint(record, "mid-cover-screws").assumed) == (
        (("back-cover",),),
        True,
    )
    record = stripped(Done(verb="unplug", what="battery"), record=record)
    assert joint(record, "battery-plug").behind == (("back-cover",),)


def test_what_is_said_to_have_been_in_the_way_counts_as_confirmed():
    first = Done(verb="unclip", what="back cover"), Done(verb="lift", what="back cover")
    record = stripped(*first, Done(verb="unplug", what="battery", behind=(("back cover",),)))
    assert (joint(record, "battery-plug").behind, joint(record, "battery-plug").assumed) == (
        (("back-cover",),),
        False,
    )
    record = stripped(*first, Done(verb="unplug", what="battery", behind=()))
    assert (joint(record, "battery-plug").behind, joint(record, "battery-plug").assumed) == ((), False)


def test_a_lift_needs_nothing_besides_its_joints_unless_more_was_lifted_in_between():
    record = stripped(
        Done(verb="unclip", what="back cover"),
        Done(verb="lift", what="back cover"),
        Done(verb="unscrew", what="mid cover"),
        Done(verb="lift", what="mid cover"),
    )
    assert (part(record, "mid-cover").under, part(record, "mid-cover").assumed) == ((), False)
    record = stripped(
        Done(verb="unscrew", what="Plate"),
        Done(verb="unscrew", what="Camera"),
        Done(verb="lift", what="Plate"),
        Done(verb="lift", what="Camera"),
    )
    assert (part(record, "camera").under, part(record, "camera").assumed) == ((("plate",),), True)


def test_a_part_folded_aside_hangs_on_its_cable_until_that_is_unplugged():
    record = stripped(
        Done(verb="pry", what="display"), Done(verb="fold aside", what="display", to="main board")
    )
    assert bench_state(record).hanging == ("display",)
    assert joint(record, "display-plug").tether
    record = stripped(Done(verb="unplug", what="display", to="main board"), record=record)
    assert len(record.joints) == 2
    assert bench_state(record).hanging == ()
    assert joint(record, "display-plug").behind == (("display",),)


def test_where_the_cable_leads_is_asked_when_it_was_not_said():
    record = stripped(Done(verb="pry", what="display"), Done(verb="fold aside", what="display"))
    (question,) = log_questions(record)
    assert (question.kind, question.subject) == ("cable", "display")
    record = stripped(Done(verb="unplug", what="display", to="main board"), record=record)
    assert log_questions(record) == ()


def test_screws_told_after_the_part_was_lifted_are_put_before_it():
    record = stripped(
        Done(verb="unplug", what="battery"),
        Done(verb="lift", what="battery"),
        Done(verb="peel", what="battery"),
    )
    assert [entry.open or entry.lift for entry in record.log] == [
        "battery-plug",
        "battery-bond",
        ("battery",),
    ]
    assert [line.against for line in replay(record).lines] == ["", "", ""]


def test_a_shield_taken_off_a_board_on_the_mat_sits_on_that_board():
    record = stripped(
        Done(verb="unscrew", what="main board"),
        Done(verb="lift", what="main board"),
        Done(verb="unclip", what="main board", to="shield"),
        Done(verb="lift", what="shield"),
    )
    assert joint(record, "shield-clips").holds == ("shield", "main-board")
    assert replay(record).aside == ("main-board", "shield")
    assert [line.against for line in replay(record).lines] == [""] * 4


def test_a_known_record_is_logged_on_and_differences_are_asked():
    record = load("tern-2")
    before = joint(record, "lower-cover-screws")
    applied = apply(
        msgspec_without_log(record),
        Done(verb="unscrew", what="Lower mid cover", count=3, drive="hexalobular 5"),
        10,
    )
    assert joint(applied.record, before.id) == before
    assert [(one.fact, one.here, one.known) for one in applied.questions] == [
        ("count", "3", "4"),
        ("drive", "hexalobular 5", before.drive),
    ]


def msgspec_without_log(record):
    import msgspec

    return msgspec.structs.replace(record, log=())


def test_seconds_come_from_the_clock_and_a_break_is_not_work():
    record = begin("Tern", "phone")
    record = apply(record, Done(verb="unclip", what="Lid"), 42.4).record
    assert record.joints[0].work[0][0].seconds == 42
    record = apply(record, Done(verb="note", note="one clip bent"), 60).record
    record = apply(record, Done(verb="lift", what="Lid"), 72).record
    assert part(record, "lid").lift.seconds == 30
    record = apply(record, Done(verb="unplug", what="Cell"), 72 + 1801).record
    assert joint(record, "cell-plug").work == ()
    record = apply(record, Done(verb="peel", what="Cell", seconds=5), 4000).record
    assert joint(record, "cell-bond").work[0][0].seconds == 5


def test_tools_are_remembered_from_the_last_time():
    record = stripped(
        Done(verb="unscrew", what="Lid", drive="hexalobular 4", tools=("long hexalobular driver",)),
        Done(verb="unscrew", what="Plate", drive="hexalobular 4"),
        Done(verb="unscrew", what="Bracket", drive="cross recess 00"),
        Done(verb="peel", what="Cell", tools=("bare hand",)),
        Done(verb="peel", what="Mesh"),
    )
    used = {one.id: one.work[0][0].tools for one in record.joints}
    assert used["plate-screws"] == ("long hexalobular driver",)
    assert used["bracket-screws"] == ("cross recess 00 driver",)
    assert used["mesh-bond"] == ()


@pytest.mark.parametrize(
    ("said", "told"),
    [
        (Done(verb="lift"), "nothing that it was done to"),
        (Done(verb="note"), "neither words nor a photo"),
        (Done(verb="lift", what="Frame"), "the body"),
        (Done(verb="unscrew", what="Lid", to="lid"), "held to itself"),
        (Done(verb="unscrew", what="Lid", behind=(("Nowhere",),)), "Nowhere"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_what_would_be_right(said, told):
    with pytest.raises(BadSetting, match=told):
        apply(begin("Tern", "phone"), said, 5)


def test_a_photo_is_listed_with_the_part_that_it_shows():
    record = stripped(
        Done(verb="unclip", what="Lid", photo="ab12"), Done(verb="note", what="Lid", photo="cd34")
    )
    assert [(photo.hash, photo.parts) for photo in record.photos] == [("ab12", ("lid",)), ("cd34", ("lid",))]
    assert record.log[1].on == "lid"


def test_the_role_is_guessed_from_the_trade_term():
    record = stripped(Done(verb="unclip", what="rear glass"), Done(verb="unplug", what="wide rear camera"))
    assert [one.role for one in record.parts] == ["other", "back_cover", "rear_camera"]
