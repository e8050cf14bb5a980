"""A whole demo device told move by move gives the ways of the hand-written file."""

from __future__ import annotations

import msgspec
import pytest

from midframe.demo import load
from midframe.record.draft import begin
from midframe.record.model import Lift, LogEntry, Record
from midframe.record.structure import default_seat, rigid_neighbours
from midframe.stripdown import Done, apply, replay
from midframe.ways.bench import Bench
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.rules import Rules
from midframe.ways.solve import Planner
from midframe.ways.way import Way

replace = msgspec.structs.replace
VERB_OF = {"screw": "unscrew", "connector": "unplug", "clip": "unclip", "solder": "desolder"}


def all_moves(record: Record) -> Record:
    """The record with its log gone on with until nothing is left to open or to lift."""
    rules, log = Rules(record), list(record.log)
    state = replay(record).state
    while True:
        move = next((one for one in rules.legal(state) if one.open or one.lift[0] not in state.aside), None)
        if move is None:
            return replace(record, log=tuple(log))
        state = rules.apply(state, move)
        log.append(LogEntry(seconds=log[-1].seconds + 10, open=move.open, lift=move.lift))


def plain_record(record: Record) -> Record:
    """The record with only what the log can tell: one way of opening, one order of reach, no spares."""
    bench = Bench()
    joints = tuple(
        replace(
            one,
            kind="adhesive" if one.kind == "other" else one.kind,
            behind=first_of(record, one.behind, one.id),
            ruins=(),
            work=(tuple(replace(step, harms=(), ruins=(), risk=0.0) for step in bench.operations(one)[0]),),
        )
        for one in record.joints
    )
    parts = tuple(
        one
        if one.id == record.device.body
        else replace(
            one,
            bundle=(),
            seat=None if follows(record, one.id) else one.seat,
            under=first_of(record, one.under, one.id),
            lift=Lift(tools=bench.lift_operation(one).tools, seconds=bench.lift_operation(one).seconds),
        )
        for one in record.parts
    )
    return replace(record, joints=joints, parts=parts, orders=())


def follows(record, part):
    """Whether the seat of a part follows from its joints; another one cannot be told at the bench."""
    return default_seat(part, record.device.body, rigid_neighbours(record)[part]) is not None


def first_of(record, condition, subject):
    """The alternative of a condition that was met when the joint was opened or the part lifted."""
    place = next(n for n, e in enumerate(record.log) if e.open == subject or subject in e.lift)
    aside = set(replay(record, place).aside)
    return next(((way,) for way in condition if set(way) <= aside), condition[:1])


def told(record: Record):
    """The moves of the log as they would be said, each with its seconds."""
    joints = {one.id: one for one in record.joints}
    parts = {one.id: one for one in record.parts}
    for entry in record.log:
        if entry.open:
            yield from openings(joints[entry.open], parts)
        else:
            part = parts[entry.lift[0]]
            yield Done(
                verb="lift",
                what=part.name,
                tools=part.lift.tools or ("bare hand",),
                seconds=part.lift.seconds,
                face=part.face,
                behind=named(part.under, parts),
            )


def named(condition, parts):
    return tuple(tuple(parts[one].name for one in way) for way in condition)


def openings(joint, parts):
    what, to = (parts[one].name for one in joint.holds)
    for step in joint.work[0]:
        last = step is joint.work[0][-1]
        heating = "soak" if step.do == "soak" else "heat" if "heat" in step.do else "pry"
        yield Done(
            verb=VERB_OF.get(joint.kind, heating if not last else "pry"),
            what=what,
            to=to,
            count=joint.count,
            drive=joint.drive,
            length_mm=joint.length_mm,
            tools=step.tools or ("bare hand",),
            seconds=step.seconds,
            face=joint.face,
            behind=named(joint.behind, parts),
            tether=joint.tether,
        )


@pytest.mark.slow
def test_tern_2_told_at_the_bench_gives_the_ways_of_its_file():
    file = plain_record(all_moves(load("tern-2")))
    record = begin("Tern 2", "phone")
    for place, move in enumerate(told(file)):
        record = apply(record, move, 10.0 * place).record
    assert [line.against for line in replay(record).lines if line.against] == []
    names = {one.name: one.id for one in file.parts}
    wanted, found = (Planner(one, STEPS_THEN_SECONDS).ways() for one in (file, record))
    for target, way in found.items():
        name = next(one.name for one in record.parts if one.id == target)
        expected = wanted[names[name]]
        assert isinstance(way, Way)
        assert way.proven == expected.proven, name
        if way.proven:
            assert (name, way.steps, way.seconds) == (name, expected.steps, pytest.approx(expected.seconds))
    assert sum(way.proven for way in found.values()) >= 0.9 * len(found)
    assert len(found) == len(replay(record).aside)
