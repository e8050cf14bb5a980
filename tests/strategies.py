"""Hypothesis strategies for records: any that can be read, and small ones that hold together."""

from __future__ import annotations

import types
import typing

import msgspec
import msgspec.inspect as shape
from hypothesis import strategies as st

from midframe.record.model import Device, Joint, Lift, Operation, Part, Record
from midframe.record.reader import hints, is_list_type, is_struct
from midframe.record.structure import default_seat, rigid_neighbours

FACES = (None, "front", "back", "edge")
TOOLS = ("spudger", "tweezers", "opening pick", "prying lever", "hexalobular 4 driver", "heating mat")
KINDS = ("screw", "connector", "clip", "adhesive", "solder", "other")

texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=12)
ids = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._-]{0,5}", fullmatch=True)


def values(kind):
    """Any value of a field's type, within its range."""
    if typing.get_origin(kind) in (types.UnionType, typing.Union):
        return st.one_of([values(one) for one in typing.get_args(kind)])
    if kind is type(None):
        return st.none()
    if is_struct(kind):
        return tables(kind)
    if typing.get_origin(kind) is tuple:
        return tuples(kind)
    return leaves(kind)


def tables(kind):
    """A struct: keys that have to be there always, the others now and then."""
    return st.fixed_dictionaries(
        {
            field.name: values(hints(kind)[field.name])
            for field in msgspec.structs.fields(kind)
            if field.required
        },
        optional={
            field.name: values(hints(kind)[field.name])
            for field in msgspec.structs.fields(kind)
            if not field.required
        },
    ).map(lambda found: kind(**found))


def tuples(kind):
    """A list of a fixed length, of any length, or of alternatives that each hold something."""
    inner = typing.get_args(kind)
    if not is_list_type(kind):
        return st.tuples(*map(values, inner))
    if is_list_type(inner[0]):
        element = typing.get_args(inner[0])[0]
        alternative = st.lists(values(element), min_size=1, max_size=2).map(tuple)
        return st.lists(alternative, max_size=2).map(tuple)
    return st.lists(values(inner[0]), max_size=2).map(tuple)


def leaves(kind):
    """A text, number, word or truth value."""
    info = shape.type_info(kind)
    if isinstance(info, shape.Metadata):
        info = info.type
    if isinstance(info, shape.LiteralType):
        return st.sampled_from(info.values)
    if isinstance(info, shape.BoolType):
        return st.booleans()
    if isinstance(info, shape.IntType):
        return st.integers(info.ge, info.le)
    if isinstance(info, shape.FloatType):
        low = info.ge if info.ge is not None else info.gt
        return st.floats(low, info.le, exclude_min=info.gt is not None, allow_nan=False, allow_infinity=False)
    if info.pattern:
        return ids
    return texts.filter(bool) if info.min_length else texts


def any_records():
    """Any record that can be read; its ids lead anywhere."""
    return values(Record)


@st.composite
def devices(draw, *, most_parts=6, orderly=False, alternatives=True, bundles=True):
    """A small record whose check has no fault: seats, tethers, faces, conditions, work, bundles.

    With `orderly`, conditions only name parts that come later in the list, so
    every part can be got out; without it, dead locks may occur.
    """
    names = [f"p{number}" for number in range(draw(st.integers(2, most_parts)))]
    body = names[0]
    seat_of = {name: draw(st.sampled_from(names[:place])) for place, name in enumerate(names) if place}
    joints = draw_joints(draw, names, seat_of, orderly=orderly, alternatives=alternatives)
    parts = [Part(id=body, name=body)]
    for place, name in enumerate(names[1:], start=1):
        under = draw(conditions(allowed(names, place, orderly), {name}, alternatives=alternatives))
        bundle = draw(st.sets(st.sampled_from(names[1:]), max_size=2)) if bundles else set()
        parts.append(
            Part(
                id=name,
                name=name,
                under=under,
                face=draw(st.sampled_from(FACES)),
                lift=draw(st.none() | st.builds(Lift, tools=toolsets(), seconds=seconds())),
                bundle=tuple(sorted(bundle - {name})),
            )
        )
    device = Device(name="drawn", kind="phone", body=body, invented=True)
    record = Record(format=1, device=device, parts=tuple(parts), joints=joints)
    return unlocked_pairs(said_seats(record, seat_of))


def draw_joints(draw, names, seat_of, *, orderly, alternatives):
    """A joint to each part's seat (now and then only a tether), and a few more between any two."""
    joints = []
    pairs = [(name, seat, draw(st.integers(0, 4)) == 0) for name, seat in seat_of.items()]
    for _ in range(draw(st.integers(0, 3))):
        pair = draw(st.lists(st.sampled_from(names), min_size=2, max_size=3, unique=True))
        pairs.append((*pair, draw(st.booleans())))
    for number, (*holds, tether) in enumerate(pairs):
        last = max(names.index(part) for part in holds)
        joints.append(
            Joint(
                id=f"j{number}",
                kind="connector" if tether else draw(st.sampled_from(KINDS)),
                holds=tuple(holds),
                tether=tether,
                face=draw(st.sampled_from(FACES)),
                behind=draw(conditions(allowed(names, last, orderly), set(), alternatives=alternatives)),
                work=draw(works(alternatives=alternatives)),
            )
        )
    return tuple(joints)


def allowed(names, place, orderly):
    """The parts that a condition may name."""
    return names[place + 1 :] if orderly else names[1:]


def conditions(names, without, *, alternatives):
    """No condition, one list of parts, or two lists of which one is enough."""
    choice = sorted(set(names) - without)
    if not choice:
        return st.just(())
    one = st.lists(st.sampled_from(choice), min_size=1, max_size=2, unique=True).map(tuple)
    return st.lists(one, max_size=2 if alternatives else 1).map(tuple)


def works(*, alternatives):
    """The default work, one way of opening, or two."""
    operation = st.builds(
        Operation, do=st.sampled_from(("undo", "heat", "pry", "soak")), tools=toolsets(), seconds=seconds()
    )
    one = st.lists(operation, min_size=1, max_size=2).map(tuple)
    return st.lists(one, max_size=2 if alternatives else 1).map(tuple)


def toolsets():
    """No tool, one, or two used together."""
    return st.lists(st.sampled_from(TOOLS), max_size=2, unique=True).map(tuple)


def seconds():
    """A time for one operation."""
    return st.integers(1, 60).map(float)


def said_seats(record, seat_of):
    """The record with each seat said where it does not follow from the joints."""
    neighbours = rigid_neighbours(record)
    body = record.device.body
    parts = tuple(
        part
        if part.id == body or default_seat(part.id, body, neighbours[part.id]) == seat_of[part.id]
        else msgspec.structs.replace(part, seat=seat_of[part.id])
        for part in record.parts
    )
    return msgspec.structs.replace(record, parts=parts)


def unlocked_pairs(record):
    """The record without conditions of parts that simply cover each other, which is a fault of its own."""
    under = {part.id: part.under for part in record.parts}
    for name, condition in list(under.items()):
        covering = {one for way in condition for one in way}
        if any(name in way for other in covering for way in under[other]):
            under[name] = ()
    parts = tuple(msgspec.structs.replace(part, under=under[part.id]) for part in record.parts)
    return msgspec.structs.replace(record, parts=parts)
