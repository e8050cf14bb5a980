"""What the device itself says of its battery, beside what a log measured and what its maker promises."""

from __future__ import annotations

import re

from midframe.battery.kept import HEALTH, newest, told
from midframe.faults import BadSetting
from midframe.record import Record
from midframe.record.model import Measurement

SAID, CYCLES = "state of health as the device says", "full cycles"
"""What is read off the device, in the words of the record."""

ASKED = (800, 80.0)
"""Full cycles after which phones and tablets still have so many per cent, in the EU since 20 June 2025
[eco-2023-1670, Annex II B 1.2(4), D 1.2(3)]."""

METHOD = "read off the device"


def device_says(
    part: str, at: str, *, percent: float | None = None, cycles: int | None = None, first_use: str = ""
) -> tuple[Measurement, ...]:
    """Figures that the device shows of its battery, as measurements to be kept.

    A phone or tablet of the EU has to show date of manufacture, date of first use, number of full cycles and
    state of health [eco-2023-1670, Annex II B 1.1(6)(c)].

    Parameters
    ----------
    part, at
        Id of the battery; the moment as ISO 8601.
    percent
        State of health in per cent.
    cycles
        Number of full cycles.
    first_use
        Date of first use, as shown.

    Raises
    ------
    BadSetting
        Where nothing is said, or a figure cannot be.

    Examples
    --------
    >>> found = device_says("battery", "2026-11-25T10:00:00Z", percent=92, cycles=311)
    >>> [(one.what, one.value, one.unit) for one in found]
    [('state of health as the device says', 92.0, '%'), ('full cycles', 311.0, '')]

    References
    ----------
    [eco-2023-1670, Annex I (40), Annex II B 1.1(6)(c)].
    """
    if percent is None and cycles is None:
        raise BadSetting("device: found neither state of health nor cycles; right: at least one of them")
    if percent is not None and not 1 <= percent <= 120:
        raise BadSetting(f"state of health: found {percent:g} %; right: per cent of rated capacity, 1 to 120")
    if cycles is not None and not 0 <= cycles <= 20_000:
        raise BadSetting(f"full cycles: found {cycles}; right: a whole number from 0 to 20 000")
    stamp = re.sub(r"\D", "", at)[:14]
    note = f"first used {first_use}" if first_use else ""
    figures = ((SAID, "%", percent), (CYCLES, "", cycles))
    return tuple(
        Measurement(
            id=f"{part}-{what.replace(' ', '-')}-{stamp}",
            on=part,
            what=what,
            value=float(value),
            unit=unit,
            at=at,
            method=METHOD,
            note=note,
        )
        for what, unit, value in figures
        if value is not None
    )


def beside_log(record: Record, part: str) -> str:
    """Whether the newest figure of the device lies within what the newest log measured; empty without both.

    Phones whose battery has aged report a wrong state of charge, and so a wrong health [phone-battery-2016,
    abstract].
    """
    said, measured = newest(record, SAID, [part]), newest(record, HEALTH, [part])
    if (
        said is None
        or measured is None
        or said.value is None
        or measured.low is None
        or measured.high is None
    ):
        return ""
    words = f"the device says {said.value:g} %, the log {told(measured)}"
    if measured.low <= said.value <= measured.high:
        return f"{words}: they agree"
    way = "more" if said.value > measured.high else "less"
    return f"{words}: the device says {way} than was measured; an aged phone misjudges its own battery"


def beside_promise(record: Record, part: str) -> str:
    """Whether the newest state of health keeps what is promised for so many cycles; empty without both.

    Held against what the maker promises after 500 or 1000 cycles; where it promises nothing for so many,
    against the 80 % after 800 cycles that the EU asks of phones and tablets
    [eco-2023-1670, Annex II B 1.2(4), D 1.2(3)].

    >>> from midframe import demo
    >>> from midframe.battery.kept import with_kept
    >>> said = device_says("battery", "2026-11-25T10:00:00Z", percent=92, cycles=311)
    >>> beside_promise(with_kept(demo.load("tern-3"), said), "battery")
    '92 % after 311 full cycles: the 88 % that its maker promises after 500 are kept so far'
    """
    cycles = newest(record, CYCLES, [part])
    health = newest(record, HEALTH, [part]) or newest(record, SAID, [part])
    if cycles is None or cycles.value is None or health is None:
        return ""
    promised = promise_for(record, cycles.value)
    low, high = (health.value if end is None else end for end in (health.low, health.high))
    if promised is None or low is None or high is None:
        return ""
    after, least, who = promised
    words = f"{both(health, cycles)}: the {least:g} % that {who} after {after}"
    if low >= least:
        return f"{words} are kept so far"
    return f"{words} are {'not kept' if high < least else 'neither kept nor missed within the range'}"


def both(health: Measurement, cycles: Measurement) -> str:
    """A state of health after so many cycles; with their days where those are not the same."""
    days = [one.at[:10] for one in (health, cycles)]
    count = f"{cycles.value or 0.0:g} full cycles"
    if days[0] == days[1] or not all(days):
        return f"{told(health)} after {count}"
    return f"{told(health)} of {days[0]} and {count} of {days[1]}"


def promise_for(record: Record, cycles: float) -> tuple[int, float, str] | None:
    """The promise that counts after so many cycles: after how many, how many per cent, whose it is."""
    device = record.device
    makers = ((500, device.remaining_after_500_percent), (1000, device.remaining_after_1000_percent))
    for after, least in makers:
        if least is not None and cycles <= after:
            return after, least, "its maker promises"
    return (*ASKED, "the EU asks for") if cycles <= ASKED[0] else None
