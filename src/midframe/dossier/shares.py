"""How often each part of a record is the one exchanged: mean shares of the failure mix, in closed form.

References
----------
[open-repair-data, phone_shop_prior.csv]; the mean of a beta and of a Dirichlet are textbook statistics.
"""

from __future__ import annotations

from collections.abc import Mapping

from midframe.record.model import Record, Role
from midframe.upkeep import FAULT_OF_ROLE
from midframe.upkeep.faults_and_roles import fault_counts
from midframe.upkeep.mix import ONE_JOB_EACH


def fault_shares(kind: str, own_counts: Mapping[str, int] | None = None) -> dict[str, float]:
    """Mean share of every fault among all faults, the mean of what `failure_mix` draws.

    Display: (a + n_d) / (a + b + n); any other fault: (1 − display) (α_i + n_i) / Σ (α + n).

    Parameters
    ----------
    kind
        "phone" or "tablet".
    own_counts
        The shop's own jobs by role or fault.

    Returns
    -------
    dict[str, float]
        They add up to 1.

    Examples
    --------
    >>> shares = fault_shares("phone")
    >>> round(shares["display"], 3), round(sum(shares.values()), 6)
    (0.465, 1.0)

    References
    ----------
    [open-repair-data, phone_shop_prior.csv].
    """
    counts = fault_counts(kind, own_counts)
    (display,) = [count for count in counts if count.level == "display"]
    rest = [count for count in counts if count.level != "display"]
    against = display.prior_against + sum(count.own for count in rest)
    first = display.total / (display.total + against)
    total = sum(count.total for count in rest)
    return {display.fault: first} | {count.fault: (1 - first) * count.total / total for count in rest}


def part_shares(record: Record, own_counts: Mapping[str, int] | None = None) -> dict[str, float]:
    """Share of each part among the repairs that exchange a part of this record.

    Parts whose fault is not in the mix are left out. Several parts that answer one role are each as likely to
    be the one; where a fault has several roles the device's split is that of one job each plus the own jobs
    (own convention, as in `upkeep`). The estimate's own shares are means of quotients and may lie some
    hundredths away.

    >>> from midframe.demo import load
    >>> shares = part_shares(load("tern-3"))
    >>> max(shares, key=shares.get), round(sum(shares.values()), 6)
    ('display', 1.0)
    """
    carriers: dict[Role, list[str]] = {}
    for part in record.parts:
        if part.id != record.device.body:
            for role in dict.fromkeys((part.role, *part.also)):
                carriers.setdefault(role, []).append(part.id)
    faults = fault_shares(record.device.kind, own_counts)
    own = {
        count.fault: dict(zip(count.roles, count.own_of_role, strict=True))
        for count in fault_counts(record.device.kind, own_counts)
    }
    shares: dict[str, float] = {}
    for role, parts in carriers.items():
        fault = FAULT_OF_ROLE[role]
        if fault not in faults:
            continue
        weights = {one: ONE_JOB_EACH + jobs for one, jobs in own[fault].items() if one in carriers}
        for part_id in parts:
            share = faults[fault] * weights[role] / sum(weights.values()) / len(parts)
            shares[part_id] = shares.get(part_id, 0.0) + share
    total = sum(shares.values())
    return {one: share / total for one, share in shares.items() if share > 0}
