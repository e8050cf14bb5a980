from __future__ import annotations

from random import Random

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load
from midframe.faults import UnknownPart
from midframe.publish.job import (
    BeganBefore,
    Begun,
    Ended,
    InHole,
    Lying,
    OnOrder,
    PutAway,
    Reopened,
    TakenUp,
    Ticked,
    Told,
    Warned,
    Weighed,
    job_of,
    packed,
    unpacked,
)
from midframe.publish.progress import against, all_in, curing, key_of, progress, resumes
from midframe.publish.refit import moves_of_log
from midframe.ways.rules import Rules, State
from midframe.ways.teardown import teardown
from publish.test_refit import walked
from ways.generators import phone_like, small

TERN = load("tern-3")
LOG = Begun("log", moves_of_log(TERN))


def told(*tellings, by="Ann"):
    return [Told(one, by, "2026-11-25T10:00:00+00:00") for one in tellings]


def at(*tellings, record=TERN):
    return progress(record, job_of(told(*tellings)))


def ticks(record, begun, until):
    """Tellings that tick moves in their order, each screw in its hole, until the named joint is closed."""
    made, job = [begun], progress(record, job_of(told(begun)))
    for step in job.steps:
        if step.line.screws:
            made += all_in(job, step.line.joint)
        if step.line.joint == until:
            return made
        made.append(Ticked(step.key))
    return made


EVERY = (
    *(LOG, BeganBefore(), Ticked("a"), InHole("j", 1, "A"), Lying("A", 2), Weighed("first", 191.2, 0.01)),
    *(Warned("a", "no"), PutAway((("device", "shelf"),)), OnOrder("1", "Battery"), TakenUp(), Ended(("x",))),
    Reopened(),
)


def test_every_telling_comes_back_from_its_json():
    assert unpacked(packed(EVERY)) == EVERY
    with pytest.raises(msgspec.ValidationError):
        unpacked('[{"type":"guess"}]')


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(EVERY), max_size=12), st.data())
def test_the_same_told_twice_comes_to_the_same(tellings, data):
    once = told(*tellings)
    if not once:
        return
    place = data.draw(st.integers(0, len(once) - 1))
    if not isinstance(once[place].telling, (Begun, BeganBefore, Ended)):
        assert job_of(once) == job_of([*once[: place + 1], *once[place:]])


def test_a_tick_can_be_taken_back_and_says_who_made_it():
    job = job_of([*told(LOG), *told(Ticked("a"), by="Bo"), *told(Ticked("b"), Ticked("b", done=False))])
    assert {line: one.author for line, one in job.ticks.items()} == {"a": "Bo"}


def test_what_is_told_after_the_end_begins_another_job():
    job = job_of(told(LOG, Ticked("a"), Ended(), Weighed("first", 190.0)))
    assert (job.begun, job.ticks, job.first.mass_g) == (None, {}, 190.0)
    assert job_of(told(LOG, Ticked("a"), Ended(), Reopened())).ticks


def test_what_is_told_of_the_job_that_ended_leaves_it_ended():
    made = [LOG, Ticked("a"), OnOrder("1", "Battery"), Ended()]
    job = job_of(told(*made, OnOrder("1", "Battery", came=True), TakenUp()))
    assert (job.ended is not None, list(job.ticks), job.on_order) == (True, ["a"], ())
    assert job_of(told(*made, OnOrder("2", "Tape"))).begun is None


def test_what_is_on_order_stays_until_it_came_or_is_taken_off():
    job = job_of(told(OnOrder("1", "Battery", note="Friday"), OnOrder("2", "Tape"), OnOrder("2", "")))
    assert [one.item for one in job.on_order] == ["Battery"]
    assert job_of(told(OnOrder("1", "Battery", came=True))).on_order == ()


def test_places_are_added_to_and_cleared():
    job = job_of(told(PutAway((("1", "bin 4"), ("2", "bin 5"))), TakenUp(), PutAway((("2", ""),), "later")))
    assert (job.places, job.notes) == ({"1": "bin 4"}, "later")
    assert job.away is not None


def test_ticked_one_after_the_other_it_ends_at_the_closed_device():
    begun = Begun("everything", teardown(TERN))
    end = at(*ticks(TERN, begun, until=None))
    assert (end.next, end.state, end.moves, end.open_points) == ("", State(), (), ())
    assert (end.out, end.back_in, end.found.done) == (36, 36, True)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 300), st.integers(0, 50), st.integers(0, 14))
def test_ticked_in_any_order_that_is_taken_it_resumes_exactly_and_never_ends_up_stuck(seed, walk, length):
    record = small(seed)
    assert_never_stuck(record, walked(record, walk, length)[0], Random(walk))


def test_a_phone_ticked_in_any_order_that_is_taken_resumes_exactly():
    record = phone_like(3, 30, linked=True)
    assert_never_stuck(record, walked(record, 4, 18)[0], Random(7))


def assert_never_stuck(record, moves, random):
    """Tick at random what is not refused; the state is that of the moves left; in the end all is closed."""
    made = [Begun("log", tuple(moves))]
    while (now := at(*made, record=record)).next:
        assert resumes(record, now)
        assert Rules(record).replay(now.moves) == now.state
        left = [one for one in now.steps if not one.done]
        chosen = random.choice(left)
        made += all_in(now, chosen.line.joint) if chosen.line.screws else ()
        if not against(record, at(*made, record=record), chosen.key):
            made.append(Ticked(chosen.key))
        else:
            made.append(Ticked(now.next))
    assert now.state == State()


