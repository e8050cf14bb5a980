from __future__ import annotations

import msgspec
from hypothesis import given, settings

from midframe.record import check, faults
from midframe.record.model import Device, Joint, Part, Record
from midframe.ways import reach as module
from midframe.ways.reach import reach
from midframe.ways.rules import Rules, State
from strategies import devices


def device(parts, joints):
    """A record of parts `name: under` and joints `id: (holds, behind)`; an id with a `~` is a tether."""
    return Record(
        format=1,
        device=Device(name="bench", kind="phone", body="frame", invented=True),
        parts=(
            Part(id="frame", name="Frame"),
            *(Part(id=name, name=name, under=tuple(map(tuple, under))) for name, under in parts.items()),
        ),
        joints=tuple(
            Joint(
                id=name.strip("~"),
                kind="connector" if "~" in name else "clip",
                holds=tuple(holds),
                tether="~" in name,
                behind=tuple(map(tuple, behind)),
            )
            for name, (holds, behind) in joints.items()
        ),
    )


def pinned_pair():
    """Two parts side by side on the frame that cover each other and are pinned together."""
    record = device(
        {"upper": [["lower"]], "lower": [["upper"]]},
        {"pin": (["upper", "lower"], []), "clip": (["lower", "frame"], [])},
    )
    frame, upper, lower = record.parts
    return msgspec.structs.replace(record, parts=(frame, msgspec.structs.replace(upper, seat="frame"), lower))


def parts_that_come_out(record):
    """By trying every move in every state: which parts are out in some state."""
    rules = Rules(record)
    seen, ahead, out = {State()}, [State()], set()
    while ahead:
        state = ahead.pop()
        out |= {part for part in rules.parts if part != rules.body and rules.out(state, part)}
        for move in rules.legal(state):
            after = rules.apply(state, move)
            if after not in seen:
                seen.add(after)
                ahead.append(after)
    return out


def test_a_record_that_comes_apart_has_nothing_to_tell():
    record = device(
        {"cover": [], "cell": [["cover"]]},
        {"a": (["cover", "frame"], []), "b": (["cell", "frame"], [["cover"]])},
    )
    assert reach(record) == ()


def test_a_dead_lock_is_told_as_a_chain_once_with_all_behind_it():
    record = device(
        {"mid-cover": [], "battery": [["mid-cover"]], "vibrator": [["battery"]], "tray": []},
        {
            "screws": (["mid-cover", "frame"], [["battery"]]),
            "battery-glue": (["battery", "frame"], [["mid-cover"]]),
            "vibrator-glue": (["vibrator", "frame"], []),
            "tray-clip": (["tray", "frame"], []),
        },
    )
    (finding,) = reach(record)
    assert str(finding) == (
        "fault: joints[0].behind (mid-cover): found a dead lock: mid-cover waits for joint screws, "
        "which lies behind battery, which waits for joint battery-glue, which lies behind mid-cover; "
        "behind it stays vibrator; right: one of these conditions without that part, or with another "
        "alternative: joints[0].behind, joints[1].behind"
    )


def test_a_long_row_of_parts_behind_is_cut_with_its_number():
    names = [f"p{number:02}" for number in range(30)]
    parts = {"lid": [], **{name: [["lid"]] for name in names}}
    joints = {"lock": (["lid", "frame"], [["lid"]]), **{f"j{name}": ([name, "frame"], []) for name in names}}
    (finding,) = reach(device(parts, joints))
    assert finding.found.endswith("p10, p11 and 18 more")


def test_two_causes_are_two_findings():
    record = device(
        {"a": [], "b": [], "c": [], "d": [["c"]], "e": []},
        {
            "ja": (["a", "frame"], [["b"]]),
            "jb": (["b", "frame"], [["a"]]),
            "jc": (["c", "frame"], [["d"]]),
            "jd": (["d", "frame"], []),
            "je": (["e", "frame"], [["a"], ["c"]]),
        },
    )
    first, second = reach(record)
    assert [first.subject, second.subject] == ["a", "c"]
    assert "c waits for joint jc, which lies behind d, which lies under c" in second.found
    assert first.found.endswith("; behind it stays e")


