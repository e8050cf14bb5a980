"""The way that counts for the index: of fewest steps among those that ruin nothing but what is exchanged.

References
----------
[lbl-2023-1669, Annex IV point 5]: the removal must not damage the product.
"""

from __future__ import annotations

from collections.abc import Iterator

from midframe.record.model import Move
from midframe.ways.count import Counter, ruined_by
from midframe.ways.restrict import restricted
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound, Way


def harmless_way(planner: Planner, target: str) -> Way | NoWayFound:
    """The planner's best way, or the best that spares other parts where that one would ruin some needlessly.

    Parameters
    ----------
    planner
        Its objective and limit are kept.
    target
        The part; it and its bundle may be ruined, they are being exchanged.

    Returns
    -------
    Way | NoWayFound
        `count.ruined` names more than the target where no way spares them.
    """
    found = planner.way(target)
    own = planner.rules.bundle(target)
    if isinstance(found, NoWayFound) or own.issuperset(found.count.ruined):
        return found
    without = frozenset(ruinous(planner.counter, own))
    spared = restricted(planner, without=without, bits=planner.search.compiler.bits).way(target)
    return spared if isinstance(spared, Way) else found


def ruinous(counter: Counter, own: frozenset[str]) -> Iterator[Move]:
    """The openings that ruin a part outside the bundle that is exchanged."""
    for joint in counter.record.joints:
        for by, work in enumerate(counter.bench.operations(joint), start=1):
            if not own.issuperset(ruined_by(joint, work)):
                yield Move(open=joint.id, by=by)
