"""Regulation (EU) 2023/1542, batteries: may the end user take the battery out.

Read in summaries of the act, not in the act itself; every result says so.

References
----------
[bat-2023-1542, Article 11]. Guidance on it, Commission notice C/2025/214 of
10.1.2025, was not read.
"""

from __future__ import annotations

from midframe.index.evidence import DeviceEvidence, PartEvidence, Reading, of_role
from midframe.index.findings import named, opening_gaps, way_gaps
from midframe.index.results import OPEN, Judgement, LegalFinding, Verdict

KEY = "bat-2023-1542"
TITLE = "Regulation (EU) 2023/1542, batteries: removability of portable batteries"
ARTICLE = "Article 11"
SECOND_HAND = "wording read in summaries of the act, not in the act itself"

NOTES = (
    f"Applies from 18 February 2027 [{KEY}, {ARTICLE}]; {SECOND_HAND}.",
    "Derogations (wet environments, some medical devices: removal by an independent professional)"
    f" are not checked [{KEY}, {ARTICLE}].",
    "How this article and the battery duty of Regulation (EU) 2023/1670 stand to each other for phones and"
    " tablets is not settled: both are shown, neither is decided.",
)
READING = Reading(
    id="battery-way",
    text="The battery is judged on its governing sequence: a documented order, else the computed way of"
    " fewest steps. Where it is computed, another way may ask for less.",
)


class BatteryRemovability:
    """Article 11 held against the way to the battery."""

    def judge(self, device: DeviceEvidence) -> Judgement:
        """Say whether each battery comes out as the article asks; it applies where there is a battery."""
        batteries = of_role(device, "battery")
        absent = "battery" in device.absent
        return Judgement(
            key=KEY,
            title=TITLE,
            applies=not absent,
            applies_because="no battery"
            if absent
            else "a product with a portable battery, if sealed and at most 5 kg",
            consolidation=SECOND_HAND,
            findings=tuple(finding for battery in batteries for finding in battery_findings(battery)),
            notes=() if absent else NOTES,
            readings=() if absent else (READING,),
            sources=(KEY,),
        )


def battery_findings(battery: PartEvidence) -> tuple[LegalFinding, ...]:
    """Five duties for one battery, looked at on the whole way from the closed device.

    References
    ----------
    [bat-2023-1542, Article 11]
    """
    return (
        _plain(battery, "no thermal energy", battery.uses_heat, "heats"),
        _plain(battery, "no solvents", battery.uses_solvent, "uses a solvent"),
        _tools(battery),
        _whole(battery),
        _finding(
            battery,
            "instructions permanently online",
            OPEN,
            "not in the record",
            ("where they are published",),
        ),
    )


def _finding(
    battery: PartEvidence, duty: str, verdict: Verdict, why: str, missing: tuple[str, ...] = ()
) -> LegalFinding:
    return LegalFinding(
        regulation=KEY,
        clause=ARTICLE,
        duty=duty,
        verdict=verdict,
        why=why,
        part=battery.part,
        name=battery.name,
        role="battery",
        missing=missing,
        reading=SECOND_HAND,
    )


def _plain(battery: PartEvidence, duty: str, broken: bool, does: str) -> LegalFinding:
    if broken:
        return _finding(battery, duty, "not met", f"the way {does}")
    gaps = (
        *way_gaps(battery),
        *opening_gaps(battery),
        *(f"whether {tool.name} {does}" for tool in battery.way_tools or () if tool.group is None),
    )
    if gaps:
        return _finding(battery, duty, OPEN, "the way is not known well enough", gaps)
    return _finding(battery, duty, "met", "nothing on the way calls for it")


def _tools(battery: PartEvidence) -> LegalFinding:
    """Commercially available tools; specialised ones only if free; never proprietary ones."""
    duty = "commercially available tools, specialised ones only free of charge, no proprietary ones"
    tools = battery.way_tools or ()
    proprietary = [tool.name for tool in tools if tool.group == "proprietary" or tool.proprietary]
    if proprietary:
        return _finding(battery, duty, "not met", f"proprietary: {named(proprietary)}")
    unknown = (f"group of the tool {tool.name}" for tool in tools if tool.group is None)
    gaps = (*way_gaps(battery), *opening_gaps(battery), *unknown)
    if gaps:
        return _finding(battery, duty, OPEN, "a tool or the way is not known", gaps)
    bought = [tool.name for tool in tools if tool.group == "commercial"]
    if bought:
        why = f"on sale to the general public, not in the basic list: {named(bought)}"
        return _finding(
            battery, duty, OPEN, why, tuple(f"whether {one} is a specialised tool" for one in bought)
        )
    return _finding(battery, duty, "met", "bare hand, basic tools or tools that come free of charge")


def _whole(battery: PartEvidence) -> LegalFinding:
    """Removable and replaceable by the end user: a record can speak against it, never settle it."""
    duty = "removable and replaceable by the end user"
    stuck = [joint.name for joint in battery.way_fasteners or () if joint.level == "none"]
    if stuck:
        return _finding(battery, duty, "not met", f"cannot be undone without harm: {named(stuck)}")
    if battery.spare == "none":
        return _finding(battery, duty, "not met", "no spare battery is offered")
    gaps = (
        *way_gaps(battery),
        *(f"whether {one} can be replaced by the end user" for one in battery.damages),
        *(f"fastener level of {joint.name}" for joint in battery.way_fasteners or () if joint.level is None),
        *(() if battery.spare == "end_user" else ("whether end users are offered the battery",)),
        "whether an end user manages it",
    )
    why = (
        f"the way ruins {named(battery.damages)}" if battery.damages else "nothing in the record rules it out"
    )
    return _finding(battery, duty, OPEN, why if battery.steps is not None else "the way is not known", gaps)
