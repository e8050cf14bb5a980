"""The section along one way of the heat: parts and layers as slabs, and beside them how warm it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec

from midframe.publish.svg import cut, drawing, element, path, titled, words
from midframe.record import Record
from midframe.record.model import Layer
from midframe.thermal import Path, Stack, Step
from midframe.thermal.wording import figure

WIDTH = 360.0
MARGIN = 8.0
SLAB = 164.0
"""Width of a part, and of the layer that covers most, drawing units."""

PART, ROOMY, LEAST, MOST, LYING = 26.0, 40.0, 6.0, 34.0, 28.0
"""Height of a part, and of one where spreading is told; of the thinnest and the thickest layer; of layers
that lie on one another at least."""

LABEL, WARM, COLD = 182.0, 350.0, 298.0
"""Where labels begin; the warm and the cold end of the line of temperature."""

LONGEST = 21
"""Letters of a part's name that fit into its slab."""


class Slab(msgspec.Struct, frozen=True):
    """One slab: its shapes, its label in two lines, its height, and the drop across it in K."""

    shapes: tuple[tuple[float, float, str, str], ...]
    label: tuple[str, str]
    height: float
    drop_k: float


def path_drawing(record: Record, stack: Stack, way: Path) -> str:
    """The section along one way as SVG text, 360 units wide, the warm part on top.

    Layers are as thick and as wide as their thickness and area say, none thinner than can be seen; parts are
    all alike. The line to the right is the temperature: upright where it is even, slanting across layers. A
    way with figures missing has no such line.
    """
    names = {part.id: part.name for part in record.parts}
    layers = {layer.id: layer for layer in record.layers}
    slabs = [part_slab(names[way.parts[0]])]
    for step in way.steps:
        if step.kind == "spreading" and slabs[-1].height == PART:
            slabs[-1] = msgspec.structs.replace(slabs[-1], height=ROOMY)
        slabs += step_slabs(stack, layers, step, scale_of(way, layers))
        if step.to:
            slabs.append(part_slab(names[step.to]))
    whole = sum(slab.drop_k for slab in slabs)
    top, warm, content, line = MARGIN, WARM, [], [(WARM, MARGIN)]
    for slab in slabs:
        content += drawn(slab, top)
        top += slab.height
        if whole:
            warm -= slab.drop_k / whole * (WARM - COLD)
        line.append((warm, top))
    if way.drop_k is not None and whole:
        content.append(titled(path(line, "d-mark"), "Temperature from the warm part on"))
        content.append(words(COLD - 4, top + 14, f"−{figure(way.drop_k.usual)} K", "d-text d-small"))
    name = f"Section from {names[way.parts[0]]} to {names[way.parts[-1]]}"
    return drawing(WIDTH, top + 20, name, told(way, names), content)


def scale_of(way: Path, layers: Mapping[str, Layer]) -> tuple[float, float]:
    """Units per millimetre of thickness and per square millimetre of area, for the layers of a way."""
    there = [layers[name] for step in way.steps for name in step.layers]
    thick = max((layer.thickness_mm or 0.0 for layer in there), default=0.0)
    wide = max((area_of(step, layers) for step in way.steps), default=0.0)
    return MOST / thick if thick else 0.0, SLAB / wide if wide else 0.0


def area_of(step: Step, layers: Mapping[str, Layer]) -> float:
    """What the layers of a step cover, beside one another where they are."""
    there = [layers[name] for name in step.layers]
    lying = [layer.area_mm2 or 0.0 for layer in there if layer.stacked]
    return sum(layer.area_mm2 or 0.0 for layer in there if not layer.stacked) + max(lying, default=0.0)


def part_slab(name: str) -> Slab:
    """A part, its name inside."""
    return Slab(((MARGIN, SLAB, "d-body", cut(name, LONGEST)),), ("", ""), PART, 0.0)


def step_slabs(
    stack: Stack, layers: Mapping[str, Layer], step: Step, scale: tuple[float, float]
) -> list[Slab]:
    """The slabs of one step: layers that lie on one another one by one, those beside one another in a row.

    Spreading is told at a slab of no height.
    """
    drop = 0.0 if step.drop_k is None else step.drop_k.usual
    if step.kind == "spreading":
        return [Slab((), ("", f"spreading, {figure(drop)} K"), 0.0, drop)]
    there = [layers[name] for name in step.layers]
    if len(there) > 1 and all(layer.stacked for layer in there):
        drops = {one.id: 0.0 if one.drop_k is None else one.drop_k.usual for one in stack.layers}
        return [row([layer], scale, LYING, drops[layer.id]) for layer in there]
    return [row(there, scale, LEAST, drop)]


def row(there: Sequence[Layer], scale: tuple[float, float], least: float, drop_k: float) -> Slab:
    """Layers beside one another as one slab, in the middle of the parts."""
    gap = 3.0
    widths = [max(10.0, (layer.area_mm2 or 0.0) * scale[1] - gap * (len(there) > 1)) for layer in there]
    left = MARGIN + (SLAB - sum(widths) - gap * (len(widths) - 1)) / 2
    shapes = []
    for layer, width in zip(there, widths, strict=True):
        shapes.append((left, width, "d-ghost" if layer.kind == "gap" else "d-slab", layer.id))
        left += width + gap
    thick = max((layer.thickness_mm or 0.0) for layer in there)
    first = there[0]
    known = "" if first.thickness_mm is None else f" {first.thickness_mm:g} mm"
    label = f"{first.kind}{known}" if len(there) == 1 else f"{len(there)} layers beside"
    height = min(MOST, max(least, thick * scale[0]))
    return Slab(tuple(shapes), (label, f"{figure(drop_k)} K" if drop_k else "not known"), height, drop_k)


def drawn(slab: Slab, top: float) -> list[str]:
    """A slab with its label to the right."""
    found = []
    for left, width, kind, name in slab.shapes:
        shape = element("rect", x=left, y=top, width=width, height=slab.height, class_=kind)
        if kind == "d-body":
            shape += words(MARGIN + 8, top + slab.height / 2 + 4, name, "d-text d-inside")
        found.append(titled(shape, name))
    middle = top + slab.height / 2
    upper, lower = slab.label
    if upper:
        right = slab.shapes[-1][0] + slab.shapes[-1][1]
        found.append(element("line", x1=right, y1=middle, x2=LABEL - 3, y2=middle, class_="d-leader"))
        found.append(words(LABEL, middle - 1, upper))
        found.append(words(LABEL, middle + 12, lower, "d-text d-small"))
    elif lower:
        found.append(words(LABEL, middle - 15, lower, "d-text d-small"))
    return found


def told(way: Path, names: Mapping[str, str]) -> str:
    """The way in words, for those who do not see it."""
    said = [f"From {names[way.parts[0]]}, the warm part, downwards."]
    for step in way.steps:
        drop = "not known" if step.drop_k is None else f"{figure(step.drop_k.usual)} K"
        said.append(f"{step.text}: {drop}" + (f"; then {names[step.to]}." if step.to else "."))
    return " ".join(said)
