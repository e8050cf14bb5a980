"""Handling and shipping of a battery: class, state-of-charge rule, what to do with a damaged one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, TypeAlias

import msgspec

from midframe.battery.label import Label
from midframe.faults import BadSetting

Condition: TypeAlias = Literal["sound", "damaged", "swollen"]
Packing: TypeAlias = Literal["alone", "with_equipment", "in_equipment"]
Certainty: TypeAlias = Literal["source", "common practice", "from memory"]

SMALL_CELL_WH, SMALL_BATTERY_WH = 20.0, 100.0
"""Limits of the eased rules for small batteries; from memory of 49 CFR 173.185(c) and ADR SP 188."""

PASSENGER_WH, PASSENGER_MOST_WH = 100.0, 160.0
"""Spare batteries of passengers: free up to the first, with the airline's approval up to the second
[cfr-49-175-10, lithium ion batteries]."""

AIR_CHARGE_PERCENT = 30.0
"""Highest state of charge of lithium-ion batteries sent alone on cargo aircraft [hm-224i, 84 FR 8006]."""

CONFIRM = (
    "Rules of carriage change every year: ask the carrier, who must be licensed for such goods, and your"
    " local authority before you send anything."
)


class Advice(msgspec.Struct, frozen=True, kw_only=True):
    """One rule or caution: its topic, its text, how certain it is, keys of its sources."""

    topic: Literal["class", "charge", "marking", "passenger", "signs", "do", "do not", "store", "send", "ask"]
    text: str
    certainty: Certainty
    sources: tuple[str, ...] = ()


class Handling(msgspec.Struct, frozen=True, kw_only=True):
    """How a battery is handled and shipped.

    `un_number` is 3480 for batteries alone, 3481 with or in equipment. `small` is whether the eased rules for
    small batteries may apply: never to a damaged or swollen one, none where the energy is not known.
    `highest_charge_wh` is the energy at the state of charge that is allowed by air, where that rule applies.
    """

    condition: Condition
    packing: Packing
    energy_wh: float | None
    cells: int | None
    cell_wh: float | None
    un_number: str
    small: bool | None
    highest_charge_percent: float | None
    highest_charge_wh: float | None
    advice: tuple[Advice, ...]
    ask: str
    sources: tuple[str, ...]


def handling(
    energy_wh: float | None,
    cells: int | None = 1,
    *,
    condition: Condition = "sound",
    packing: Packing = "alone",
) -> Handling:
    """Shipping class, state-of-charge rule and cautions of one lithium-ion battery.

    Parameters
    ----------
    energy_wh
        Rated energy in Wh, or none where it is not known.
    cells
        Number of cells in the battery; none where it is not known.
    condition
        Sound, damaged or swollen.
    packing
        Sent alone, packed with equipment, or inside it.

    Raises
    ------
    BadSetting
        An energy or a number of cells that is none.

    Examples
    --------
    >>> found = handling(18.93)
    >>> found.un_number, found.small, round(found.highest_charge_wh, 2)
    ('UN 3480', True, 5.68)

    References
    ----------
    [hm-224i, 84 FR 8006], [cfr-49-175-10, lithium ion batteries], [adr-2025, special provision 376],
    [phmsa-24-0050, answers], [kane-county-batteries, page]; what was not read is marked from memory.
    """
    if energy_wh is not None and not 0 < energy_wh <= 1000:
        raise BadSetting(f"energy: found {energy_wh:g} Wh; right: rated energy in Wh, such as 18.9")
    if cells is not None and not 1 <= cells <= 100:
        raise BadSetting(f"cells: found {cells}; right: number of cells in the battery")
    cell_wh = None if energy_wh is None or cells is None else energy_wh / cells
    small = None
    if energy_wh is not None and cell_wh is not None:
        small = condition == "sound" and cell_wh <= SMALL_CELL_WH and energy_wh <= SMALL_BATTERY_WH
    limited = condition == "sound" and packing == "alone"
    advice = tuple(shipping(condition, packing, energy_wh, cell_wh, small)) + tuple(cautions(condition))
    return Handling(
        condition=condition,
        packing=packing,
        energy_wh=energy_wh,
        cells=cells,
        cell_wh=cell_wh,
        un_number="UN 3480" if packing == "alone" else "UN 3481",
        small=small,
        highest_charge_percent=AIR_CHARGE_PERCENT if limited else None,
        highest_charge_wh=AIR_CHARGE_PERCENT / 100 * energy_wh if limited and energy_wh is not None else None,
        advice=advice,
        ask=CONFIRM,
        sources=tuple(sorted({key for one in advice for key in one.sources})),
    )


def handling_of(label: Label, *, condition: Condition = "sound", packing: Packing = "alone") -> Handling:
    """The same for a label: its energy, and as many cells as it says (one where it says none)."""
    cells = (label.cells_in_series or 1) * (label.cells_side_by_side or 1)
    return handling(label.energy_wh, cells, condition=condition, packing=packing)


def shipping(
    condition: Condition, packing: Packing, energy: float | None, cell: float | None, small: bool | None
) -> Iterator[Advice]:
    """Class, charge, marking and how to send."""
    if energy is None or cell is None:
        text = (
            "without rated energy in Wh neither class nor limits can be told; it is rated Ah times nominal V"
        )
        yield Advice(topic="class", text=text, certainty="source", sources=("cfr-49-171-8",))
    else:
        fits = "may apply" if small else "do not apply"
        if condition != "sound":
            fits += f" to one that is {condition}"
        text = (
            f"{energy:.4g} Wh, {cell:.4g} Wh a cell: the eased rules for small batteries (cell up to"
            f" {SMALL_CELL_WH:g} Wh, battery up to {SMALL_BATTERY_WH:g} Wh) {fits}"
        )
        yield Advice(topic="class", text=text, certainty="from memory")
    if condition != "sound":
        yield from damaged_shipping()
        return
    if packing == "alone":
        text = (
            f"by air at most {AIR_CHARGE_PERCENT:g} % state of charge, never as cargo on passenger aircraft"
            " (United States rule of 2019; newer editions may say more)"
        )
        yield Advice(topic="charge", text=text, certainty="source", sources=("hm-224i",))
    else:
        text = (
            "the 30 % rule of 2019 left out batteries with or in equipment;"
            " packed with equipment, it may hold from 2026"
        )
        yield Advice(topic="charge", text=text, certainty="from memory")
    text = "watt-hours marked on the battery, a UN 38.3 test summary at hand, terminals and contacts covered"
    yield Advice(topic="marking", text=text, certainty="from memory", sources=("un-38-3",))
    if energy is not None:
        yield Advice(
            topic="passenger", text=passenger(energy), certainty="source", sources=("cfr-49-175-10",)
        )


def passenger(energy: float) -> str:
    """Whether a passenger may take the battery as a spare, and how."""
    if energy <= PASSENGER_WH:
        return "as a passenger's spare in carry-on baggage only, terminals insulated (up to 100 Wh)"
    if energy <= PASSENGER_MOST_WH:
        return "as a passenger's spare with the airline's approval only, two at most (100 to 160 Wh)"
    return "not in passenger baggage (above 160 Wh)"


def damaged_shipping() -> Iterator[Advice]:
    """How a damaged or swollen battery travels, if at all."""
    text = "never by air; not by post or parcel (from memory of IATA special provision A154)"
    yield Advice(topic="send", text=text, certainty="from memory")
    text = (
        "by road only as damaged or defective under special provision 376: packing instruction P908, or P911"
        " where it may burn or come apart; an expert or the maker judges which"
    )
    yield Advice(topic="send", text=text, certainty="source", sources=("adr-2025",))
    text = "in the United States a damaged battery that may heat or burn goes by 49 CFR 173.185(f), scrap too"
    yield Advice(topic="send", text=text, certainty="source", sources=("phmsa-24-0050",))


def cautions(condition: Condition) -> Iterator[Advice]:
    """Signs of damage, what to do and not to do, where to keep the battery, whom to ask."""
    county = ("kane-county-batteries",)
    text = "swelling or a case out of line, heat, smell, hissing or popping, leaks, a sudden loss of capacity"
    yield Advice(topic="signs", text=text, certainty="source", sources=county)
    if condition == "sound":
        text = (
            "insulate the contacts, do not bend, press or pierce the cell, keep it away from heat and metal"
        )
        yield Advice(topic="do", text=text, certainty="common practice")
        return
    text = "stop at once, switch off and unplug; do not charge or use it again"
    yield Advice(topic="do", text=text, certainty="source", sources=county)
    text = "if it gets warm, move it with a metal tool to where nothing can burn and call the fire service"
    yield Advice(topic="do", text=text, certainty="source", sources=county)
    text = "never pierce or press a swollen cell to flatten it: its gas is toxic and can burn; no heat"
    yield Advice(topic="do not", text=text, certainty="source", sources=county)
    text = (
        "apart from everything, on sand or dry absorbent in a loosely covered metal box, outdoors if possible"
    )
    yield Advice(topic="store", text=text, certainty="common practice")
    text = (
        "the local hazardous-waste site or fire service, the maker, a carrier licensed for damaged batteries"
    )
    yield Advice(topic="ask", text=text, certainty="common practice")
