"""Delegated Regulation (EU) 2023/1669, energy labelling: the figures of the repairability index.

Weights, ladders, formula and classes, each as the act has them, in whole numbers:
points are integers, sub-scores hundredths, R ten-thousandths. Working a device
through them is `midframe.index.score`.

References
----------
[lbl-2023-1669, Annex IV point 5] (method), Annex II point C, Table 4 (classes),
Annex IX Table 10 (tolerance); consolidation of 10.05.2026.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias

from midframe.index.evidence import FastenerLevel, RemoteDuty, RepairInformation, Role, SpareOffer, ToolGroup

KEY = "lbl-2023-1669"
TITLE = "Delegated Regulation (EU) 2023/1669, energy labelling of smartphones and slate tablets"
CONSOLIDATION = "consolidation of 10.05.2026"
METHOD = "Annex IV point 5"

RepairClass: TypeAlias = Literal["A", "B", "C", "D", "E"]
Symbol: TypeAlias = Literal["SDD", "SF", "ST", "SSP", "SSU", "SRI"]

SCORE_NAMES: Mapping[Symbol, str] = {
    "SDD": "disassembly depth",
    "SF": "fasteners",
    "ST": "tools",
    "SSP": "spare parts",
    "SSU": "software updates",
    "SRI": "repair information",
}
SCORE_WEIGHTS: Mapping[Symbol, int] = {"SDD": 25, "SF": 15, "ST": 15, "SSP": 15, "SSU": 15, "SRI": 15}
"""Weight of each score in R, in hundredths [lbl-2023-1669, Annex IV point 5]."""

ORDINARY_WEIGHTS: Mapping[Role, int] = {
    "battery": 30,
    "display": 30,
    "back_cover": 10,
    "front_camera": 5,
    "rear_camera": 5,
    "charging_port": 5,
    "button": 5,
    "microphone": 5,
    "speaker": 5,
}
"""Weights of the priority parts, hundredths [lbl-2023-1669, Annex IV point 5, formulas (a)]."""

FOLDABLE_WEIGHTS: Mapping[Role, int] = {
    "battery": 25,
    "display": 25,
    "back_cover": 9,
    "front_camera": 4,
    "rear_camera": 4,
    "charging_port": 4,
    "button": 4,
    "microphone": 4,
    "speaker": 4,
    "hinge": 17,
}
"""The same with a hinge or folding mechanism [lbl-2023-1669, Annex IV point 5, formulas (b)]."""

CLASS_EDGES: tuple[tuple[RepairClass, int], ...] = (
    ("A", 40_000),
    ("B", 33_500),
    ("C", 25_500),
    ("D", 17_500),
    ("E", 10_000),
)
"""Lower edge of each class, ten-thousandths of R [lbl-2023-1669, Annex II point C, Table 4]."""

DEPTH_LADDER: tuple[tuple[int, int], ...] = ((2, 5), (5, 4), (10, 3), (15, 2))
"""Most steps and their points; above the last 1 [lbl-2023-1669, Annex IV point 5, Disassembly depth]."""

FASTENER_POINTS: Mapping[FastenerLevel, int] = {"reusable": 5, "resupplied": 3, "removable": 1}
"""No level for "none" [lbl-2023-1669, Annex IV point 5, Fasteners; Annex I (16)-(19)]."""

TOOL_POINTS: Mapping[ToolGroup, int] = {
    "none": 5,
    "basic": 4,
    "spare_set": 3,
    "product_set": 2,
    "commercial": 1,
}
"""No level for proprietary tools [lbl-2023-1669, Annex IV point 5, Tools; Annex I (42)-(44)]."""

INFORMATION_POINTS: Mapping[RepairInformation, int] = {
    "public": 5,
    "free_professional": 3,
    "paid_professional": 1,
}
"""No level for none [lbl-2023-1669, Annex IV point 5, Repair and maintenance information]."""

UPDATE_LADDER: tuple[tuple[float, int], ...] = ((7, 5), (6, 3), (5, 1))
"""Years and points; below 5 no level [lbl-2023-1669, Annex IV point 5, Software updates]."""

PROFESSIONAL_CAPS: Mapping[Role, int] = {"battery": 1, "back_cover": 2, "front_camera": 3, "rear_camera": 3}
"""Highest SSP rung left when this part is offered to professionals only.

