"""Time of the ways in: generated phone-like records and the demo devices, beside a constraint solver.

    PYTHONPATH=src:tests .venv/bin/python -P benchmarks/ways.py --sizes 20 40 --records 5 --limit 10

Everything is measured side by side in one run; compare ratios, not seconds.
The constraint solver (CP-SAT, one model per target, one worker) gets a sample
of the targets and a time limit each; what it did not prove in time counts with
its limit, so that the ratio is then a lower bound. Its records hold no rigid
joints between parts other than the body, which its model does not cover.
"""

from __future__ import annotations

import argparse
import platform
import statistics
import time

from msgspec.structs import replace

from midframe.demo import load, names
from midframe.record.structure import seats
from midframe.ways.objective import SECONDS, STEPS, STEPS_THEN_SECONDS
from midframe.ways.solve import Planner, solve
from midframe.ways.way import NoWayFound
from ways import milp
from ways.generators import phone_like

OBJECTIVES = {"steps": STEPS, "seconds": SECONDS, "steps, seconds": STEPS_THEN_SECONDS}


def timed(call, *given, **more):
    """Seconds a call took, and what it returned."""
    start = time.perf_counter()
    result = call(*given, **more)
    return time.perf_counter() - start, result


def all_ways(record, objective, limit):
    """All ways of one record, compiled anew."""
    return Planner(record, objective, limit=limit).ways()


def search_row(label, records, name, limit):
    """One line: all targets of each record, total seconds per record."""
    totals, unproven, targets = [], 0, 0
    for record in records:
        seconds, ways = timed(all_ways, record, OBJECTIVES[name], limit)
        totals.append(seconds)
        targets += len(ways)
        unproven += sum(isinstance(way, NoWayFound) or not way.proven for way in ways.values())
    middle, worst = statistics.median(totals), max(totals)
    print(f"{label:>14}  {name:<15}{middle:10.3f}{worst:10.3f}{targets:9}{unproven:9}", flush=True)


def sampled(record, number):
    """So many targets, spread over the order of the record."""
    targets = [part.id for part in record.parts if part.id != record.device.body]
    return targets[:: max(1, len(targets) // number)][:number]


def beside_solver(size, records, name, number, limit):
    """One line: the same targets one by one, search and constraint solver."""
    ours, theirs, late, differ = [], [], 0, 0
    for record in records:
        for target in sampled(record, number):
            seconds, way = timed(solve, record, target, OBJECTIVES[name])
            ours.append(seconds)
            seconds, (status, value) = timed(milp.cheapest, record, target, name, seconds=limit)
            theirs.append(seconds)
            late += status != "optimal"
            differ += status == "optimal" and (value,) != way.value
    ratios = [b / a for a, b in zip(ours, theirs, strict=True)]
    whole = sum(theirs) / sum(ours)
    print(
        f"{size:>6}  {name:<10}{len(ours):8}{sum(ours):10.3f}{sum(theirs):10.2f}{whole:9.1f}"
        f"{statistics.median(ratios):9.1f}{min(ratios):9.1f}{max(ratios):9.1f}{late:7}{differ:8}",
        flush=True,
    )


def part_one(given):
    """The search alone."""
    print("All parts of a record, total seconds per record (search only)")
    print(f"{'record':>14}  {'objective':<15}{'median':>10}{'worst':>10}{'targets':>9}{'unproven':>9}")
    for size in given.sizes:
        for linked in (False, True):
            records = [phone_like(seed, size, linked=linked) for seed in range(given.records)]
            for name in OBJECTIVES:
                search_row(f"{size} {'linked' if linked else 'plain'}", records, name, given.states)
    for device in names():
        for name in OBJECTIVES:
            search_row(device, [load(device)], name, given.states)


def part_two(given):
    """Beside the constraint solver."""
    print(f"\nSearch beside CP-SAT, {given.targets} targets of each record, at most {given.limit} s a target")
    print(
        f"{'joints':>6}  {'objective':<10}{'targets':>8}{'search s':>10}{'solver s':>10}{'ratio':>9}"
        f"{'median':>9}{'least':>9}{'most':>9}{'late':>7}{'differ':>8}"
    )
    for size in given.solver_sizes:
        records = [phone_like(seed, size) for seed in range(given.solver_records)]
        for name in ("steps", "seconds"):
            beside_solver(size, records, name, given.targets, given.limit)
    left = [size for size in given.sizes if size not in given.solver_sizes]
    print(f"Left out of the comparison: steps then seconds, linked records, sizes {left or 'none'}.")


def part_three():
    """What-if over a whole demo phone: every joint gone once, all targets each time."""
    print("\nWhat-if: every joint gone once, all targets, steps; seats as said before")
    for device in names():
        record = load(device)
        seat_of = seats(record)
        parts = tuple(replace(part, seat=seat_of[part.id]) for part in record.parts)
        edits = [
            replace(record, parts=parts, joints=tuple(other for other in record.joints if other is not joint))
            for joint in record.joints
        ]
        seconds = sum(timed(all_ways, edit, STEPS, None)[0] for edit in edits)
        print(
            f"{device:>14}  {len(edits)} edits, {seconds:.2f} s without any reuse between edits", flush=True
        )


def main():
    """Parse and run."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--sizes", type=int, nargs="*", default=[20, 40, 80, 160, 320])
    parser.add_argument("--records", type=int, default=5, help="records a size")
    parser.add_argument("--states", type=int, default=None, help="limit on the states of the search a target")
    parser.add_argument("--solver-sizes", type=int, nargs="*", default=[20, 40, 80])
    parser.add_argument("--solver-records", type=int, default=2)
    parser.add_argument("--targets", type=int, default=5, help="targets a record for the solver")
    parser.add_argument("--limit", type=float, default=20.0, help="seconds a target for the solver")
    parser.add_argument("--no-what-if", action="store_true")
    given = parser.parse_args()
    print(f"Python {platform.python_version()}, {platform.machine()}")
    part_one(given)
    part_two(given)
    if not given.no_what_if:
        part_three()


if __name__ == "__main__":
    main()
