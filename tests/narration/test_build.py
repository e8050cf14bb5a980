from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from midframe.faults import BadSetting
from midframe.narration import Choices, draft_of, draft_record, english, read_captions
from midframe.narration.vocabulary import split
from midframe.record import check, faults, read, write
from midframe.stripdown import condition_questions
from midframe.stripdown.words import folded, terms
from midframe.ways.reach import reach
from midframe.ways.solve import solve
from narration.truth import talks

TALK = """
[0:05] The back cover is off.
[0:10] Four star twos on the connector plate, 1.5 millimetres, and the plate is out.
[0:30] Heat the battery, sixty degrees, one minute, and pry it with a card.
[2:00] Battery out. The label says 4050 mAh.
[2:10] Three screws on the main board.
[2:20] You don't have to take the connector plate off to get at the main board.
[2:30] The charging port is soldered to the sub board. There is a rubber seal around the charging port.
"""


def made(text=TALK, **choices):
    return draft_record(draft_of(read_captions(text)), Choices(**{"name": "Stint", **choices}))


def of(record, joint):
    return next(one for one in record.joints if one.id == joint)


def test_moves_go_through_the_rules_of_the_bench():
    record = made().record
    screws = of(record, "connector-plate-screws")
    assert (screws.count, screws.drive, screws.length_mm) == (4, "hexalobular 2", 1.5)
    assert [one.do for one in of(record, "battery-bond").work[0]] == ["heat", "pry"]
    assert [entry.lift for entry in record.log if entry.lift] == [
        ("back-cover",),
        ("connector-plate",),
        ("battery",),
    ]


def test_what_had_to_be_aside_is_assumed_and_waits_for_an_answer():
    record = made().record
    assert of(record, "connector-plate-screws").behind == (("back-cover",),)
    assert "connector-plate-screws" in [one.subject for one in condition_questions(record)]


def test_a_temperature_stands_in_the_log():
    assert any("at 60 °C" in entry.note for entry in made().record.log)


def test_figures_seals_and_closed_joints_come_into_the_record():
    record = made().record
    battery = next(part for part in record.parts if part.id == "battery")
    assert [(spec.label, spec.value, spec.unit) for spec in battery.specs] == [
        ("Rated capacity", 4050.0, "mAh")
    ]
    assert of(record, "charging-port-solder").holds == ("charging-port", "sub-board")
    assert not any(entry.open == "charging-port-solder" for entry in record.log)
    assert [seal.at for seal in record.seals] == [("charging-port",)]


def test_what_need_not_come_out_leaves_the_condition_and_stands_in_the_log():
    assert of(
        made("[0:05] connector plate off\n[0:09] three main board screws").record, "main-board-screws"
    ).behind == (("connector-plate",),)
    record = made(
        "[0:05] connector plate off\n[0:09] three main board screws\n"
        "[0:20] you don't have to take the connector plate off to get at the main board"
    ).record
    assert of(record, "main-board-screws").behind == ()
    assert record.log[-1].on == "main-board"
    assert "don't have to" in record.log[-1].note


def test_items_thrown_out_leave_no_trace():
    told = draft_of(read_captions(TALK))
    solder = next(item.number for item in told.items if item.fact == "soldered")
    record = draft_record(told, Choices(name="Stint", without=frozenset({solder}))).record
    assert [joint for joint in record.joints if joint.kind == "solder"] == []


def test_without_the_clock_only_times_that_were_said_count():
    timed, untimed = made().record, made(clock=False).record
    assert of(timed, "connector-plate-screws").work[0][0].seconds is not None
    assert [one.seconds for one in of(untimed, "battery-bond").work[0]] == [60.0, None]
    assert all(part.lift is None or part.lift.seconds is None for part in untimed.parts)


def test_an_item_that_the_record_cannot_hold_is_kept_as_a_note():
    drafted = made("[0:05] lifted the frame\n[0:09] battery out")
    assert drafted.noted[0][0] == 1
    assert drafted.record.log[0].note == "lifted the frame"
    assert "the body" in drafted.noted[0][1]


def test_a_device_without_a_name_is_refused():
    with pytest.raises(BadSetting, match="what the device is called"):
        made(name=" ")


def sound(record):
    return not faults(check(record)) and not faults(reach(record)) and read(write(record)) == record