Read off the ladder [lbl-2023-1669, Annex IV point 5, Spare parts]: display (1),
with battery (2), with back cover (3), with cameras (4), every priority part (5).
Other parts leave rung 4; without the display there is no rung.
"""

REMOTE_STEPS = 5
"""Steps added by each remote notification or authorisation [lbl-2023-1669, Annex IV point 5]."""

TOLERANCE_HUNDREDTHS = 4
"""The value found may lie 4 % below the declared R [lbl-2023-1669, Annex IX Table 10]."""


def depth_points(steps: int) -> int:
    """Points for the steps it takes to free a part, remote actions included.

    >>> [depth_points(n) for n in (0, 2, 3, 5, 6, 10, 11, 15, 16, 40)]
    [5, 5, 4, 4, 3, 3, 2, 2, 1, 1]

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Disassembly depth]
    """
    return next((points for most, points in DEPTH_LADDER if steps <= most), 1)


def remote_steps(remote: tuple[RemoteDuty, ...]) -> int:
    """Steps that serial-number duties add: 5 for each of the two kinds.

    >>> remote_steps(("authorisation",)), remote_steps(("notification", "authorisation"))
    (5, 10)

    References
    ----------
    [lbl-2023-1669] Annex IV point 5, remote notification and authorisation (C8).
    """
    return REMOTE_STEPS * len(set(remote))


def updates_points(years: float) -> int | None:
    """Points for years of updates from the end of placing on the market; None below 5 years.

    Between rungs the lower one counts (a reading: the 6 and 5 year rungs carry no "at least").

    >>> [updates_points(years) for years in (4.9, 5, 6, 6.5, 7, 8)]
    [None, 1, 3, 3, 5, 5]

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Software updates]
    """
    return next((points for least, points in UPDATE_LADDER if years >= least), None)


def spare_cap(role: Role, offer: SpareOffer) -> int | None:
    """Highest SSP rung that one part's spare offer leaves; None where no rung is left.

    SSP is the lowest cap over all priority parts.

    >>> spare_cap("battery", "professional"), spare_cap("speaker", "professional")
    (1, 4)
    >>> spare_cap("display", "professional"), spare_cap("display", "end_user")
    (None, 5)

    References
    ----------
    [lbl-2023-1669, Annex IV point 5, Spare parts]
    """
    if offer == "end_user":
        return 5
    if offer == "none" or role == "display":
        return None
    return PROFESSIONAL_CAPS.get(role, 4)


def lowest_spare_cap(role: Role) -> int:
    """The lowest rung a part can leave while SSP is still defined.

    >>> lowest_spare_cap("display"), lowest_spare_cap("battery"), lowest_spare_cap("button")
    (5, 1, 4)
    """
    cap = spare_cap(role, "professional")
    return 5 if cap is None else cap


def index_ten_thousandths(scores: dict[Symbol, int]) -> int:
    r"""R in whole ten-thousandths from the six scores in whole hundredths.

    .. math:: R = 0.25\,S_{DD} + 0.15\,(S_F + S_T + S_{SP} + S_{SU} + S_{RI})

    Parameters
    ----------
    scores
        Hundredths of a point, 100 … 500 each.

    Returns
    -------
    int
        10 000 … 50 000.

    Examples
    --------
    >>> index_ten_thousandths({"SDD": 405, "SF": 490, "ST": 440, "SSP": 500, "SSU": 500, "SRI": 500})
    46575

    References
    ----------
    [lbl-2023-1669, Annex IV point 5].
    """
    return sum(weight * scores[symbol] for symbol, weight in SCORE_WEIGHTS.items())


def class_of(ten_thousandths: int) -> RepairClass | None:
    """Class of an unrounded R; None below 1.00, where no class is defined.

    >>> class_of(40_000), class_of(39_999), class_of(33_475), class_of(9_600)
    ('A', 'B', 'C', None)

    References
    ----------
    [lbl-2023-1669, Annex II point C, Table 4].
    """
    return next((name for name, edge in CLASS_EDGES if ten_thousandths >= edge), None)


def rounded_hundredths(ten_thousandths: int) -> int:
    """R rounded to two decimals, a tie upwards; in hundredths.

    The act shows two decimals and states no rule for ties, so this is a reading.

    >>> rounded_hundredths(46_575), rounded_hundredths(22_050), rounded_hundredths(22_049)
    (466, 221, 220)
    """
    return (ten_thousandths + 50) // 100


def class_depends_on_rounding(ten_thousandths: int) -> bool:
    """Whether rounding to two decimals before classing would give another class.

    True exactly for R in [edge - 0.005, edge).

    >>> class_depends_on_rounding(33_475), class_depends_on_rounding(33_425)
    (True, False)

    References
    ----------
    [lbl-2023-1669, Annex IV point 5] states no rounding rule for R; derivation ours.
    """
    return class_of(ten_thousandths) != class_of(100 * rounded_hundredths(ten_thousandths))
