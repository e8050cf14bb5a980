"""What is printed on a battery: typed, read from a photo, or from the record's specs."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal, TypeAlias

import msgspec

from midframe.battery.amount import AMOUNT, Amount, Quantity, amount, amount_of
from midframe.faults import BadSetting
from midframe.record import Record
from midframe.record.model import Part

Kind: TypeAlias = Literal["rated", "typical", "nominal", "limit", "further"]
"""What a figure says it is; voltages are nominal or limit, charges and energies the others."""

Origin: TypeAlias = Literal["typed", "photo", "record"]

WORDS: tuple[tuple[Kind, str], ...] = (
    ("limit", r"limit|charg\w*\s+volt|max\w*\.?\s+(?:charg\w*|volt)|ladeschluss|充电限制|上限"),
    ("rated", r"rated|minimum|\bmin\b|nenn(?!spann)|额定|最小"),
    ("typical", r"typical|\btyp\b|typisch|典型"),
    ("nominal", r"nominal|nennspannung|标称"),
)
"""Words of a label and what they say, the first that fits wins (common practice, no source)."""


CELLS, SIZE, MADE = "Cells", "Size", "Date of manufacture"
"""What the record calls numbers of cells, size and date of a battery."""


class Figure(msgspec.Struct, frozen=True, kw_only=True):
    """One printed figure.

    `value` is in mAh, V or Wh; `half` is half a unit of the last printed digit, in the same unit: what
    rounding may hide. `printed` is the figure as it stands there, `label` what it is called there;
    `note` says what had to be read into it.
    """

    quantity: Quantity
    kind: Kind
    value: float
    half: float
    printed: str
    label: str = ""
    note: str = ""


class Label(msgspec.Struct, frozen=True, kw_only=True):
    """All that is known of one battery's label and size.

    `confirmed` is true where a person has typed the figures, entered them into the record, or looked
    at what was read from a photo. `volume_cm3` is that of the box around the cell.
    """

    figures: tuple[Figure, ...]
    origin: Origin
    confirmed: bool
    part: str = ""
    name: str = ""
    cells_in_series: int | None = None
    cells_side_by_side: int | None = None
    volume_cm3: float | None = None
    mass_g: float | None = None
    made: str = ""

    def figure(self, quantity: Quantity, kind: Kind) -> Figure | None:
        """The first figure of this quantity and kind."""
        return next((one for one in self.figures if (one.quantity, one.kind) == (quantity, kind)), None)

    @property
    def energy_wh(self) -> float | None:
        """Rated energy in Wh: printed, else rated charge times nominal voltage [cfr-49-171-8, watt-hour]."""
        for kind in ("rated", "further"):
            found = self.figure("energy", kind)
            if found is not None:
                return found.value
        charge, voltage = self.figure("charge", "rated"), self.figure("voltage", "nominal")
        if charge is not None and voltage is not None:
            return charge.value * voltage.value / 1000
        typical = self.figure("energy", "typical")
        return None if typical is None else typical.value


def kind_of(text: str, quantity: Quantity) -> Kind:
    """What the words before a figure make of it.

    >>> kind_of("Rated capacity", "charge"), kind_of("Limited charge voltage", "voltage")
    ('rated', 'limit')
    >>> kind_of("", "voltage"), kind_of("Nominal capacity", "charge"), kind_of("", "charge")
    ('nominal', 'typical', 'further')
    """
    found = [(match.start(), kind) for kind, word in WORDS for match in re.finditer(word, text.lower())]
    kinds = [kind for _, kind in sorted(found, reverse=True)]
    if quantity == "voltage":
        return "limit" if "limit" in kinds[:1] else "nominal"
    usable = [kind for kind in kinds if kind in ("rated", "typical", "nominal")]
    if not usable:
        return "further"
    return "typical" if usable[0] == "nominal" else usable[0]


def figure_of(read: Amount, text: str) -> Figure | None:
    """The figure that an amount and the words before it make, if it has a unit of a label."""
    if read.quantity is None or read.value <= 0:
        return None
    kind = kind_of(text, read.quantity)
    notes = [read.note] if read.note else []
    if kind == "typical" and "nominal" in text.lower():
        notes.append("nominal taken as typical, common practice, no source")
    return Figure(
        quantity=read.quantity,
        kind=kind,
        value=read.value,
        half=read.half,
        printed=read.printed,
        label=" ".join(text.split()).strip(" :,;/-("),
        note="; ".join(notes),
    )


def figures_in(lines: Iterable[str]) -> tuple[Figure, ...]:
    """The figures with a unit in the lines of a label; a figure without words takes those before it.

    >>> [(f.kind, f.value) for f in figures_in(["Rated capacity: 4880mAh 18.93Wh", "Li-ion 3.88 V"])]
    [('rated', 4880.0), ('rated', 18.93), ('nominal', 3.88)]
    """
    found: list[Figure] = []
    words = ""
    for line in lines:
        end, fresh = 0, True
        for match in AMOUNT.finditer(line):
            read = amount_of(match)
            if read.quantity is None:
                continue
            before = line[end : match.start()]
            if re.search(r"[^\W\d_]{2,}", before):
                words, fresh = before, False
            elif fresh and found and not re.search(r"\w", before):
                fresh = False
            figure = figure_of(read, words)
            found += [figure] if figure is not None else []
            end = match.end()
        tail = line[end:]
        words = tail if re.search(r"[^\W\d_]{3,}", tail) else words
    return tuple(dict.fromkeys(found))


def typed_label(
    charges: Iterable[tuple[Kind, str]] = (),
    voltages: Iterable[tuple[Kind, str]] = (),
    energies: Iterable[tuple[Kind, str]] = (),
    *,
    size_mm: tuple[float, float, float] | None = None,
    mass_g: float | None = None,
    cells_in_series: int | None = None,
) -> Label:
    """The label as a person types it; figures without a unit are mAh, V and Wh.

    Raises
    ------
    BadSetting
        Where a figure cannot be read, is not above zero, or has the unit of another quantity.

    >>> typed_label([("rated", "4404")], [("nominal", "3.88")]).energy_wh
    17.08752
    """
    figures = []
    asked: tuple[tuple[Quantity, str, Iterable[tuple[Kind, str]]], ...] = (
        ("charge", "mah", charges),
        ("voltage", "v", voltages),
        ("energy", "wh", energies),
    )
    for quantity, usual, given in asked:
        for kind, text in given:
            read = amount(text, usual)
            if read.quantity != quantity or read.value <= 0:
                right = {"charge": "mAh or Ah", "voltage": "V or mV", "energy": "Wh or mWh"}[quantity]
                raise BadSetting(f"{kind} {quantity}: found {text!r}; right: a figure above zero in {right}")
            figures.append(
                Figure(
                    quantity=quantity,
                    kind=kind,
                    value=read.value,
                    half=read.half,
                    printed=read.printed,
                    note=read.note,
                )
            )
    return Label(
        figures=tuple(figures),
        origin="typed",
        confirmed=True,
        cells_in_series=cells_in_series,
        volume_cm3=None if size_mm is None else size_mm[0] * size_mm[1] * size_mm[2] / 1000,
        mass_g=mass_g,
    )


def labels_of(record: Record) -> tuple[Label, ...]:
    """The label of every part with the role battery, from its specs, size and mass.

    >>> from midframe import demo
    >>> [label.energy_wh for label in labels_of(demo.load("avocet-fold"))]
    [4.54, 9.47]
    """
    return tuple(label_of(part) for part in record.parts if "battery" in (part.role, *part.also))


def label_of(part: Part) -> Label:
    """The label of one part of the record."""
    figures: list[Figure] = []
    cells: dict[str, int] = {}
    made, size = "", None
    for spec in part.specs:
        name = spec.label.lower()
        if "cells" in name and isinstance(spec.value, int | float):
            cells["series" if "series" in name else "side"] = int(spec.value)
        elif "manufacture" in name:
            made = str(spec.value)
        elif spec.label == SIZE:
            size = size_in(spec.value)
        elif figure := spec_figure(spec.label, spec.value, spec.unit):
            figures.append(figure)
    return Label(
        figures=tuple(figures),
        origin="record",
        confirmed=True,
        part=part.id,
        name=part.name,
        cells_in_series=cells.get("series"),
        cells_side_by_side=cells.get("side"),
        volume_cm3=volume_cm3(part) if size is None else size,
        mass_g=part.mass_g,
        made=made,
    )


def spec_figure(label: str, value: float | str, unit: str) -> Figure | None:
    """The figure of one spec, or none where it is no charge, voltage or energy."""
    text = value if isinstance(value, str) else f"{value:.10g}"
    match = AMOUNT.fullmatch(f"{text} {unit}".strip())
    return None if match is None else figure_of(amount_of(match), label)


def size_in(value: float | str) -> float | None:
    """The volume in cm³ of a size in mm, as "4.4 × 63.8 × 90.4"; none where it is no size of a battery.

    >>> size_in("4 x 50 x 100 mm"), size_in("4,5 × 50 × 100"), size_in("4 × 50")
    (20.0, 22.5, None)
    """
    plain = re.sub(r"(?<=\d),(?=\d)", ".", str(value)).lower().removesuffix("mm")
    found = re.fullmatch(r"\s*" + r"\s*[x×*/]\s*".join([r"(\d{1,4}(?:\.\d+)?)"] * 3) + r"\s*", plain)
    if found is None:
        return None
    one, two, three = (float(side) for side in found.groups())
    return one * two * three / 1000 if min(one, two, three) > 0 and max(one, two, three) <= 500 else None


def volume_cm3(part: Part) -> float | None:
    """Plan area (box or polygon) times depth of a part, where the record has both."""
    if part.depth_mm is None or len(part.outline_mm) < 2:
        return None
    points = part.outline_mm
    if len(points) == 2:
        (x0, y0), (x1, y1) = points
        area = abs((x1 - x0) * (y1 - y0))
    else:
        turned = zip(points, (*points[1:], points[0]), strict=True)
        area = abs(sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in turned)) / 2
    return area * (part.depth_mm[1] - part.depth_mm[0]) / 1000 or None
