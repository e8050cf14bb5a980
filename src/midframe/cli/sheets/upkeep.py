"""Maintainability as a sheet: the mean first, then every part, then what it rests on."""

from __future__ import annotations

from midframe.cli.sheets.figures import duration, minutes, percent
from midframe.cli.sheets.table import Column, pairs, paragraph, sheet_width, table
from midframe.cli.sheets.ways import title_of
from midframe.dossier.upkeep import DeviceUpkeep
from midframe.record import Record
from midframe.sources import cited
from midframe.upkeep import PartRow

PARTS = (
    Column("part", wraps=True),
    Column("share", figures=True),
    Column("90 %", figures=True),
    Column("mean", figures=True),
    Column("median", figures=True),
    Column("95 %", figures=True),
    Column("repaired", figures=True),
)


def upkeep_sheet(record: Record, found: DeviceUpkeep) -> list[str]:
    """The estimate of one device."""
    width, all_in_all = sheet_width(), found.upkeep
    lines = paragraph(f"{title_of(record)}: time to repair", width)
    low, high = duration(all_in_all.mean_low_seconds), duration(all_in_all.mean_high_seconds)
    rows = [
        ("mean time to repair", f"{duration(all_in_all.mean_seconds)} ({low} to {high}, 90 % credible)"),
        ("median", duration(all_in_all.median_seconds)),
        ("95 of 100 within", duration(all_in_all.p95_seconds)),
        ("left out", f"{percent(all_in_all.left_out_share)} of all faults: {left_out(found)}"),
    ]
    lines += pairs(rows, width)
    lines += [
        "",
        *table(PARTS, [part_row(row, all_in_all.settings.credible_level) for row in all_in_all.parts], width),
    ]
    lines += paragraph(
        "share: of the repairs that exchange a part, with its 90 % interval. mean, median, 95 % (19 of 20"
        " take no longer): minutes. repaired: the same day at open repair events, such faults of all"
        " devices of this kind; *: fewer than ten records.",
        width,
    )
    rests = [
        ("rests on", line) if not number else ("", line)
        for number, line in enumerate(all_in_all.rests_on_defaults)
    ]
    no_way = [("no way in", f"{one.part}: {one.reason}") for one in found.unreachable]
    seed = f"{all_in_all.draws} draws, seed {all_in_all.seed}"
    lines += [
        "",
        *pairs(
            [("mix", all_in_all.mix_used), *rests, *no_way, ("simulation", seed), ("note", all_in_all.note)],
            width,
        ),
    ]
    lines += ["", "Sources"]
    return lines + [
        part for one in cited(all_in_all.sources) for part in paragraph(str(one), width, "  ", "    ")
    ]


def left_out(found: DeviceUpkeep) -> str:
    """The faults that no part of the device answers."""
    return ", ".join(one.fault.replace("_", " ") for one in found.upkeep.left_out)


def part_row(row: PartRow, _level: float) -> list[str]:
    """One part in one role."""
    time = row.time
    share = [percent(row.share), f"{percent(row.share_low)[:-2]}–{percent(row.share_high)[:-2]}"]
    if not row.fault_known:
        share = ["?", ""]
    chance = ""
    if row.chance is not None:
        chance = percent(row.chance.fixed.mean) + ("*" if row.chance.thin_data else "")
    name = row.name if ":" not in row.key else f"{row.name} ({row.role.replace('_', ' ')})"
    return [name, *share, *map(minutes, (time.mean_seconds, time.median_seconds, time.p95_seconds)), chance]
