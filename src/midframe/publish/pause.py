"""A job put away at any move: what lies where, what is on order, what to look at on return."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from midframe.dossier.trays import Tray, trays
from midframe.publish.names import title_of
from midframe.publish.refit import Refit, refit
from midframe.record import Record, digest
from midframe.record.model import Move
from midframe.ways.electrical import cell_connectors
from midframe.ways.rules import Rules, State


class Ordered(msgspec.Struct, frozen=True):
    """Something on order: what, for which part if any, and a note such as the date it is expected."""

    item: str
    part: str = ""
    note: str = ""


class Pause(msgspec.Struct, frozen=True, kw_only=True):
    """A pause sheet.

    `done` are the moves made; the same record (`digest`) and moves resume exactly here: `state` and `back`
    follow from them alone. `hanging` are tethers that are still closed on a part that is aside.
    `on_return` are sentences in the order in which to look.
    """

    device: str
    digest: str
    done: tuple[Move, ...]
    state: State
    last: str
    trays: tuple[Tray, ...]
    screws_out: int
    hanging: tuple[str, ...]
    battery_connected: bool
    on_order: tuple[Ordered, ...]
    notes: tuple[str, ...]
    on_return: tuple[str, ...]
    back: Refit


def pause(
    record: Record,
    moves: Iterable[Move],
    *,
    on_order: Sequence[Ordered] = (),
    notes: Sequence[str] = (),
) -> Pause:
    """The pause sheet after some moves; raises `IllegalMove` where they are no legal sequence.

    >>> from midframe import demo
    >>> from midframe.publish.refit import moves_of_log
    >>> record = demo.load("tern-3")
    >>> sheet = pause(record, moves_of_log(record, 10), on_order=[Ordered("Battery", "battery")])
    >>> sheet.last, sheet.screws_out, len(sheet.trays)
    ('lifted Upper mid cover', 12, 4)
    """
    done = tuple(moves)
    rules = Rules(record)
    state = rules.replay(done)
    lying = trays(record, done)
    live = any(joint not in state.open for joint in cell_connectors(record))
    hanging = tuple(
        title_of(joint)
        for joint in record.joints
        if joint.tether and joint.id not in state.open and state.aside & set(joint.holds)
    )
    count = sum(tray.count for tray in lying)
    return Pause(
        device=record.device.name,
        digest=digest(record),
        done=done,
        state=state,
        last=told(rules, done[-1]) if done else "nothing opened",
        trays=lying,
        screws_out=count,
        hanging=hanging,
        battery_connected=live,
        on_order=tuple(on_order),
        notes=tuple(notes),
        on_return=returning(len(lying), count, hanging, live=live, on_order=on_order),
        back=refit(record, done),
    )


def told(rules: Rules, move: Move) -> str:
    """A move that was made, in words."""
    if move.open:
        return f"opened {title_of(rules.joints[move.open])}"
    return f"lifted {' and '.join(rules.parts[part].name for part in move.lift)}"


def returning(
    count: int, screws: int, hanging: Sequence[str], *, live: bool, on_order: Sequence[Ordered]
) -> tuple[str, ...]:
    """What to look at on return, in order (common practice, no source)."""
    lines = ["Look at the cell first: swollen, warm or smelling means stop."]
    if count:
        lines.append(f"All {count} trays are there, and {screws} screws in them.")
    if live:
        lines.append("The battery is still connected: device off, no metal on the contacts.")
    if hanging:
        lines.append(f"These still hang on the device and must not be pulled: {', '.join(hanging)}.")
    lines += [
        f"Arrived and the right one: {one.item}{f' ({one.note})' if one.note else ''}." for one in on_order
    ]
    lines.append("Open adhesive faces are clean and free of dust; old liners have not been touched.")
    return tuple(lines)
