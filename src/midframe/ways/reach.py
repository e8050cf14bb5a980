"""Parts that no order of moves gets out, and the conditions that wait for one another."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping

import msgspec

from midframe.record.check import check
from midframe.record.findings import Finding, fault, faults, note
from midframe.record.model import Condition, Move, Record
from midframe.ways.rules import Rules, State, listed

STATES = 2_000
"""How many states are tried one by one where the quick answers leave a doubt: house choice."""


class Wait(msgspec.Struct, frozen=True):
    """One thing waits for another: what for, in words, and the path of the condition in the record."""

    target: str
    words: str
    path: str


class Closure(msgspec.Struct, frozen=True):
    """What can be opened and set aside at most; the parts that stay are stuck for certain."""

    open: frozenset[str]
    aside: frozenset[str]


def reach(record: Record) -> tuple[Finding, ...]:
    """Dead locks of a record, one finding for each cause, as a chain that a person can follow.

    Needs a record whose `check` has no fault; for any other the answer is empty,
    since ids and seats have to be mended first. A dead lock that keeps a part
    from coming out is a fault, one that keeps only a joint closed is a note.
    """
    if faults(check(record)):
        return ()
    rules = Rules(record)
    done = work_through(rules)
    doubtful = [part for part in rules.parts if part != rules.body and not rules.out(done, part)]
    if not doubtful and len(done.open) == len(rules.joints):
        return ()
    most = loosest(rules)
    findings = list(dead_locks(rules, most))
    open_ended = [part for part in doubtful if could_be_out(rules, most, part)]
    return (*findings, *undecided(rules, open_ended))


def work_through(rules: Rules) -> State:
    """The state after opening and lifting whatever can be, again and again, as if taking the device apart."""
    state = State()
    while True:
        openable = frozenset(joint for joint in rules.joints if rules.may_open(state, joint) is None)
        after = State(state.open | openable, state.aside)
        for part in rules.parts:
            if part not in after.aside and rules.may_lift(after, part) is None:
                after = rules.lift(after, (part,))
        if after == state:
            return state
        state = after


def loosest(rules: Rules) -> Closure:
    """What can be opened and set aside at the very most: covers that may move along are taken to do so."""
    opened: set[str] = set()
    aside: set[str] = set()
    size = -1
    while size != len(opened) + len(aside):
        size = len(opened) + len(aside)
        state = State(frozenset(opened), frozenset(aside))
        opened |= {
            joint.id
            for joint in rules.joints.values()
            if not rules.missing(state, joint.behind, frozenset(joint.holds), frozenset())
        }
        state = State(frozenset(opened), frozenset(aside))
        aside |= {part for part in rules.parts if part not in aside and liftable_at_most(rules, state, part)}
    return Closure(frozenset(opened), frozenset(aside))


def liftable_at_most(rules: Rules, state: State, part: str) -> bool:
    """Whether the part could leave its seat, if everything it can move with did so."""
    group = rules.group(state, part)
    if part == rules.body or rules.body in group or rules.seat_of[part] in group:
        return False
    return bare(rules, state, group, group) or bare(rules, state, group, companions(rules, state, part))


def bare(rules: Rules, state: State, group: frozenset[str], company: frozenset[str]) -> bool:
    """Whether nothing lies over the group but what goes in its company."""
    return not any(
        rules.missing(state, rules.parts[member].under, frozenset({member}), company)
        for member in group - state.aside
    )


def companions(rules: Rules, state: State, part: str) -> frozenset[str]:
    """All that could ever be lifted together with the part: loose, and joined by way of loose parts."""
    fast = {other for other in rules.parts if rules.body in rules.group(state, other)}
    return spread(rules, State(), part, frozenset({*fast, rules.seat_of[part] or rules.body}))


def spread(rules: Rules, state: State, start: str, without: frozenset[str]) -> frozenset[str]:
    """What moves with `start` where joints and seats over the parts `without` are left out of account."""
    found, waiting = {start}, [start]
    while waiting:
        for other in moved_by(rules, state, waiting.pop()):
            if other not in found and other not in without:
                found.add(other)
                waiting.append(other)
    return frozenset(found)


def moved_by(rules: Rules, state: State, part: str) -> Iterator[str]:
    """The parts that come along directly: over closed rigid joints, and those that sit on it."""
    for joint in rules.rigid:
        if joint.id not in state.open and part in joint.holds:
            yield from joint.holds
    yield from (other for other, seat in rules.seat_of.items() if seat == part and other not in state.aside)


def could_be_out(rules: Rules, most: Closure, part: str) -> bool:
    """Whether the part is not among those that are stuck for certain."""
    return rules.out(State(most.open, most.aside), part)


def waits(rules: Rules, most: Closure) -> dict[str, tuple[Wait, ...]]:
    """For every part and joint that is stuck, what it waits for; keys are `part:id` and `joint:id`."""
    state = State(most.open, most.aside)
    found: dict[str, tuple[Wait, ...]] = {}
    for number, part in enumerate(rules.record.parts):
        if part.id not in most.aside and part.id != rules.body:
            found[f"part:{part.id}"] = tuple(part_waits(rules, state, part.id, number))
    for number, joint in enumerate(rules.record.joints):
        if joint.id not in most.open:
            near = frozenset(joint.holds)
            path = f"joints[{number}].behind"
            found[f"joint:{joint.id}"] = tuple(
                Wait(target, f"lies behind {words}", path)
                for target, words in covers(rules, state, joint.behind, near, frozenset())
            )
    return found


def part_waits(rules: Rules, state: State, part: str, number: int) -> Iterator[Wait]:
    """What a stuck part waits for: joints that hold it, what it carries, what lies over it."""
    ends = {rules.body, rules.seat_of[part]}
    group = rules.group(state, part)
    if ends.isdisjoint(group):
        yield from cover_waits(rules, state, part, group)
        return
    for place, joint in enumerate(rules.record.joints):
        if joint.tether or joint.id in state.open or part not in joint.holds:
            continue
        others = [other for other in joint.holds if other != part]
        if any(not ends.isdisjoint(spread(rules, state, other, frozenset({part}))) for other in others):
            yield Wait(f"joint:{joint.id}", f"waits for joint {joint.id}", f"joints[{place}].behind")
    for other, seat in rules.seat_of.items():
        rides = seat == part and other not in state.aside
        if rides and not ends.isdisjoint(spread(rules, state, other, frozenset({part}))):
            yield Wait(f"part:{other}", f"carries {other}", f"parts[{number}]")


def cover_waits(rules: Rules, state: State, part: str, group: frozenset[str]) -> Iterator[Wait]:
    """The covers over a part or over what it carries."""
    company = companions(rules, state, part)
    for place, member in enumerate(rules.record.parts):
        near = frozenset({member.id})
        if member.id in group - state.aside and rules.missing(state, member.under, near, company):
            carried = "" if member.id == part else f"carries {member.id}, which "
            for target, words in covers(rules, state, member.under, near, company):
                yield Wait(target, f"{carried}lies under {words}", f"parts[{place}].under")


def covers(
    rules: Rules, state: State, condition: Condition, near: frozenset[str], company: frozenset[str]
) -> Iterator[tuple[str, str]]:
    """The parts that stay in the way of a condition, and those that would carry them off, each in words."""
    missing = [
        one for way in condition for one in way if one not in company and not rules.clear(state, one, near)
    ]
    for one in dict.fromkeys(missing):
        yield f"part:{one}", one
        for carrier in rules.carriers[one]:
            if carrier != rules.body and near.isdisjoint(rules.riders[carrier]):
                yield f"part:{carrier}", f"{one} on {carrier}"


def dead_locks(rules: Rules, most: Closure) -> Iterator[Finding]:
    """One finding for each set of stuck things that wait for one another."""
    waiting = waits(rules, most)
    behind = {node: reachable(waiting, node) for node in waiting}
    told: set[str] = set()
    stuck = {part for part in rules.parts if part != rules.body and not could_be_out(rules, most, part)}
    for node in waiting:
        if node in told or node not in behind[node]:
            continue
        ring = {other for other in behind[node] if node in behind[other]}
        told |= ring
        stopped = {other for other in waiting if not ring.isdisjoint(behind[other])}
        yield finding_of(rules, shortest_ring(waiting, node, ring), stopped, stuck)


def reachable(waiting: Mapping[str, tuple[Wait, ...]], start: str) -> frozenset[str]:
    """All that a stuck thing waits for, directly or by way of others; itself only over a ring."""
    found: set[str] = set()
    ahead = [start]
    while ahead:
        for wait in waiting[ahead.pop()]:
            if wait.target not in found:
                found.add(wait.target)
                ahead.append(wait.target)
    return frozenset(found)


def shortest_ring(
    waiting: Mapping[str, tuple[Wait, ...]], start: str, ring: set[str]
) -> tuple[tuple[str, Wait], ...]:
    """The shortest chain of waits from `start` back to itself."""
    came: dict[str, tuple[str, Wait]] = {}
    ahead = deque([start])
    while start not in came:
        node = ahead.popleft()
        for wait in waiting[node]:
            if wait.target in ring and wait.target not in came:
                came[wait.target] = (node, wait)
                ahead.append(wait.target)
    chain = [came[start]]
    while chain[-1][0] != start:
        chain.append(came[chain[-1][0]])
    return tuple(reversed(chain))


def finding_of(
    rules: Rules, chain: tuple[tuple[str, Wait], ...], stopped: Iterable[str], stuck: set[str]
) -> Finding:
    """A dead lock in words, with the conditions that would loosen it."""
    subject = chain[0][0].partition(":")[2]
    in_chain = {node for node, _ in chain}
    kept = [part for part in rules.parts if part in stuck and not keepers(rules, part).isdisjoint(stopped)]
    also = [part for part in kept if f"part:{part}" not in in_chain]
    story = ", which ".join(wait.words for _, wait in chain)
    name = subject if chain[0][0].startswith("part:") else f"joint {subject}"
    found = f"a dead lock: {name} {story}" + (f"; behind it stays {shortened(also)}" if also else "")
    paths = dict.fromkeys(wait.path for _, wait in chain if wait.path.endswith(("behind", "under")))
    right = f"one of these conditions without that part, or with another alternative: {', '.join(paths)}"
    tell = fault if kept else note
    return tell(next(iter(paths)), subject, found, right)


def shortened(names: list[str]) -> str:
    """The first dozen ids as a phrase, and how many more there are."""
    return listed(names) if len(names) <= 12 else listed([*names[:12], f"{len(names) - 12} more"])


def keepers(rules: Rules, part: str) -> set[str]:
    """What has to leave or to be opened before the part, or its bundle, is out."""
    bundle = rules.bundle(part)
    leave = {f"part:{member}" for member in bundle if rules.seat_of[member] not in bundle}
    return leave | {
        f"joint:{joint.id}"
        for joint in rules.record.joints
        if not bundle.isdisjoint(joint.holds) and not bundle.issuperset(joint.holds)
    }


def undecided(rules: Rules, parts: list[str]) -> Iterator[Finding]:
    """The parts in doubt, after trying one state after the other."""
    if not parts:
        return
    left, all_tried = try_states(rules, set(parts))
    for number, part in enumerate(rules.record.parts):
        if part.id not in left:
            continue
        path = f"parts[{number}].under"
        if all_tried:
            found = (
                "no order of moves that gets it out: it and what lies over it neither part nor move together"
            )
            yield fault(
                path, part.id, found, "an `under` that holds in every order, or a joint that is reached later"
            )
        else:
            yield note(
                path,
                part.id,
                f"no order of moves in the first {STATES} states tried",
                "a look at `under`; the search of the ways decides",
            )


def try_states(rules: Rules, wanted: set[str]) -> tuple[set[str], bool]:
    """The wanted parts that were out in no state, and whether every state was tried."""
    left = set(wanted)
    seen = {State()}
    ahead = [State()]
    while ahead and left and len(seen) < STATES:
        state = ahead.pop()
        left -= {part for part in left if rules.out(state, part)}
        for move in sorted(rules.legal(state), key=is_lift):
            after = rules.apply(state, move)
            if after not in seen:
                seen.add(after)
                ahead.append(after)
    return left, not ahead


def is_lift(move: Move) -> bool:
    """Sorts lifts behind openings, so that the last, tried first, is a lift."""
    return bool(move.lift)
