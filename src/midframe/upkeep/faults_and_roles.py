"""Which part of a device answers which fault of the open data, and the counting of a shop's own jobs.

The open data does not tell front from rear camera, nor the SIM from the memory card tray: there one
fault has two roles, and the split between them is unknown until own jobs say more.
"""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches

import msgspec

from midframe.faults import BadSetting
from midframe.upkeep.tables import PriorRow, shop_prior

ROLES_OF_FAULT: Mapping[str, tuple[str, ...]] = {
    "display": ("display",),
    "battery": ("battery",),
    "charging_port": ("charging_port",),
    "buttons": ("button",),
    "camera": ("rear_camera", "front_camera"),
    "speaker": ("speaker",),
    "microphone": ("microphone",),
    "mainboard": ("main_board",),
    "card_reader": ("card_tray", "sim_tray"),
    "audio_jack": ("audio_connector",),
    "back_cover_chassis": ("back_cover",),
    "hinge": ("hinge",),
    "sub_board": ("sub_board",),
    "protective_foil": ("protective_foil",),
    "other": ("other",),
}
"""Roles whose exchange answers a fault; faults named as in the open data [open-repair-data, README].
The last four are not in the open data: they count only through own jobs."""

NO_PART: Mapping[str, str] = {
    "software": "put right without exchanging a part",
    "water_damage": "cleaned, dried, or several parts at once: no single part answers it",
    "no_power_unclear": "cause not found: battery, charging port or main board",
    "charge_path_unclear": "cause not found: charging port or battery",
    "boot_software_or_board": "cause not found: software or main board",
    "external_charger": "not a part of the device",
}
"""Faults that no part of the device answers, and why; they are left out of the mean and printed."""

NOT_IN_DEVICE = "no part with this role is given for this device"
"""Why a fault that a part could answer is left out for one device."""

FAULT_OF_ROLE: Mapping[str, str] = {role: fault for fault, roles in ROLES_OF_FAULT.items() for role in roles}
"""The fault of the open data under which a role is counted."""


class FaultCount(msgspec.Struct, frozen=True):
    """What is believed and known of one fault.

    `prior` is the pseudo-count (jobs) of the start belief, `prior_against` that of all else at its
    level; `own` the shop's own jobs, `own_of_role` those of them that named a role; `level` is
    "display" or "rest".
    """

    fault: str
    level: str
    prior: float
    prior_against: float
    own: int
    roles: tuple[str, ...]
    own_of_role: tuple[int, ...]

    @property
    def total(self) -> float:
        """Prior and own jobs together."""
        return self.prior + self.own


def fault_counts(kind: str, own_counts: Mapping[str, int] | None = None) -> tuple[FaultCount, ...]:
    """Pseudo-counts of the start belief with the shop's own jobs beside them.

    Parameters
    ----------
    kind
        "phone" or "tablet".
    own_counts
        Jobs by role of the record or by fault of the open data (both may be mixed; "rear_camera" and
        "camera" add up to the fault "camera").

    Returns
    -------
    tuple[FaultCount, ...]
        Faults of the open data in its order, then those only the shop's own jobs know.

    Raises
    ------
    BadSetting
        Lists every unknown name and every count that is not a whole number ≥ 0.

    Examples
    --------
    >>> [f.total for f in fault_counts("phone", {"rear_camera": 2, "camera": 1}) if f.fault == "camera"]
    [5.479]

    References
    ----------
    [open-repair-data, phone_shop_prior.csv].
    """
    own = dict(own_counts or {})
    priors = {row.part: row for row in shop_prior(kind)}
    _check_own(own)
    names = [*priors, *(fault for fault in ROLES_OF_FAULT if fault not in priors)]
    counts = (_count(name, priors.get(name), own) for name in names)
    return tuple(count for count in counts if count.total > 0)


def known_names() -> tuple[str, ...]:
    """Every name under which own jobs may be counted: faults of the open data and roles of the record."""
    return tuple(dict.fromkeys([*ROLES_OF_FAULT, *NO_PART, *FAULT_OF_ROLE]))


def _count(fault: str, prior: PriorRow | None, own: Mapping[str, int]) -> FaultCount:
    roles = ROLES_OF_FAULT.get(fault, ())
    of_role = tuple(own.get(role, 0) if role != fault else 0 for role in roles)
    return FaultCount(
        fault=fault,
        level="display" if fault == "display" else "rest",
        prior=prior.pseudo_count if prior is not None else 0.0,
        prior_against=prior.pseudo_total_of_level - prior.pseudo_count if prior is not None else 0.0,
        own=own.get(fault, 0) + sum(of_role),
        roles=roles,
        own_of_role=of_role,
    )


def _check_own(own: Mapping[str, object]) -> None:
    names = known_names()
    wrong = []
    for name, jobs in own.items():
        if name not in names:
            near = get_close_matches(str(name), names, n=1)
            hint = f"did you mean {near[0]!r}? " if near else ""
            wrong.append(f"own_counts: found {name!r}; {hint}names known are {', '.join(names)}")
        elif isinstance(jobs, bool) or not isinstance(jobs, int) or jobs < 0:
            wrong.append(
                f"own_counts[{name!r}]: found {jobs!r}; a whole number of jobs, zero or more, is needed"
            )
    if wrong:
        raise BadSetting("\n".join(wrong))
