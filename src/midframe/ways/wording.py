"""Names, numbers and differences between ways, in words."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from midframe.record.model import Condition, Face, Joint, Move, Record
from midframe.ways.bench import lift_face
from midframe.ways.count import Count
from midframe.ways.rules import listed

NAMED = 3
"""How many parts a sentence names before it says how many more there are."""


class Difference(msgspec.Struct, frozen=True):
    """What one counted way has that another does not, and what it costs beside it.

    `lifts` and `spares` are parts that only the one or only the other sets
    aside, `opens_otherwise` joints that both open, each by another alternative.
    """

    text: str
    lifts: tuple[str, ...]
    spares: tuple[str, ...]
    opens_otherwise: tuple[str, ...]
    first_face: Face | None
    more_steps: int
    more_seconds: float
    more_money: float


def plural(number: int, word: str) -> str:
    """A number with its word.

    >>> plural(1, "step"), plural(3, "step")
    ('1 step', '3 steps')
    """
    return f"{number} {word}" if number == 1 else f"{number} {word}s"


def in_sentence(name: str) -> str:
    """A name as it stands in the middle of a sentence: small, unless its first word is an abbreviation.

    >>> in_sentence("Main board"), in_sentence("SIM tray")
    ('main board', 'SIM tray')
    """
    first = name.split(" ", 1)[0]
    return name if len(first) > 1 and first[1:] != first[1:].lower() else name[:1].lower() + name[1:]


def part_words(record: Record, ids: Iterable[str]) -> tuple[str, ...]:
    """Names of parts, each with its article: `the main board`."""
    names = {part.id: part.name for part in record.parts}
    return tuple(f"the {in_sentence(names.get(one, one))}" for one in ids)


def few(words: tuple[str, ...]) -> str:
    """The words as a phrase, cut after some.

    >>> few(("the lid", "the cell")), few(("a", "b", "c", "d", "e"))
    ('the lid and the cell', 'a, b, c and 2 more')
    """
    shown = words if len(words) <= NAMED + 1 else (*words[:NAMED], f"{len(words) - NAMED} more")
    return listed(shown)


def joint_words(joint: Joint) -> str:
    """The name of a joint as it stands in a sentence, its id with spaces where it has none."""
    return in_sentence(joint.name) if joint.name else joint.id.replace("-", " ").replace("_", " ")


def told_apart(record: Record, joint: Joint) -> str:
    """The name of a joint in a sentence, with count and size where another joint is called the same.

    >>> from midframe import demo
    >>> record = demo.load("tern-3")
    >>> told_apart(record, next(one for one in record.joints if one.id == "main-board-screws"))
    'main board screws'
    """
    words = joint_words(joint)
    if not any(one.id != joint.id and joint_words(one) == words for one in record.joints):
        return words
    count = f"{joint.count} ×" if joint.count else ""
    length = f"{joint.length_mm:g} mm" if joint.length_mm else ""
    facts = " ".join(filter(None, (count, joint.thread, length, joint.drive)))
    return f"{words} ({facts or joint.id})"


def choice_words(record: Record, condition: Condition) -> str:
    """A condition in words: `the lid and the plate, or the display`."""
    return ", or ".join(listed(part_words(record, alternative)) for alternative in condition)


def cost_words(steps: int, seconds: float) -> str:
    """What is more or less, in words.

    >>> cost_words(-1, 129.0), cost_words(0, 0.0)
    ('1 step less, 129 s more', 'as many steps, as many seconds')
    """
    in_steps = f"{plural(abs(steps), 'step')} {'more' if steps > 0 else 'less'}" if steps else "as many steps"
    return f"{in_steps}, {amount_words(seconds, 's', 'as many seconds')}"


def amount_words(value: float, unit: str, same: str) -> str:
    """An amount that is more or less, to three figures or whole."""
    figure = f"{abs(value):.0f}" if abs(value) >= 10 else f"{abs(value):.3g}"
    if figure == "0":
        return same
    return f"{figure} {unit} {'more' if value > 0 else 'less'}"


def aside_of(count: Count) -> tuple[str, ...]:
    """Parts that a counted way sets aside, in its order."""
    return tuple(part for move in count.moves for part in move.aside)


def first_face(record: Record, count: Count) -> Face | None:
    """The face of the first move of a way that has one."""
    joints = {joint.id: joint.face for joint in record.joints}
    parts = {part.id: part for part in record.parts}
    for move in count.moves:
        done = move.move
        face = joints[done.open] if done.open else lift_face(parts[done.lift[0]], record.joints)
        if face is not None:
            return face
    return None


def openings(moves: Iterable[Move]) -> dict[str, int]:
    """Each joint opened, with the alternative of its work."""
    return {move.open: move.by for move in moves if move.open}


def moves_of(count: Count) -> tuple[Move, ...]:
    """The moves of a counted sequence."""
    return tuple(counted.move for counted in count.moves)


def difference(record: Record, one: Count, other: Count) -> Difference:
    """What the one way does otherwise than the other, and what it takes more or less."""
    mine, theirs = aside_of(one), aside_of(other)
    lifts = tuple(part for part in mine if part not in theirs)
    spares = tuple(part for part in theirs if part not in mine)
    by, by_other = openings(moves_of(one)), openings(moves_of(other))
    otherwise = tuple(joint for joint, way in by.items() if by_other.get(joint, way) != way)
    face, face_other = first_face(record, one), first_face(record, other)
    steps, seconds = len(one.steps) - len(other.steps), one.seconds - other.seconds
    deciding = set(by) & set(by_other), set(mine) & set(theirs)
    phrases = [
        f"from the {face}" if face not in (None, face_other) and by.keys() != by_other.keys() else "",
        route_words(record, decisive(record, lifts, *deciding), decisive(record, spares, *deciding)),
        otherwise_words(record, otherwise, by, by_other),
    ]
    words = ", ".join(phrase for phrase in phrases if phrase) or "in another order"
    return Difference(
        text=f"{words}: {cost_words(steps, seconds)}",
        lifts=lifts,
        spares=spares,
        opens_otherwise=otherwise,
        first_face=face,
        more_steps=steps,
        more_seconds=seconds,
        more_money=one.money - other.money,
    )


def route_words(record: Record, lifts: tuple[str, ...], spares: tuple[str, ...]) -> str:
    """Through which parts the way goes instead of which others."""
    if lifts and spares:
        return f"through {few(part_words(record, lifts))} instead of {few(part_words(record, spares))}"
    if lifts:
        return f"{few(part_words(record, lifts))} lifted besides"
    return f"{few(part_words(record, spares))} left in place" if spares else ""


def otherwise_words(
    record: Record, otherwise: tuple[str, ...], by: dict[str, int], other: dict[str, int]
) -> str:
    """Which joints are opened in another way, and how."""
    joints = {joint.id: joint for joint in record.joints}
    found = []
    for one in otherwise:
        here, there = (doings(joints[one], ways[one]) for ways in (by, other))
        found.append(f"{joint_words(joints[one])}: {here} instead of {there}")
    return ", ".join(found)


def doings(joint: Joint, by: int) -> str:
    """What is done in one way of opening a joint: `soak, pry`."""
    return ", ".join(step.do for step in joint.work[by - 1]) if joint.work else f"way {by}"


def decisive(record: Record, parts: tuple[str, ...], joints: set[str], lifted: set[str]) -> tuple[str, ...]:
    """Of some parts those that are an alternative for a move both ways make; all of them where none is."""
    conditions = [joint.behind for joint in record.joints if joint.id in joints]
    conditions += [part.under for part in record.parts if part.id in lifted]
    named = {part for condition in conditions if len(condition) > 1 for one in condition for part in one}
    return tuple(part for part in parts if part in named) or parts
