"""The figures of a label as a person types them, field by field, and as the specs that a record keeps."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import msgspec

from midframe.battery.amount import AMOUNT, Quantity, amount, amount_of, number, unit_of
from midframe.battery.label import CELLS, MADE, SIZE, Figure, Kind, Label, size_in, spec_figure
from midframe.faults import BadSetting
from midframe.record.model import Spec


class Asked(NamedTuple):
    """One figure that is asked for: key, words in the record, its quantity and kind, usual unit."""

    key: str
    words: str
    quantity: Quantity
    kind: Kind
    unit: str


FIELDS: tuple[Asked, ...] = (
    Asked("nominal", "Nominal voltage", "voltage", "nominal", "V"),
    Asked("rated", "Rated capacity", "charge", "rated", "mAh"),
    Asked("typical", "Typical capacity", "charge", "typical", "mAh"),
    Asked("further", "Capacity", "charge", "further", "mAh"),
    Asked("rated_energy", "Rated energy", "energy", "rated", "Wh"),
    Asked("typical_energy", "Typical energy", "energy", "typical", "Wh"),
    Asked("energy", "Energy", "energy", "further", "Wh"),
    Asked("limit", "Charge limit voltage", "voltage", "limit", "V"),
)
"""The figures of a label in the order in which they are asked."""

PLAIN: tuple[tuple[str, str], ...] = (
    ("series", f"{CELLS} in series"),
    ("side", f"{CELLS} side by side"),
    ("size", SIZE),
    ("made", MADE),
)
"""What else a label or a ruler says: key and words in the record."""

LIMITS: Mapping[Quantity, tuple[float, str]] = {
    "charge": (1_000_000.0, "mAh or Ah"),
    "voltage": (1_000.0, "V or mV"),
    "energy": (100_000.0, "Wh or mWh"),
}
"""Above this nothing is a figure of a label: house choice."""


class Typed(msgspec.Struct, frozen=True):
    """What became of typed figures: the label they make, specs, and what is wrong by field."""

    label: Label
    specs: tuple[Spec, ...]
    faults: Mapping[str, str]


def typed_figures(fields: Mapping[str, str], *, mass_g: float | None = None) -> Typed:
    """Read the figures of a label from fields; several in one field are parted by a semicolon.

    Parameters
    ----------
    fields
        Text by key: those of `FIELDS`, and `series`, `side` (numbers of cells), `size` (mm) and `made`.
    mass_g
        Mass of the battery in g.

    Returns
    -------
    Typed
        Fields that cannot be read are left out and named in `faults`.

    Examples
    --------
    >>> found = typed_figures({"rated": "4404", "further": "4448; x", "size": "4 x 50 x 100"})
    >>> [spec.value for spec in found.specs], list(found.faults), found.label.volume_cm3
    ([4404, 4448, '4 × 50 × 100'], ['further'], 20.0)

    References: own construction.
    """
    figures: list[Figure] = []
    specs: list[Spec] = []
    faults: dict[str, str] = {}
    for asked in FIELDS:
        for text in filter(None, (one.strip() for one in fields.get(asked.key, "").split(";"))):
            try:
                spec = spec_of(asked, text)
            except BadSetting as fault:
                faults[asked.key] = str(fault)
                continue
            figure = spec_figure(spec.label, spec.value, spec.unit)
            specs.append(spec)
            figures += [] if figure is None else [figure]
    more, plain_faults = plain_specs(fields)
    label = Label(
        figures=tuple(figures),
        origin="typed",
        confirmed=True,
        cells_in_series=count_in(more, "series"),
        cells_side_by_side=count_in(more, "side"),
        volume_cm3=next((size_in(one.value) for one in more if one.label == SIZE), None),
        mass_g=mass_g,
        made=next((str(one.value) for one in more if one.label == MADE), ""),
    )
    return Typed(label, (*specs, *more), faults | plain_faults)


def spec_of(asked: Asked, text: str) -> Spec:
    """One typed figure as a spec; the digits stay as they were typed, since rounding is judged by them.

    >>> spec_of(FIELDS[4], "19.40"), spec_of(FIELDS[1], "4.4 Ah").unit
    (Spec(label='Rated energy', value='19.40', unit='Wh'), 'Ah')
    """
    most, units = LIMITS[asked.quantity]
    read = amount(text, unit_of(asked.unit))
    if read.quantity != asked.quantity or not 0 < read.value <= most:
        raise BadSetting(f"found {text!r}; right: a figure above zero in {units}")
    match = AMOUNT.search(text)
    if match is None:
        raise BadSetting(f"found {text!r}; right: a figure in {units}")
    unit = re.sub(r"\s", "", match["unit"] or "") or asked.unit
    digits, _ = number(match["number"], amount_of(match, asked.unit).quantity, unit_of(unit))
    plain = float(digits)
    shown = int(plain) if plain.is_integer() else plain
    return Spec(label=asked.words, value=shown if str(shown) == str(digits) else str(digits), unit=unit)


def plain_specs(fields: Mapping[str, str]) -> tuple[tuple[Spec, ...], dict[str, str]]:
    """Numbers of cells, size and date, and what is wrong with them."""
    specs: list[Spec] = []
    faults: dict[str, str] = {}
    for key, words in PLAIN:
        text = fields.get(key, "").strip()[:40]
        if not text:
            continue
        if key in ("series", "side"):
            if text.isascii() and text.isdigit() and 1 <= int(text) <= 20:
                specs.append(Spec(label=words, value=int(text)))
            else:
                faults[key] = f"found {text!r}; right: a number of cells from 1 to 20"
        elif key == "size":
            if size_in(text) is None:
                faults[key] = (
                    f"found {text!r}; right: thickness, width and height in mm, such as 4.4 × 64 × 91"
                )
            else:
                specs.append(
                    Spec(
                        label=words,
                        value=" × ".join(re.findall(r"\d+(?:\.\d+)?", comma_free(text))),
                        unit="mm",
                    )
                )
        else:
            specs.append(Spec(label=words, value=text))
    return tuple(specs), faults


def comma_free(text: str) -> str:
    """A decimal comma as a point."""
    return re.sub(r"(?<=\d),(?=\d)", ".", text)


def count_in(specs: Iterable[Spec], word: str) -> int | None:
    """The number of cells that a spec says."""
    return next(
        (int(one.value) for one in specs if one.label.endswith((f"in {word}", f"{word} by side"))), None
    )


def kept_specs(before: Iterable[Spec], typed: Iterable[Spec]) -> tuple[Spec, ...]:
    """The specs of a part once typed ones take the place of its label's; others stay behind them.

    >>> old = (Spec(label="Charge cycles", value=12), Spec(label="Rated capacity", value=4000, unit="mAh"))
    >>> [one.label for one in kept_specs(old, [])]
    ['Charge cycles']
    """
    return (*typed, *(one for one in before if not of_label(one)))


def of_label(spec: Spec) -> bool:
    """Whether a spec is one of those that the fields of a label hold."""
    if CELLS.lower() in spec.label.lower() or spec.label in (SIZE, MADE):
        return True
    return spec_figure(spec.label, spec.value, spec.unit) is not None


def fields_of(specs: Iterable[Spec]) -> dict[str, str]:
    """The specs of a part as the text of the fields, to be shown and changed.

    >>> fields_of([Spec(label="Rated energy", value="19.40", unit="Wh"), Spec(label="Size", value="4 × 5")])
    {'rated_energy': '19.40 Wh', 'size': '4 × 5'}
    """
    found: dict[str, list[str]] = {}
    for spec in specs:
        key = field_of(spec)
        if key:
            found.setdefault(key, []).append(f"{shown_value(spec)} {spec.unit}".strip())
    return {key: "; ".join(texts) for key, texts in found.items()}


def field_of(spec: Spec) -> str:
    """The field that a spec belongs to; empty where it is none of a label."""
    if CELLS.lower() in spec.label.lower():
        return "series" if "series" in spec.label.lower() else "side"
    if spec.label in (SIZE, MADE):
        return "size" if spec.label == SIZE else "made"
    figure = spec_figure(spec.label, spec.value, spec.unit)
    return "" if figure is None else field_of_figure(figure)


def field_of_figure(figure: Figure) -> str:
    """The field of a figure."""
    fits = ((one.quantity, one.kind) == (figure.quantity, figure.kind) for one in FIELDS)
    return next((one.key for one, fit in zip(FIELDS, fits, strict=True) if fit), "further")


def shown_value(spec: Spec) -> str:
    """The value as it was typed."""
    return spec.value if isinstance(spec.value, str) else f"{spec.value:.10g}"


def fields_read(figures: Iterable[Figure]) -> dict[str, str]:
    """Figures read from a photo as the text of the fields.

    >>> from midframe.battery.label import figures_in
    >>> fields_read(figures_in(["Rated capacity: 4880mAh 18.93Wh", "Li-ion 3.88 V"]))
    {'rated': '4880mAh', 'rated_energy': '18.93Wh', 'nominal': '3.88 V'}
    """
    found: dict[str, list[str]] = {}
    for figure in figures:
        found.setdefault(field_of_figure(figure), []).append(figure.printed)
    return {key: "; ".join(dict.fromkeys(texts)) for key, texts in found.items()}
