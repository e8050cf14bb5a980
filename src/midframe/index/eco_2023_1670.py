"""Regulation (EU) 2023/1670, ecodesign: spare parts, disassembly, bundling, endurance.

Phones are taken as smartphones (Annex II B), tablets as slate tablets (Annex II D).
What a record cannot show (delivery times, prices, software access) is said to be
not decidable; nothing is assumed for it.

References
----------
[eco-2023-1670, Annex II B and D points 1.1 and 1.2]
"""

from __future__ import annotations

from midframe.index.eco_disassembly import (
    BATTERY,
    BATTERY_ALTERNATIVE,
    DEMANDS,
    KEY,
    READING,
    WAY,
    disassembly_findings,
    worst,
)
from midframe.index.eco_spares import (
    BOTH,
    bundling_findings,
    fastener_supply,
    serial_findings,
    spare_findings,
)
from midframe.index.evidence import DeviceEvidence, PartEvidence, check_evidence, of_role
from midframe.index.findings import ingress_meets, named
from midframe.index.results import OPEN, Judgement, LegalFinding, Verdict

TITLE = "Regulation (EU) 2023/1670, ecodesign of smartphones and slate tablets"
CONSOLIDATION = "consolidated state of 20.06.2025"

REMAINING_AFTER_500 = 83
REMAINING_AFTER_1000 = 80
FULL_CYCLES = 1000
"""Percent, percent, cycles: the battery exception [eco-2023-1670, Annex II B and D point 1.1(1)(c)(ii)]."""

ENDURANCE_CYCLES = 800
"""Cycles at 80 % of rated capacity [eco-2023-1670, Annex II B point 1.2(4), D point 1.2(3)]."""

NOTES = (
    "Scope exclusions (Article 1) and the date of placing on the market (from 20 June 2025) are not checked.",
    "Published guidance differs on the display assembly; the act is followed"
    " [eco-2023-1670, Annex II point 1.1(5)].",
    "Duties on software updates are not judged here; the index scores the years promised.",
    "Judged are the parts that the record describes; the charger is not one of them"
    " [eco-2023-1670, Annex II B and D point 1.1(1)(c)(i)].",
)


class Ecodesign:
    """The ecodesign duties held against one device."""

    def judge(self, device: DeviceEvidence) -> Judgement:
        """Judge every duty that applies to a phone or tablet; each finding names its clause."""
        check_evidence(device)
        what = "smartphone" if device.kind == "phone" else "slate tablet"
        return Judgement(
            key=KEY,
            title=TITLE,
            applies=True,
            applies_because=f"the record says {device.kind}, taken as a {what} under {annex_of(device)}",
            consolidation=CONSOLIDATION,
            findings=ecodesign_findings(device),
            notes=NOTES,
            readings=(READING, WAY, BOTH),
            sources=(KEY,),
        )


def annex_of(device: DeviceEvidence) -> str:
    """The part of Annex II that rules a device.

    >>> annex_of(DeviceEvidence(name="slab", kind="tablet", parts=()))
    'Annex II D'
    """
    return "Annex II B" if device.kind == "phone" else "Annex II D"


def ecodesign_findings(device: DeviceEvidence) -> tuple[LegalFinding, ...]:
    """Every finding, in the order: disassembly, spare parts, bundling, serial numbers, product.

    References
    ----------
    [eco-2023-1670, Annex II B and D point 1.1]
    """
    annex = annex_of(device)
    exception = battery_conditions(device)
    found: list[LegalFinding] = []
    for part in ruled_parts(device):
        if part.role == "battery":
            found += _battery(part, annex, exception)
        else:
            found += disassembly_findings(part, DEMANDS[part.role], annex)
    for part in ruled_parts(device):
        found += spare_findings(part, annex, exception)
        found += fastener_supply(part, annex)
    found += _back_cover_open(device, annex)
    found += bundling_findings(device, annex)
    found += serial_findings(device, annex)
    found += _product(device, annex, exception)
    return tuple(found)


def cover_must_come_off(device: DeviceEvidence) -> bool | None:
    """Whether a back cover leaves on the way to a battery; None where the way is not known.

    References
    ----------
    [eco-2023-1670, Annex II B and D point 1.1(1)(c)(i)]
    """
    covers = {part.part for part in of_role(device, "back_cover")}
    ways = [part.way_parts for part in of_role(device, "battery")]
    if any(way is not None and covers & set(way) for way in ways):
        return True
    return None if None in ways or not ways else False


def ruled_parts(device: DeviceEvidence) -> tuple[PartEvidence, ...]:
    """The parts that the duties name: back cover only if it must come off, foil only where foldable."""
    cover = cover_must_come_off(device)
    return tuple(
        part
        for part in device.parts
        if part.role in DEMANDS
        and (part.role != "back_cover" or cover is True)
        and (part.role != "protective_foil" or device.foldable)
    )


def _back_cover_open(device: DeviceEvidence, annex: str) -> list[LegalFinding]:
    if cover_must_come_off(device) is not None:
        return []
    return [
        LegalFinding(
            regulation=KEY,
            clause=f"{annex} points 1.1(1)(c)(i) and 1.1(5)(b)",
            duty="back cover for end users, if it must come off to change the battery",
            verdict=OPEN,
            why="whether it must come off is not known",
            part=part.part,
            name=part.name,
            role=part.role,
            missing=("the parts that leave on the way to the battery",),
        )
        for part in of_role(device, "back_cover")
    ]


