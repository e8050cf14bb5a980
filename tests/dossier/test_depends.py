"""What a way can depend on: an edit of anything else leaves the cheapest way as dear as it was."""

from __future__ import annotations

import msgspec
import pytest

from midframe.demo import load
from midframe.dossier.depends import Depends
from midframe.ways.bench import Bench, lift_face
from midframe.ways.objective import STEPS_THEN_SECONDS
from midframe.ways.solve import Planner
from midframe.ways.way import Way
from ways.generators import small


def costs(record):
    planner = Planner(record, STEPS_THEN_SECONDS)
    return {part: way.value if isinstance(way, Way) else None for part, way in planner.ways().items()}


@pytest.mark.parametrize("seed", range(25))
def test_a_joint_or_part_a_target_does_not_depend_on_never_changes_its_way(seed):
    record = small(seed)
    needs, before = Depends(record, Bench()), costs(record)
    for joint in record.joints:
        changed = msgspec.structs.replace(joint, behind=(), tether=True, work=())
        joints = tuple(changed if one.id == joint.id else one for one in record.joints)
        if any(lift_face(part, joints) != lift_face(part, record.joints) for part in with_seats(record)):
            continue  # a part lifted from any side cannot say so outright
        after = costs(msgspec.structs.replace(record, joints=joints, parts=with_seats(record)))
        for target, cost in before.items():
            if ("joint", joint.id) not in needs.of(target):
                assert after[target] == cost, (seed, joint.id, target)
    for part in record.parts[1:]:
        parts = tuple(
            msgspec.structs.replace(one, under=()) if one.id == part.id else one for one in record.parts
        )
        after = costs(msgspec.structs.replace(record, parts=parts))
        for target, cost in before.items():
            if ("part", part.id) not in needs.of(target):
                assert after[target] == cost, (seed, part.id, target)


def with_seats(record):
    """The parts with their seats and lift faces said outright."""
    from midframe.record.structure import seats

    found = seats(record)
    return tuple(
        msgspec.structs.replace(part, seat=found[part.id], face=lift_face(part, record.joints))
        for part in record.parts
    )


def test_a_deep_part_depends_on_what_is_over_it_and_a_cover_not_on_what_is_under():
    needs = Depends(load("tern-2"), Bench())
    assert ("joint", "back-cover-clips") in needs.of("battery")
    assert ("joint", "battery-bond") not in needs.of("back-cover")
    assert ("tool", "opening pick") in needs.of("battery")
