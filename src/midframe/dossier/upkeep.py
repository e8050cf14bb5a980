"""Maintainability of one record: times of ways in and refits handed to the estimate, with chances.

References
----------
[mil-hdbk-472, procedure II] for the sum of tasks; refit times are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from midframe.record.model import Joint, Operation, Part, Record
from midframe.upkeep import (
    Chance,
    PartTimes,
    Reason,
    Upkeep,
    UpkeepSettings,
    barriers,
    battery_needs,
    chances,
    upkeep,
)
from midframe.ways.bench import Bench, is_heating
from midframe.ways.count import Count, CountedMove
from midframe.ways.objective import SECONDS
from midframe.ways.readings import Readings
from midframe.ways.solve import Planner
from midframe.ways.way import NoWayFound

WAITING_WORDS = ("soak", "wait", "dwell", "cure")
"""First words of operations in which a clock rules, besides heating: common practice, no source."""


class RefitTimes(msgspec.Struct, frozen=True, kw_only=True):
    """Median seconds of putting back one joint, by its kind (common practice, no source; edit to taste).

    A screw counts each by itself, torque included; a bond is cleaned, gets new adhesive and is then pressed
    for a fixed time; other joints take as long as they took to undo.
    """

    screw_seconds: float = 7.0
    connector_seconds: float = 6.0
    clip_seconds: float = 10.0
    clean_seconds: float = 60.0
    adhesive_seconds: float = 45.0
    press_seconds: float = 60.0
    solder_seconds: float = 180.0


class PartSeconds(msgspec.Struct, frozen=True, kw_only=True):
    """Medians handed over for one part, seconds: way in and refit without waits, and the waits of both."""

    part: str
    name: str
    way_in_seconds: float
    refit_seconds: float
    fixed_seconds: float


class Unreachable(msgspec.Struct, frozen=True):
    """A part left out of the estimate because no way is known, and why."""

    part: str
    reason: str


class DeviceUpkeep(msgspec.Struct, frozen=True, kw_only=True):
    """Maintainability of one record, and what is known of the chances of its repairs.

    A part with several roles has one row a role in `upkeep.parts`, its key then `part:role`; `seconds` has
    one row a part. `chances`, `barriers` and `battery_needs` are of the kind of device, not of this one.
    """

    device: str
    upkeep: Upkeep
    seconds: tuple[PartSeconds, ...]
    unreachable: tuple[Unreachable, ...]
    chances: tuple[Chance, ...]
    barriers: tuple[Reason, ...]
    battery_needs: tuple[Reason, ...]


class WayTimes(msgspec.Struct, frozen=True):
    """Single medians of a way in and its refit, and what a clock holds on the way in and in all, seconds."""

    way_in: tuple[float, ...]
    refit: tuple[float, ...]
    waited: float
    fixed: float


def device_upkeep(
    record: Record,
    own_counts: Mapping[str, int] | None = None,
    settings: UpkeepSettings | None = None,
    *,
    readings: Readings | None = None,
    bench: Bench | None = None,
    refit: RefitTimes | None = None,
) -> DeviceUpkeep:
    """Mean time to repair of one record over the failure mix, by the fastest ways in.

    Parameters
    ----------
    record
        A sound record.
    own_counts
        The shop's own jobs by role or fault; parts of the role "other" take part only where it is counted.
    settings
        Other tasks, spread and simulation.
    readings, bench, refit
        Readings of the count, default times of opening and of putting back.

    Returns
    -------
    DeviceUpkeep
        All times in seconds.

    Raises
    ------
    BadSetting
        Where no part has a way and a role that the failure mix knows, or a setting is wrong.

    Examples
    --------
    >>> from midframe.demo import load
    >>> found = device_upkeep(load("tern-2"), settings=UpkeepSettings(draws=1000))
    >>> 900 < found.upkeep.mean_seconds < 3600
    True

    References
    ----------
    [mil-hdbk-472, procedure II], [open-repair-data, phone_shop_prior.csv].
    """
    found = repairs_of(record, own_counts, readings=readings, bench=bench, refit=refit)
    kind = record.device.kind
    return DeviceUpkeep(
        device=record.device.name,
        upkeep=upkeep(kind, found.parts, own_counts, settings),
        seconds=tuple(_seconds(part, times) for part, times in found.times),
        unreachable=found.unreachable,
        chances=chances(kind),
        barriers=barriers(kind),
        battery_needs=battery_needs(kind),
    )


class Repairs(msgspec.Struct, frozen=True):
    """Times of every repair of a record: by part with its way, and as the estimate takes them, by role."""

    times: tuple[tuple[Part, WayTimes], ...]
    parts: dict[str, PartTimes]
    unreachable: tuple[Unreachable, ...]


def repairs_of(
    record: Record,
    own_counts: Mapping[str, int] | None = None,
    *,
    readings: Readings | None = None,
    bench: Bench | None = None,
    refit: RefitTimes | None = None,
) -> Repairs:
    """The fastest way in to every part with a role that counts, and its times in seconds."""
    planner = Planner(record, SECONDS, readings, bench)
    parts: dict[str, PartTimes] = {}
    found: list[tuple[Part, WayTimes]] = []
    unreachable: list[Unreachable] = []
    for part in record.parts:
        roles = roles_for_upkeep(record, part, own_counts)
        if not roles:
            continue
        way = planner.way(part.id)
        if isinstance(way, NoWayFound):
            unreachable.append(Unreachable(part.id, way.reason))
            continue
        times = times_of_way(record, way.count, refit or RefitTimes())
        found.append((part, times))
        for number, role in enumerate(roles):
            parts[part.id if number == 0 else f"{part.id}:{role}"] = PartTimes(
                role=role,
                name=part.name,
                way_in_seconds=times.way_in,
                refit_seconds=times.refit,
                fixed_seconds=times.fixed,
            )
    return Repairs(tuple(found), parts, tuple(unreachable))


def roles_for_upkeep(
    record: Record, part: Part, own_counts: Mapping[str, int] | None = None
) -> tuple[str, ...]:
    """The roles under which a part takes part in the estimate; none for the body."""
    if part.id == record.device.body:
        return ()
    other = bool((own_counts or {}).get("other"))
    return tuple(role for role in dict.fromkeys((part.role, *part.also)) if role != "other" or other)


def _seconds(part: Part, times: WayTimes) -> PartSeconds:
    return PartSeconds(
        part=part.id,
        name=part.name,
        way_in_seconds=sum(times.way_in),
        refit_seconds=sum(times.refit),
        fixed_seconds=times.fixed,
    )


def times_of_way(record: Record, count: Count, refit: RefitTimes) -> WayTimes:
    """Every single time of a counted way and of its refit; heating and soaking are waits without spread.

    On refit the tools change and the device turns as often as on the way in.
    """
    joints = {joint.id: joint for joint in record.joints}
    way_in: list[float] = []
    back: list[float] = []
    waiting = pressing = 0.0
    for move in count.moves:
        changes = [move.change_seconds, move.flip_seconds]
        work = [step.seconds or 0.0 for step in move.operations if not waits(step)]
        waited = sum(step.seconds or 0.0 for step in move.operations if waits(step))
        put_back, pressed = refit_of(joints.get(move.move.open), move, refit)
        way_in += [*changes, *work]
        back += [*changes, *put_back]
        waiting += waited
        pressing += pressed
    return WayTimes(_above_zero(way_in), _above_zero(back), waiting, waiting + pressing)


def waits(step: Operation) -> bool:
    """Whether a clock rules the operation.

    >>> waits(Operation(do="soak")), waits(Operation(do="heat rim")), waits(Operation(do="pry"))
    (True, True, False)
    """
    return is_heating(step) or step.do.casefold().startswith(WAITING_WORDS)


def refit_of(joint: Joint | None, move: CountedMove, refit: RefitTimes) -> tuple[tuple[float, ...], float]:
    """Seconds of putting back what a move undid, one by one, and the wait that goes with it.

    >>> bond = Joint(id="b", kind="adhesive", holds=("a", "b"))
    >>> screws = Joint(id="s", kind="screw", holds=("a", "b"), count=2)
    >>> refit_of(screws, None, RefitTimes()), refit_of(bond, None, RefitTimes())
    (((7.0, 7.0), 0.0), ((60.0, 45.0), 60.0))
    """
    match joint.kind if joint else None:
        case "screw" if joint is not None:
            return (refit.screw_seconds,) * (joint.count or 1), 0.0
        case "connector":
            return (refit.connector_seconds,), 0.0
        case "clip":
            return (refit.clip_seconds,), 0.0
        case "adhesive":
            return (refit.clean_seconds, refit.adhesive_seconds), refit.press_seconds
        case "solder":
            return (refit.solder_seconds,), 0.0
    return tuple(step.seconds or 0.0 for step in move.operations if not waits(step)), 0.0


def _above_zero(times: list[float]) -> tuple[float, ...]:
    return tuple(time for time in times if time > 0)