def test_what_would_be_covered_is_named_and_has_to_be_ticked_first():
    now = at(LOG)
    early = next(one for one in now.steps if one.line.joint == "back-bond")
    assert "not ticked" in against(TERN, now, early.key)[0]
    assert against(TERN, now, now.next) == ()
    with pytest.raises(UnknownPart, match="right: one of its list"):
        against(TERN, now, "close nothing")


def screws(until):
    made = ticks(TERN, LOG, until)
    return made, next(one for one in at(*made).steps if one.line.joint == until)


def test_an_empty_hole_is_told_when_its_cover_is_to_be_closed():
    made, step = screws("upper-cover-screws-short")
    made.append(InHole(step.line.joint, 2, ""))
    assert against(TERN, at(*made), step.key) == ("Upper cover screws short: hole 2 has no screw",)
    made += [InHole(step.line.joint, hole.number, "") for hole in step.holes]
    assert against(TERN, at(*made), step.key)[0].endswith("no hole has its screw yet")


def test_a_screw_of_another_kind_is_told_at_once_with_its_harm():
    made, step = screws("upper-cover-screws-short")
    now = at(*made, InHole(step.line.joint, 2, "A"))
    chosen = next(one for one in now.steps if one.key == step.key)
    assert "A (M1.4×4 pan) is in hole 2 of Upper mid cover" in chosen.wrong[0]
    assert "beyond the hole: reaches" in chosen.wrong[0]
    assert chosen.wrong[0] in against(TERN, now, step.key)
    assert [hole.right for hole in chosen.holes][:3] == [True, False, True]


def test_a_screw_missing_from_the_tray_is_told_with_where_it_belongs():
    made, step = screws("upper-cover-screws-long")
    now = at(*made, InHole(step.line.joint, 1, ""), Lying("A", 0))
    assert any(text.startswith("1 of A (M1.4×4 pan) missing from the tray: for") for text in now.open_points)


def test_a_hole_that_the_record_does_not_have_any_more_is_passed_over():
    now = at(LOG, InHole("upper-cover-screws-long", 99, "A"), InHole("gone", 1, "A"), Ticked("close gone"))
    assert (now.back_in, now.done) == (0, 0)


def test_a_tick_against_the_warning_keeps_the_warning():
    made, step = screws("upper-cover-screws-short")
    now = at(*made, InHole(step.line.joint, 2, ""), Ticked(step.key, in_spite="hole 2 has no screw"))
    assert next(one for one in now.steps if one.key == step.key).in_spite == "hole 2 has no screw"


def test_two_weighings_are_compared_on_the_worse_scale():
    made = ticks(TERN, LOG, until=None)
    now = at(*made, Weighed("first", 191.30, 0.01, 0.01), Weighed("last", 191.2, 0.1, 0.05))
    assert now.weighed.verdict == "no difference seen"
    assert not now.weighed.sees_lightest
    fine = at(*made, Weighed("first", 191.30, 0.01, 0.01), Weighed("last", 191.1, 0.01, 0.01))
    assert fine.weighed.verdict == "lighter"
    assert any("lighter than expected" in text for text in fine.open_points)
    assert at(*made, Weighed("first", 191.3), Weighed("last", None)).weighed is None
    shaky, coarse = Weighed("first", 191.30, 0.01, 0.5), Weighed("last", 191.1, 0.1, 0.05)
    assert at(*made, shaky, coarse).weighed.uncertainty_g > 0.7


def test_without_a_beginning_there_is_no_progress():
    assert progress(TERN, job_of([])) is None
    assert key_of(at(LOG).steps[0].line).startswith(("close ", "place "))


def test_a_refit_begun_anew_by_a_slip_gives_way_to_the_one_before_with_its_ticks():
    made = [LOG, Ticked("a"), InHole("j", 1, "A"), Begun("log", ())]
    assert job_of(told(*made)).ticks == {}
    again = job_of(told(*made, BeganBefore()))
    assert (list(again.ticks), again.holes, again.begun.telling) == (["a"], {("j", 1): "A"}, LOG)
    assert job_of(told(LOG, BeganBefore())).begun.telling == LOG


def test_what_was_told_between_the_slip_and_the_way_back_from_it_is_kept():
    between = [OnOrder("1", "Battery"), Weighed("last", 191.2), PutAway((("device", "shelf"),), "later")]
    job = job_of(told(LOG, Ticked("a"), Begun("log", ()), *between, BeganBefore()))
    assert (list(job.ticks), [one.item for one in job.on_order]) == (["a"], ["Battery"])
    assert (job.last.mass_g, job.places, job.notes) == (191.2, {"device": "shelf"}, "later")
    assert job.away is not None


def test_a_bond_that_was_ticked_says_until_when_it_lies_weighted_and_gains_strength():
    made = ticks(TERN, LOG, until="back-bond")
    now = at(*made, Ticked("close back-bond"))
    later = {
        "2026-11-25T10:10:00+00:00": "2026-11-25T10:30:00+00:00",
        "2026-11-25T11:00:00+00:00": "",
    }
    for moment, weighted in later.items():
        found = curing(now, moment)[0]
        assert (found.name, found.weighted_until) == ("Back cover bond", weighted)
        assert found.full_at == "2026-11-28T10:00:00+00:00"
    assert curing(now, "2026-12-25T10:00:00+00:00") == ()
