"""Pads as they are sold: the common ones, or a list of one's own as TOML or CSV."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

import msgspec

from midframe.faults import BadSetting, Fault
from midframe.thermal.rows import csv_rows
from midframe.thermal.units import converted, figure_of, number_of

COMMON_MM = (0.3, 0.5, 0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0)
"""Thicknesses that pads are sold in; common practice, no source."""

COMMON_W_MK = (1.0, 2.0, 3.0, 5.0, 6.0, 8.0, 12.0)
"""Conductivities that pads are sold with; common practice, no source."""

DEFLECTION = re.compile(r"percent_at_(?P<value>\d+(?:\.\d+)?)_(?P<unit>\w+)")
"""A column of a datasheet: by how many per cent a pad gives at a pressure."""

KNOWN = ("name", "kind")


class Pad(msgspec.Struct, frozen=True, kw_only=True):
    """A pad as it is sold: thickness uncompressed, conductivity across it, a name.

    `deflection` is from its datasheet: pressure in kPa and the share of the thickness that it gives, in
    rising order; empty where not known. A `putty` flows and fills any gap up to its thickness.
    """

    thickness_mm: float
    conductivity_w_mk: float
    name: str = ""
    kind: Literal["pad", "putty"] = "pad"
    deflection: tuple[tuple[float, float], ...] = ()

    @property
    def words(self) -> str:
        """The pad in a few words: its name, or its figures."""
        return self.name or f"{self.thickness_mm:g} mm, {self.conductivity_w_mk:g} W/(m·K)"


def common_pads() -> tuple[Pad, ...]:
    """Every common thickness with every common conductivity.

    >>> len(common_pads()), common_pads()[0].words
    (63, '0.3 mm, 1 W/(m·K)')
    """
    return tuple(Pad(thickness_mm=t, conductivity_w_mk=k) for t in COMMON_MM for k in COMMON_W_MK)


def checked(pad: Pad) -> Pad:
    """The pad; raises `BadSetting` for one that cannot be, such as a thickness in micrometres.

    >>> checked(Pad(thickness_mm=500, conductivity_w_mk=6))
    Traceback (most recent call last):
    midframe.faults.BadSetting: pad: found 500 mm; right: 0.02 to 10 mm (500 µm are 0.5 mm, 20 mil 0.508 mm)
    """
    named = f"pad {pad.name}".strip()
    if not 0.02 <= pad.thickness_mm <= 10:
        right = "0.02 to 10 mm (500 µm are 0.5 mm, 20 mil 0.508 mm)"
        raise BadSetting(f"{named}: found {pad.thickness_mm:g} mm; right: {right}")
    if not 0.1 <= pad.conductivity_w_mk <= 100:
        right = "0.1 to 100, across the pad"
        raise BadSetting(f"{named}: found {pad.conductivity_w_mk:g} W/(m·K); right: {right}")
    rising = [*pad.deflection]
    if rising != sorted(rising) or sorted(one[1] for one in rising) != [one[1] for one in rising]:
        raise BadSetting(f"{named}: found a pad that gives less at more pressure; right: more")
    if any(not (0 < kpa <= 10_000 and 0 < share < 1) for kpa, share in rising):
        right = "a pressure of up to 10 MPa, and more than 0 and less than 100 per cent"
        raise BadSetting(f"{named}: found {rising[-1][1] * 100:g} % at {rising[-1][0]:g} kPa; right: {right}")
    return pad


def pads_from(text: str, file: str = "") -> tuple[Pad, ...]:
    r"""Pads from a list: TOML with `[[pads]]`, or CSV with a line of heads.

    Both have the keys name, kind (pad or putty), thickness_mm (or _um, _mil, _in), conductivity_w_mk (or
    _btu_in_hft2f, …) and any number of percent_at_69_kpa or percent_at_10_psi.

    Raises
    ------
    BadSetting
        With every row that cannot be read, and what would be right.

    Examples
    --------
    >>> pads_from("thickness_mil,conductivity_w_mk,percent_at_10_psi\n20,6,15\n")[0].thickness_mm
    0.508
    """
    rows = tuple(toml_rows(text, file)) if "[[" in text else tuple(csv_rows(text, file or "pads"))
    found, faults = [], []
    for where, row in rows:
        try:
            found.append(pad_in(row, where))
        except Fault as fault:
            faults.append(str(fault))
    if not rows:
        faults.append(f"{file or 'pads'}: found no pad; right: rows with thickness_mm and conductivity_w_mk")
    if faults:
        raise BadSetting("\n".join(faults))
    return tuple(found)


def toml_rows(text: str, file: str) -> Iterator[tuple[str, Mapping[str, object]]]:
    """The tables of a TOML list, each with its place."""
    try:
        tables = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadSetting(f"{file or 'pads'}: found {error}; right: TOML with [[pads]]") from None
    listed = tables.get("pads")
    if set(tables) != {"pads"} or not isinstance(listed, list):
        raise BadSetting(f"{file or 'pads'}: found {', '.join(tables)}; right: [[pads]] and nothing else")
    for number, row in enumerate(listed):
        yield f"{file or 'pads'}, pads[{number}]", row if isinstance(row, dict) else {}


def pad_in(row: Mapping[str, object], where: str) -> Pad:
    """One pad of a list; raises `BadSetting` with its place."""
    for key in row:
        if key not in KNOWN and not key.startswith(("thickness_", "conductivity_", "percent_at_")):
            right = "name, kind, thickness_mm, conductivity_w_mk, percent_at_69_kpa"
            raise BadSetting(f"{where}: found '{key}'; right: keys such as {right}")
    kind = str(row.get("kind") or "pad").strip()
    if kind not in ("pad", "putty"):
        raise BadSetting(f"{where}: found the kind '{kind}'; right: pad or putty")
    thickness, conductivity = (figure_of(row, name, where) for name in ("thickness", "conductivity"))
    if thickness is None or conductivity is None:
        raise BadSetting(f"{where}: found no {'conductivity' if thickness else 'thickness'}; right: both")
    pad = Pad(
        thickness_mm=thickness,
        conductivity_w_mk=conductivity,
        name=str(row.get("name") or "").strip()[:80],
        kind="putty" if kind == "putty" else "pad",
        deflection=tuple(deflection_in(row, where)),
    )
    try:
        return checked(pad)
    except BadSetting as fault:
        raise BadSetting(f"{where}: {fault}") from None


def deflection_in(row: Mapping[str, object], where: str) -> Sequence[tuple[float, float]]:
    """Pressure in kPa and share, from the columns that say per cent at a pressure, in rising order."""
    found = []
    for key, value in row.items():
        if not key.startswith("percent_at_") or value in (None, ""):
            continue
        match = DEFLECTION.fullmatch(key)
        if match is None:
            raise BadSetting(f"{where}: found '{key}'; right: such as percent_at_69_kpa or percent_at_10_psi")
        kpa = converted(float(match["value"]), "pressure", match["unit"])
        found.append((kpa, number_of(value, f"{where}, {key}") / 100))
    return sorted(found)