def battery_conditions(device: DeviceEvidence) -> LegalFinding:
    """The endurance and ingress conditions that open the exceptions for the battery.

    Parameters
    ----------
    device
        Percentages of rated capacity, cycles, ingress rating.

    Examples
    --------
    >>> slab = DeviceEvidence(name="slab", kind="tablet", parts=(), ingress="IP42", full_cycles=1000,
    ...                       remaining_after_500_percent=84, remaining_after_1000_percent=80)
    >>> battery_conditions(slab).verdict
    'met'

    References
    ----------
    [eco-2023-1670, Annex II B and D points 1.1(1)(c)(ii) and 1.1(5)(c)(ii)]
    """
    asked = "IP67" if device.kind == "phone" else "IP42"
    dry = None
    if device.ingress is not None:
        dry = ingress_meets(device.ingress, solids=int(asked[2]), water=int(asked[3]))
    checks = (
        (
            f"at least {REMAINING_AFTER_500} % after 500 cycles",
            _least(device.remaining_after_500_percent, REMAINING_AFTER_500),
        ),
        (
            f"at least {REMAINING_AFTER_1000} % after 1000 cycles",
            _least(device.remaining_after_1000_percent, REMAINING_AFTER_1000),
        ),
        (f"at least {FULL_CYCLES} full cycles", _least(device.full_cycles, FULL_CYCLES)),
        (f"ingress {asked}", dry),
    )
    failed = [text for text, holds in checks if holds is False]
    unknown = tuple(text for text, holds in checks if holds is None)
    verdict: Verdict = "not met" if failed else OPEN if unknown else "met"
    return LegalFinding(
        regulation=KEY,
        clause=f"{annex_of(device)} points 1.1(1)(c)(ii) and 1.1(5)(c)(ii)",
        duty="conditions of the exceptions for the battery",
        verdict=verdict,
        why=f"fails: {named(failed)}" if failed else "not known" if unknown else "all conditions hold",
        role="battery",
        missing=() if failed else unknown,
    )


def _least(value: float | None, least: float) -> bool | None:
    return None if value is None else value >= least


def _battery(part: PartEvidence, annex: str, exception: LegalFinding) -> list[LegalFinding]:
    """Main rule, alternative and the two together: one of them must be met."""
    main = disassembly_findings(part, BATTERY, annex)
    by_main = worst(tuple(one.verdict for one in main))
    if by_main == "met":
        return [*main, _either(part, annex, "met", "the main rule is met")]
    other = disassembly_findings(part, BATTERY_ALTERNATIVE, annex)
    by_other = worst((exception.verdict, *(one.verdict for one in other)))
    if by_other == "met":
        return [*main, *other, _either(part, annex, "met", "the alternative and its conditions are met")]
    if by_main == by_other == "not met":
        return [*main, *other, _either(part, annex, "not met", "neither main rule nor alternative is met")]
    gaps = [gap for one in (*main, *other, exception) for gap in one.missing]
    return [
        *main,
        *other,
        _either(part, annex, OPEN, "main rule or alternative is open", tuple(dict.fromkeys(gaps))),
    ]


def _either(
    part: PartEvidence, annex: str, verdict: Verdict, why: str, missing: tuple[str, ...] = ()
) -> LegalFinding:
    return LegalFinding(
        regulation=KEY,
        clause=f"{annex} point 1.1(5)(c)",
        duty="battery replacement: main rule or alternative",
        verdict=verdict,
        why=why,
        part=part.part,
        name=part.name,
        role="battery",
        missing=missing,
    )


def _product(device: DeviceEvidence, annex: str, exception: LegalFinding) -> list[LegalFinding]:
    """Duties of the product as a whole; most of them no record can show."""
    informed = device.repair_information
    open_duties = (
        (
            "1.1(1)",
            "spare parts until 7 years after the last unit is placed on the market",
            "period of supply",
        ),
        ("1.1(3)", "delivery within 5 working days, 10 after the first 5 years", "delivery times"),
        ("1.1(4)", "indicative prices before tax on a free website", "where prices are published"),
    )
    found = [exception, _endurance(device, annex)]
    found.append(
        LegalFinding(
            regulation=KEY,
            clause=f"{annex} point 1.1(2)",
            duty="access to repair information for professional repairers",
            verdict="not met" if informed == "none" else OPEN,
            why="the record says there is none"
            if informed == "none"
            else "content and access times are not in the record",
            missing=() if informed == "none" else ("content and access times of the repair information",),
        )
    )
    found += [
        LegalFinding(
            regulation=KEY,
            clause=f"{annex} point {point}",
            duty=duty,
            verdict=OPEN,
            why="not in the record",
            missing=(gap,),
        )
        for point, duty, gap in open_duties
    ]
    return found


def _endurance(device: DeviceEvidence, annex: str) -> LegalFinding:
    """At least 800 cycles at 80 % of rated capacity."""
    cycles, later = device.full_cycles, device.remaining_after_1000_percent
    verdict: Verdict = OPEN
    why = "cycles are not known"
    if cycles is not None and later is not None and cycles >= FULL_CYCLES and later < REMAINING_AFTER_1000:
        why = f"{cycles} cycles, yet {later:g} % after {FULL_CYCLES}: the two do not go together"
    elif cycles is not None:
        verdict, why = ("met" if cycles >= ENDURANCE_CYCLES else "not met"), f"{cycles} cycles"
    elif later is not None and later >= REMAINING_AFTER_1000:
        verdict, why = "met", f"{later:g} % after 1000 cycles"
    return LegalFinding(
        regulation=KEY,
        clause=f"{annex} point {'1.2(4)' if device.kind == 'phone' else '1.2(3)'}",
        duty=f"battery endurance: at least {ENDURANCE_CYCLES} cycles at 80 % of rated capacity",
        verdict=verdict,
        why=why,
        role="battery",
        missing=("full_cycles, counted down to 80 % of rated capacity",) if verdict == OPEN else (),
    )
