"""From the warm part outwards: what lies on the way to each part that the layers reach, added up."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from itertools import pairwise
from typing import Literal, TypeAlias

import msgspec

from midframe.faults import UnknownPart
from midframe.record import Record
from midframe.record.model import Layer
from midframe.thermal.figures import CONTACTS, POORLY_COOLED_W_M2K, ZERO, Span, conductivity_of, is_in_plane
from midframe.thermal.spreading import spreading_resistance
from midframe.thermal.stack import PairResult, Stack

StepKind: TypeAlias = Literal["layers", "spreading"]

ALIKE = 1.05
"""Areas that differ by less than this factor spread nothing (own construction)."""

FILMS = ("graphite", "copper")
"""Kinds of layers that spread heat in their plane."""


class Step(msgspec.Struct, frozen=True, kw_only=True):
    """One thing on the way: the layers between two parts, or the spreading in a film.

    `layers` are ids; `to` is the part reached, empty for spreading. Figures are none where they lack.
    """

    kind: StepKind
    layers: tuple[str, ...]
    to: str
    text: str
    resistance_k_w: Span | None
    drop_k: Span | None


class Path(msgspec.Struct, frozen=True, kw_only=True):
    """The way of the heat from one part to another, were all of the power to go there.

    `parts` are on the way, both ends among them. `ends` is whether no layer leads on. `other_ways` is
    whether layers lead there by other parts too: they would carry some, so the figure is on the high side.
    """

    parts: tuple[str, ...]
    steps: tuple[Step, ...]
    ends: bool
    other_ways: bool
    resistance_k_w: Span | None
    drop_k: Span | None
    missing: tuple[str, ...]


def heat_paths(record: Record, stack: Stack, start: str = "") -> tuple[Path, ...]:
    """The ways of the heat from one part to every part that layers reach.

    R of a way is the sum over its pairs of parts, and the spreading in films where the area changes. That
    is from 0 (the part between evens it out) to that of a film whose far side is poorly cooled; usual is
    the film alone on an even part.

    Parameters
    ----------
    record, stack
        The record and `thermal_stack` of it.
    start
        Id of the warm part; by default the main board, or the part that most layers touch.

    Raises
    ------
    UnknownPart
        When no layer touches the part.

    Examples
    --------
    >>> from midframe import demo
    >>> from midframe.thermal.stack import thermal_stack
    >>> record = demo.load("tern-3")
    >>> found = heat_paths(record, thermal_stack(record))
    >>> [(one.parts[-1], one.ends) for one in found][:2]
    [('heat-spreader', True), ('shield-front', True)]

    References
    ----------
    [incropera-fhmt, 3.1], [yovanovich-marotta, spreading resistance].
    """
    if not stack.pairs:
        return ()
    first = start or usual_start(record, stack)
    if not any(first in pair.between for pair in stack.pairs):
        touched = ", ".join(dict.fromkeys(part for pair in stack.pairs for part in pair.between))
        raise UnknownPart(f"from: found '{first}', which no layer touches; right: one of {touched}")
    before, looped = searched(stack, first)
    return tuple(
        path_to(record, stack, way_to(before, part), ends=part not in set(before.values()), looped=looped)
        for part in before
        if part != first
    )


def usual_start(record: Record, stack: Stack) -> str:
    """The main board where layers touch it, else the part that most of them touch."""
    touched = [part for pair in stack.pairs for part in pair.between]
    boards = [part.id for part in record.parts if part.role == "main_board" and part.id in touched]
    return boards[0] if boards else max(dict.fromkeys(touched), key=touched.count)


def searched(stack: Stack, first: str) -> tuple[dict[str, str], bool]:
    """Part → the one before it on the shortest way, and whether some parts are reached by two ways."""
    before, waiting, looped = {first: ""}, deque([first]), False
    while waiting:
        here = waiting.popleft()
        for pair in stack.pairs:
            if here in pair.between:
                there = pair.between[0] if pair.between[1] == here else pair.between[1]
                if there not in before:
                    before[there] = here
                    waiting.append(there)
                elif before[here] != there and before[there] != here:
                    looped = True
    return before, looped


def way_to(before: dict[str, str], part: str) -> tuple[str, ...]:
    """The parts from the first to this one."""
    found = [part]
    while before[found[-1]]:
        found.append(before[found[-1]])
    return tuple(reversed(found))


def path_to(record: Record, stack: Stack, parts: tuple[str, ...], *, ends: bool, looped: bool) -> Path:
    """One way with its steps and sums."""
    pairs = [
        next(pair for pair in stack.pairs if set(pair.between) == {here, there})
        for here, there in pairwise(parts)
    ]
    steps = tuple(steps_of(record, stack, parts, pairs))
    missing = tuple(name for pair in pairs for name in pair.missing)
    whole = None
    if not missing:
        whole = ZERO
        for step in steps:
            whole = whole.plus(step.resistance_k_w or ZERO)
    return Path(
        parts=parts,
        steps=steps,
        ends=ends,
        other_ways=looped,
        resistance_k_w=whole,
        drop_k=None if whole is None else whole.times(stack.power_w),
        missing=missing,
    )


def steps_of(record: Record, stack: Stack, parts: tuple[str, ...], pairs: list[PairResult]) -> Iterator[Step]:
    """The layers of each pair, and between them the spreading where the area changes."""
    by_id = {layer.id: layer for layer in record.layers}
    last: Layer | None = None
    for number, pair in enumerate(pairs):
        names = (*pair.stacked, *pair.beside)
        here = chain(by_id, pair, backwards=parts[number] != pair.between[0])
        for one, next_one in pairwise([last, *here]):
            if one and next_one and (step := spreading_step(one, next_one, stack.power_w)) is not None:
                yield step
        yield Step(
            kind="layers",
            layers=names,
            to=parts[number + 1],
            text=", ".join(names),
            resistance_k_w=pair.resistance_k_w,
            drop_k=pair.drop_k,
        )
        last = here[-1] if here else None


def chain(by_id: dict[str, Layer], pair: PairResult, *, backwards: bool) -> list[Layer]:
    """The layers of a pair one after another; empty where several lie beside one another."""
    if len(pair.beside) + bool(pair.stacked) != 1:
        return []
    found = [by_id[name] for name in (*pair.stacked, *pair.beside)]
    return found[::-1] if backwards else found


def spreading_step(one: Layer, other: Layer, power_w: float) -> Step | None:
    """The spreading between two layers that follow one another, in the larger one if that is a film."""
    if one.area_mm2 is None or other.area_mm2 is None:
        return None
    small, film = sorted((one, other), key=lambda layer: layer.area_mm2 or 0.0)
    least, most = small.area_mm2 or 0.0, film.area_mm2 or 0.0
    if film.kind not in FILMS or film.thickness_mm is None or most < ALIKE * least:
        return None
    found = film_spreading(film, least)
    return Step(
        kind="spreading",
        layers=(film.id,),
        to="",
        text=f"spreading in {film.id}, from {least:g} to {most:g} mm²",
        resistance_k_w=found,
        drop_k=found.times(power_w),
    )


def film_spreading(film: Layer, patch_mm2: float) -> Span:
    """Spreading in a film, K/W: 0, alone on an even part, and with a poorly cooled far side.

    >>> film = Layer(id="film", kind="graphite", between=("shield", "cover"), thickness_mm=0.06,
    ...     conductivity_w_mk=1000.0, area_mm2=550.0)
    >>> found = film_spreading(film, 120.0)
    >>> found.low, round(found.usual, 2), round(found.high, 2)
    (0.0, 0.16, 1.01)
    """
    across = conductivity_of(film)[0].usual
    along = film.conductivity_w_mk if is_in_plane(film) and film.conductivity_w_mk else across
    far = CONTACTS[film.kind].usual / 2

    def at(base_w_m2k: float) -> float:
        return spreading_resistance(
            patch_mm2,
            film.area_mm2 or 0.0,
            thickness_mm=film.thickness_mm or 0.0,
            along_w_mk=along,
            across_w_mk=across,
            base_w_m2k=base_w_m2k,
        )

    return Span(0.0, at(1 / far), at(POORLY_COOLED_W_M2K))


def ends_of(paths: tuple[Path, ...]) -> tuple[Path, ...]:
    """The ways that lead no further."""
    return tuple(path for path in paths if path.ends)
