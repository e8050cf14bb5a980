"""A printed number with its unit: what it says, and half a unit of its last digit as the room it leaves."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Literal, NamedTuple, TypeAlias

from midframe.faults import BadSetting

Quantity: TypeAlias = Literal["charge", "voltage", "energy"]
"""Charge is held in mAh, voltage in V, energy in Wh."""

UNITS: tuple[tuple[str, Quantity, str], ...] = (
    ("mah", "charge", "1"),
    ("ah", "charge", "1000"),
    ("mwh", "energy", "0.001"),
    ("wh", "energy", "1"),
    ("kwh", "energy", "1000"),
    ("mv", "voltage", "0.001"),
    ("v", "voltage", "1"),
)
"""Unit in small letters, its quantity, and the factor to the unit that is held."""

UNIT = r"(?:m\s?A|A|m\s?W|k\s?W|W)\s?[·.⋅]?\s?h(?![a-z])|(?:rn|m|M)Ah?(?=\b)h?|m?V(?:dc|DC)?(?![a-zA-Z])"
NUMBER = r"\d{1,3}(?:[ '’\u202f]\d{3})+(?:[.,]\d+)?(?!\d)|\d+(?:[.,]\d+)*"
AMOUNT = re.compile(rf"(?P<number>{NUMBER})\s*(?P<unit>{UNIT})?")


class Amount(NamedTuple):
    """One printed figure: value in the held unit, half of its last digit, what was read into it."""

    value: float
    half: float
    quantity: Quantity | None
    printed: str
    note: str = ""


def number(text: str, quantity: Quantity | None = None, unit: str = "") -> tuple[Decimal, str]:
    """A number with decimal point or comma, or with marks between its thousands.

    One comma or point before exactly three digits is read as a mark of thousands in mAh and mV, where a
    decimal would make no sense, and as a decimal mark elsewhere; the second value says so.

    >>> number("19,40")[0], number("5,000", "charge", "mah"), number("4.404", "charge", "ah")[0]
    (Decimal('19.40'), (Decimal('5000'), 'the mark in 5,000 was read as one of thousands'), Decimal('4.404'))
    """
    plain = re.sub(r"[ '’\u202f]", "", text)
    marks = re.findall(r"[.,]", plain)
    if len(set(marks)) == 2:
        last = marks[-1]
        other = "," if last == "." else "."
        return Decimal(plain.replace(other, "").replace(last, ".")), ""
    if len(marks) > 1:
        return Decimal(re.sub(r"[.,]", "", plain)), ""
    thousands = re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", plain)
    if thousands and (unit in ("mah", "mv", "mwh") or (quantity == "charge" and not unit)):
        return Decimal(re.sub(r"[.,]", "", plain)), f"the mark in {text} was read as one of thousands"
    return Decimal(plain.replace(",", ".")), ""


def unit_of(text: str) -> str:
    """The unit in its plain spelling, small letters.

    >>> unit_of("mA·h"), unit_of("W h"), unit_of("rnAh"), unit_of("Vdc")
    ('mah', 'wh', 'mah', 'v')
    """
    plain = re.sub(r"[\s·.⋅]", "", text).lower().replace("rn", "m")
    return plain.removesuffix("dc")


def amount(text: str, usual: str = "") -> Amount:
    """Read one printed figure; without a unit, `usual` is taken (mah, v, wh).

    Raises
    ------
    BadSetting
        Where there is no number, or the unit is not one of charge, voltage or energy.

    >>> amount("4404 mAh").half, amount("4.4 Ah").value, amount("4.4 Ah").half
    (0.5, 4400.0, 50.0)
    >>> amount("3,88", "v").value
    3.88
    """
    match = AMOUNT.search(text)
    rest = "" if match is None else (text[: match.start()] + text[match.end() :]).strip()
    if match is None or rest:
        right = 'a number with its unit, such as "4404 mAh", "4.4 Ah", "3.88 V" or "17.1 Wh"'
        raise BadSetting(f"found {text!r}; right: {right}")
    return amount_of(match, usual)


def amount_of(match: re.Match[str], usual: str = "") -> Amount:
    """The figure of one match of `AMOUNT`."""
    unit = unit_of(match["unit"] or usual)
    known = {name: (quantity, Decimal(factor)) for name, quantity, factor in UNITS}
    quantity, factor = known.get(unit, (None, Decimal(1)))
    value, note = number(match["number"], quantity, unit)
    exponent = value.as_tuple().exponent
    half = Decimal(5).scaleb((exponent if isinstance(exponent, int) else 0) - 1)
    return Amount(float(value * factor), float(half * factor), quantity, match[0].strip(), note)
