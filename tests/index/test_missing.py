"""The range that missing data leave, against every way of filling them with defined levels."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from index.builders import all_parts, device, fastener, part, tool
from midframe.index import PRIORITY_ROLES, Fastener, ToolUse, repairability_index

LEVELS = ("reusable", "resupplied", "removable")
GROUPS = ("basic", "spare_set", "product_set", "commercial")
OFFERS = ("end_user", "professional", "none")
NO_FASTENER = (None, *LEVELS)
NO_TOOL = (None, *GROUPS)


def filled_part(one, levels, groups):
    """Every way of filling one part's own gaps, joint levels and tool groups being settled."""
    steps = [one.steps] if one.steps is not None else [0, 2, 3, 6, 11, 16]
    more_f = NO_FASTENER if one.steps is None else (None,)
    more_t = NO_TOOL if one.steps is None else (None,)
    known = tuple(replace(f, level=f.level or levels[f.joint]) for f in one.fasteners)
    tools = tuple(replace(t, group=t.group or groups[t.name]) for t in one.tools)
    for n, f, t, offer in product(steps, more_f, more_t, [one.spare] if one.spare else OFFERS):
        yield replace(
            one,
            steps=n,
            spare=offer,
            fasteners=known + ((Fastener(joint="x", name="x", level=f),) if f else ()),
            tools=tools + ((ToolUse(name="x", group=t),) if t else ()),
        )


def filled_role(role):
    """Every way of describing a part of unknown presence; None: it is absent."""
    yield None
    for n, f, t, offer in product((2, 5, 10, 15, 16), LEVELS, ("none", *GROUPS), OFFERS):
        yield part(
            role,
            n,
            5,
            5,
            fasteners=(Fastener(joint="y", name="y", level=f),),
            tools=(ToolUse(name="y", group=t),),
            spare=offer,
        )


def completions(evidence):
    """Every complete evidence that the incomplete one may turn out to be."""
    joints = sorted({f.joint for one in evidence.parts for f in one.fasteners if f.level is None})
    names = sorted({t.name for one in evidence.parts for t in one.tools if t.group is None})
    given_roles = {one.role for one in evidence.parts}
    unknown = [role for role in PRIORITY_ROLES if role not in given_roles | set(evidence.absent)]
    unknown = [role for role in unknown if role != "hinge" or evidence.has_hinge is None]
    years = [evidence.updates_years] if evidence.updates_years is not None else [5, 6, 7]
    words = (
        [evidence.repair_information]
        if evidence.repair_information
        else ["public", "free_professional", "paid_professional"]
    )
    for fills in product(
        product(LEVELS, repeat=len(joints)), product(GROUPS, repeat=len(names)), years, words
    ):
        levels, groups = dict(zip(joints, fills[0], strict=True)), dict(zip(names, fills[1], strict=True))
        choices = [list(filled_part(one, levels, groups)) for one in evidence.parts]
        for parts in product(*choices, *map(filled_role, unknown)):
            there = tuple(one for one in parts if one is not None)
            gone = tuple(role for role in unknown if role not in {one.role for one in there})
            yield replace(
                evidence,
                parts=there,
                absent=(*evidence.absent, *gone),
                unknown_roles=(),
                has_hinge=any(one.role == "hinge" for one in there),
                updates_years=fills[2],
                repair_information=fills[3],
            )


def brute_force(evidence):
    found = [repairability_index(one).value for one in completions(evidence)]
    defined = [value.ten_thousandths for value in found if value is not None]
    return min(defined), max(defined)


def range_of(evidence):
    found = repairability_index(evidence)
    assert found.state == "range"
    assert found.lowest is not None
    assert found.highest is not None
    return found.lowest.ten_thousandths, found.highest.ten_thousandths


ONE_GAP = ("steps", "level", "group", "spare", "years", "words")
ROLES = [role for role in PRIORITY_ROLES if role != "hinge"]


def with_gap(evidence, gap, role):
    """The same evidence with one value gone."""
    if gap == "years":
        return replace(evidence, updates_years=None)
    if gap == "words":
        return replace(evidence, repair_information=None)
    change = {
        "steps": {"steps": None},
        "spare": {"spare": None},
        "level": {"fasteners": (fastener(3, "known"), fastener(None, "shared-joint"))},
        "group": {"tools": (tool(2, "known"), ToolUse(name="shared-tool", group=None))},
    }[gap]
    return replace(
        evidence, parts=tuple(replace(one, **change) if one.role == role else one for one in evidence.parts)
    )


@settings(max_examples=25)
@given(
    st.lists(
        st.tuples(st.sampled_from(ONE_GAP), st.sampled_from(ROLES)), min_size=1, max_size=3, unique=True
    ),
    st.tuples(st.integers(1, 5), st.sampled_from([1, 3, 5]), st.integers(1, 5)),
)
def test_the_range_is_exact_for_any_gaps(gaps, points):
    if sum(gap == "steps" for gap, _ in gaps) > 1:
        gaps = [pair for pair in gaps if pair[0] != "steps"] or gaps[:1]
    evidence = device(all_parts(*points))
    for gap, role in gaps:
        evidence = with_gap(evidence, gap, role)
    assert range_of(evidence) == brute_force(evidence)


def test_the_range_is_exact_for_a_part_of_unknown_presence():
    for role in ("speaker", "display"):
        parts = [one for one in all_parts(3, 3, 3) if one.role != role]
        evidence = device(parts, unknown_roles=(role,))
        assert range_of(evidence) == brute_force(evidence)
        assert range_of(device(parts)) == range_of(evidence)


def test_the_range_is_exact_for_a_hinge_of_unknown_presence():
    # Weights change with the hinge: the ends may lie on either side of the switch.
    for foldable in (True, False):
        for points in ((1, 5, 5), (5, 1, 1), (3, 3, 3)):
            evidence = device(all_parts(*points), foldable=foldable, has_hinge=None)
            assert range_of(evidence) == brute_force(evidence)


def test_one_joint_that_holds_two_parts_is_one_missing_value():
    evidence = with_gap(with_gap(device(all_parts()), "level", "battery"), "level", "display")
    missing = repairability_index(evidence).missing
    assert [one.id for one in missing] == ["fastener:shared-joint"]
    assert missing[0].parts == ("battery", "display")
    # A known resupplied fastener caps both parts at 3: 0.15 x (0.30 + 0.30) x (3 - 1) = 0.18.
    assert missing[0].moves_ten_thousandths == 1800


def test_each_missing_value_alone_moves_r_by_what_it_says():
    evidence = with_gap(with_gap(device(all_parts()), "spare", "battery"), "group", "display")
    found = repairability_index(evidence)
    # Battery to professionals only leaves rung 1: 0.15 x 4; the tool can fall from 2 to 1: 0.15 x 0.30.
    assert {one.id: one.moves_ten_thousandths for one in found.missing} == {
        "spare:battery": 6000,
        "tool:shared-tool": 450,
    }


def test_a_missing_value_that_cannot_move_r_still_keeps_r_open():
    evidence = device(
        [
            replace(one, fasteners=(fastener(1), fastener(None, "rivet"))) if one.role == "button" else one
            for one in all_parts()
        ]
    )
    found = repairability_index(evidence)
    assert found.value is None
    assert found.lowest == found.highest
    assert found.missing[0].could_be_undefined


def test_a_hinge_of_unknown_presence_is_said_to_be_so():
    notes = repairability_index(device(all_parts(), has_hinge=None)).notes
    assert any("Whether there is a hinge is not known" in note for note in notes)