def test_another_alternative_opens_the_lock():
    parts = {"a": [], "b": []}
    locked = device(parts, {"ja": (["a", "frame"], [["b"]]), "jb": (["b", "frame"], [["a"]])})
    free = device(parts, {"ja": (["a", "frame"], [["b"], []]), "jb": (["b", "frame"], [["a"]])})
    assert reach(locked)
    assert reach(free) == ()


def test_a_joint_that_waits_for_a_part_it_holds_down_is_a_lock_of_one():
    record = device({"a": []}, {"ja": (["a", "frame"], [["a"]])})
    (finding,) = reach(record)
    assert finding.found == "a dead lock: a waits for joint ja, which lies behind a"
    assert finding.path == "joints[0].behind"


def test_a_cover_that_rides_on_what_it_blocks_is_named_with_its_carrier():
    record = device(
        {"board": [], "shield": []},
        {
            "board-screws": (["board", "frame"], [["shield"]]),
            "solder": (["shield", "board"], [["board"]]),
        },
    )
    (finding,) = reach(record)
    assert "board waits for joint board-screws, which lies behind shield" in finding.found


def test_a_tether_that_never_opens_keeps_its_part():
    record = device(
        {"display": [], "plate": [], "tray": []},
        {
            "bond": (["display", "frame"], []),
            "~flex": (["display", "frame"], [["plate"]]),
            "plate-clip": (["plate", "frame"], [["tray"]]),
            "tray-clip": (["tray", "frame"], [["plate"]]),
        },
    )
    (finding,) = reach(record)
    assert "behind it stays display" in finding.found


def test_parts_that_cover_each_other_come_out_together():
    record = pinned_pair()
    assert faults(check(record)) == ()
    assert parts_that_come_out(record) == {"upper", "lower"}
    assert reach(record) == ()


def test_parts_that_cover_each_other_and_come_apart_first_are_stuck():
    record = device(
        {"upper": [["lower"]], "lower": [["upper"]]},
        {
            "pin": (["upper", "lower"], []),
            "clip": (["lower", "frame"], [["lid"]]),
            "lid-clip": (["lid", "frame"], [["upper"]]),
        },
    )
    lid = Part(id="lid", name="Lid")
    frame, upper, lower = record.parts
    upper = msgspec.structs.replace(upper, seat="frame")
    record = msgspec.structs.replace(record, parts=(frame, upper, lower, lid))
    assert parts_that_come_out(record) == set()
    assert len(faults(reach(record))) == 1


def test_a_record_with_other_faults_is_left_to_its_check():
    record = device({"a": [["nothing"]]}, {"ja": (["a", "frame"], [["a"]])})
    assert faults(check(record))
    assert reach(record) == ()


@settings(max_examples=100)
@given(devices(most_parts=4))
def test_faults_are_told_just_where_trying_everything_finds_a_part_stuck(record):
    assert faults(check(record)) == ()
    stuck = {part.id for part in record.parts[1:]} - parts_that_come_out(record)
    findings = reach(record)
    assert bool(faults(findings)) == bool(stuck)
    told = " ".join(finding.found for finding in findings)
    assert all(part in told for part in stuck)
    assert all(finding.found and finding.right and finding.path for finding in findings)


@given(devices(orderly=True))
def test_conditions_in_one_order_never_lock(record):
    assert reach(record) == ()


def test_where_time_runs_out_it_says_so(monkeypatch):
    monkeypatch.setattr(module, "STATES", 1)
    record = pinned_pair()
    findings = reach(record)
    assert {finding.level for finding in findings} == {"note"}
    assert all("in the first 1 states" in finding.found for finding in findings)