def traced(drafted, items):
    """Whether each thing made stands in the words of its item, or of one before it."""
    ways = {}
    for word, term in terms().items():
        ways.setdefault(term.term, set()).add(word)
    said = [" ".join(split(item.words)) for item in items]
    ids = {one.id for one in drafted.traced}
    everything = {one.id for one in (*drafted.record.parts, *drafted.record.joints, *drafted.record.seals)}
    return ids == everything - {drafted.record.device.body} and all(
        said[one.item - 1] for one in drafted.traced
    )


@pytest.mark.parametrize("talk", talks("dev"), ids=lambda talk: talk.name)
def test_the_record_of_a_talk_passes_its_check_and_every_part_comes_from_an_item(talk):
    told = draft_of(talk.captions)
    drafted = draft_record(told, Choices(name="Stint"))
    assert sound(drafted.record)
    assert traced(drafted, told.items)


WORDS = sorted({" ".join(phrase) for phrase in english().phrases})
TALKS = st.lists(
    st.tuples(
        st.integers(0, 20),
        st.lists(st.sampled_from(WORDS) | st.integers(0, 99).map(str), max_size=12),
        st.sampled_from(["", ".", ",", "?"]),
    ),
    min_size=1,
    max_size=8,
)


@given(TALKS)
def test_no_talk_crashes_and_every_part_has_words_of_the_captions_behind_it(lines):
    seconds, text = 0, []
    for gap, words, sign in lines:
        seconds += gap
        text.append(f"[{seconds // 60}:{seconds % 60:02d}] x {' '.join(words)}{sign}")
    told = draft_of(read_captions("\n".join(text)))
    drafted = draft_record(told, Choices(name="Stint"))
    assert sound(drafted.record)
    assert traced(drafted, told.items)
    spoken = {word for line in text for word in split(line.partition("]")[2])}
    for item in told.items:
        assert set(split(item.words)) <= spoken
    spoken |= heard_as(told.items)
    for name in names_in(told.items):
        assert behind(name, spoken), name


def names_in(items):
    """The names of parts in items."""
    return {name for item in items for name in (item.part, item.to, *item.without) if name}


def heard_as(items):
    """The words that misheard ones were taken for, as the items say."""
    reasons = [reason for item in items for reason in item.reasons]
    return {word for reason in reasons for one in reason.split("taken for “")[1:] for word in split(one)}


def behind(name, spoken):
    """Whether words that mean a part, or its name itself, were said; a plural counts as the word."""
    bare = spoken | {word.removesuffix("s") for word in spoken} | {word.removesuffix("es") for word in spoken}
    own = english()
    bare |= {tags["head"] for phrase, tags in own.phrases.items() if "head" in tags and set(phrase) <= bare}
    ways = {
        word
        for phrase, tags in own.phrases.items()
        if tags.get("part")
        for word in phrase
        if tags["part"] in name
    }
    return bool(bare & {*split(name), *ways, *(folded(one) for one in ways)})


@given(st.text(max_size=300))
def test_no_text_crashes_a_draft(text):
    told = draft_of(read_captions(f"[0:01] start {text}"))
    assert sound(draft_record(told, Choices(name="Stint")).record)


COVERED = """0:05 heat the back for two minutes at seventy
2:10 back off
2:30 six cross head screws hold the shield
2:50 shield off
3:00 unplugging the battery
3:10 two pull tabs
3:40 and the battery is out
3:50 battery weighs forty eight grams
4:10 battery weighs fifty grams"""


def test_a_bond_that_is_only_told_of_waits_for_what_was_off_by_then():
    record = made(COVERED).record
    bond = next(joint for joint in record.joints if joint.id == "battery-bond")
    assert (bond.behind, bond.assumed) == ((("board-shield",),), True)
    way = solve(record, "battery")
    order = [move.open or move.lift[0] for move in way.moves]
    assert order.index("board-shield") < order.index("battery-bond")


def test_a_bond_told_of_after_its_part_had_left_waits_for_what_the_part_waited_for():
    late = COVERED.replace("3:10 two pull tabs\n", "") + "\n4:30 the back was glued\n4:40 battery was glued"
    record = made(late).record
    bonds = {joint.holds[0]: joint.behind for joint in record.joints if joint.kind == "adhesive"}
    assert bonds == {"back-cover": (), "battery": (("board-shield",),)}
    assert not faults(check(record))


def test_a_second_mass_of_a_part_is_kept_as_a_note():
    drafted = made(COVERED)
    assert next(part for part in drafted.record.parts if part.id == "battery").mass_g == 48.0
    assert [why for _, why in drafted.noted] == ["mass: found 50 g after 48 g; right: one figure"]
    assert any("fifty grams" in line.note for line in drafted.record.log)
