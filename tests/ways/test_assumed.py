from __future__ import annotations

from random import Random

import msgspec
import pytest

from midframe.faults import UnknownPart
from midframe.ways.assumed import answered, assumed_range, assumed_subjects, next_question
from midframe.ways.objective import SECONDS, STEPS_THEN_SECONDS
from midframe.ways.solve import solve_all
from midframe.ways.way import NoWayFound
from ways.generators import small
from ways.records import joint, part, record, with_joint, with_part, work

PRY = ((work("pry", ["opening pick"], 60.0),),)
SCREWS = ((work("unscrew", ["cross recess 00 driver"], 12.0),),)


def phone():
    """A cell that lies, so it is assumed, under two covers; the motor's glue is assumed behind the lid."""
    return record(
        [
            part("lid"),
            part("lower-cover", seat="frame"),
            part("cell", ["lid lower-cover"], assumed=True),
            part("motor"),
        ],
        [
            joint("lid-glue", "lid frame", "adhesive", work=PRY),
            joint("lower-cover-screws", "lower-cover frame", "screw", ["lid"], work=SCREWS),
            joint("cell-pad", "cell frame", "adhesive", ["lid"], work=PRY),
            joint("motor-glue", "motor frame", "adhesive", ["lid"], work=PRY, assumed=True),
        ],
    )


def plainly_summed(whole, objective):
    """Targets without a way and the objective's terms, summed; every target solved afresh."""
    ways = solve_all(whole, objective).values()
    values = [
        (1, *(0 for _ in objective.terms)) if isinstance(w, NoWayFound) else (0, *w.value) for w in ways
    ]
    return tuple(map(sum, zip(*values, strict=True)))


def plain_gains(whole, objective):
    """The gain of every question, by its definition and without any reuse."""
    subjects = assumed_subjects(whole)

    def total(*dropped):
        edited = whole
        for kind, name in dropped:
            edited = answered(edited, kind, name, confirmed=False)
        return plainly_summed(edited, objective)

    def span(worst, best):
        return [high - low for high, low in zip(worst, best, strict=True)]

    best, worst = total(*subjects), total()
    gains = {}
    for one in subjects:
        others = [other for other in subjects if other != one]
        narrowed = zip(span(worst, total(*others)), span(total(one), best), strict=True)
        gains[one] = tuple(
            2 * whole - a - b for whole, (a, b) in zip(span(worst, best), narrowed, strict=True)
        )
    return gains


def test_the_best_case_drops_assumed_conditions_and_the_worst_keeps_them():
    found = assumed_range(phone(), SECONDS)
    assert (found.parts, found.joints) == (("cell",), ("motor-glue",))
    motor = next(one for one in found.targets if one.target == "motor")
    assert motor.best.seconds == 60 + 4 + 3
    assert motor.worst.seconds == 60 + 4 + 3 + 60 + 3
    lid = next(one for one in found.targets if one.target == "lid")
    assert lid.best == lid.worst
    assert found.worst.seconds == sum(one.worst.seconds for one in found.targets)


def test_the_question_that_narrows_most_is_asked_first_in_plain_words():
    question = next_question(phone(), SECONDS)
    assert (question.kind, question.subject) == ("joint", "motor-glue")
    assert question.text == "Is the motor glue really behind the lid?"
    assert question.now.text == "now: 6 to 9 steps, 350 to 432 s over all parts"
    assert question.gain == (0, 63_000 + 63_000)
    assert question.if_denied.worst.seconds < question.now.worst.seconds
    assert question.if_confirmed.best.seconds > question.now.best.seconds
    assert question.if_confirmed.text.startswith("if so: ")


def test_the_question_about_a_part_names_all_that_covers_it():
    whole = phone()
    parts = tuple(
        msgspec.structs.replace(one, name="Lower mid cover") if one.id == "lower-cover" else one
        for one in whole.parts
    )
    named = msgspec.structs.replace(whole, parts=parts)
    only = answered(named, "joint", "motor-glue", confirmed=True)
    question = next_question(only)
    assert question.kind == "part"
    assert question.text == "Is the cell really under the lid and the lower mid cover?"
    either = with_part(only, "cell", under=(("lid",), ("lower-cover",)))
    assert next_question(either).text == "Is the cell really under the lid, or the lower mid cover?"


def test_a_question_about_several_screws_is_asked_in_the_plural():
    whole = with_joint(
        answered(phone(), "joint", "motor-glue", confirmed=True), "lower-cover-screws", assumed=True
    )
    denied = answered(whole, "part", "cell", confirmed=True)
    assert next_question(denied).text == "Are the lower cover screws really behind the lid?"


def test_an_answer_is_an_edit_of_the_record():
    whole = phone()
    confirmed = answered(whole, "part", "cell", confirmed=True)
    assert confirmed == with_part(whole, "cell", assumed=False)
    denied = answered(whole, "joint", "motor-glue", confirmed=False)
    assert denied == with_joint(whole, "motor-glue", assumed=False, behind=())
    with pytest.raises(UnknownPart, match="no assumed condition of part 'lid'"):
        answered(whole, "part", "lid", confirmed=True)


def test_once_all_is_answered_nothing_is_asked():
    whole = phone()
    while (question := next_question(whole)) is not None:
        whole = answered(whole, question.kind, question.subject, confirmed=True)
    assert assumed_subjects(whole) == ()
    settled = assumed_range(whole)
    assert settled.best == settled.worst


def test_of_equal_questions_the_first_in_the_record_is_asked():
    twice = record(
        [part("lid"), part("left"), part("right")],
        [
            joint("lid-glue", "lid frame", work=PRY),
            joint("left-glue", "left frame", behind=["lid"], work=PRY, assumed=True),
            joint("right-glue", "right frame", behind=["lid"], work=PRY, assumed=True),
        ],
    )
    assert next_question(twice).subject == "left-glue"


def test_a_part_that_only_an_assumption_locks_in_is_the_first_thing_to_ask_about():
    locked = with_joint(phone(), "lid-glue", behind=(("motor",),), assumed=True)
    found = assumed_range(locked)
    assert (found.best.stuck, found.worst.stuck) == (0, 4)
    question = next_question(locked)
    assert question.subject in {"lid-glue", "motor-glue"}
    assert "without a way in the worst case" in question.now.text


@pytest.mark.parametrize("seed", range(12))
def test_ranges_and_gains_are_those_of_solving_every_case_afresh(seed):
    random = Random(seed)
    drawn = small(seed)
    whole = msgspec.structs.replace(
        drawn,
        parts=tuple(msgspec.structs.replace(p, assumed=random.random() < 0.5) for p in drawn.parts),
        joints=tuple(msgspec.structs.replace(j, assumed=random.random() < 0.5) for j in drawn.joints),
    )
    gains = plain_gains(whole, STEPS_THEN_SECONDS)
    question = next_question(whole)
    if not gains:
        assert question is None
        return
    assert question.gain == max(gains.values())
    assert (question.kind, question.subject) == max(gains, key=gains.get)


def test_the_answer_can_be_written_as_json():
    assert msgspec.json.encode(assumed_range(phone()))
    assert msgspec.json.decode(msgspec.json.encode(next_question(phone())))["kind"] == "joint"
