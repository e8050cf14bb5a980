"""`midframe seal`: what a pressure or vacuum decay test says."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from midframe.cli import shared
from midframe.cli.options import force_option
from midframe.faults import BadSetting

if TYPE_CHECKING:
    from collections.abc import Sequence

    from midframe.seal import Reading, Setup, Units

NUMBER = click.FloatRange(min=0)


@click.command("seal")
@click.argument("readings", metavar="[CSV]", required=False)
@click.option(
    "--reading",
    "typed",
    multiple=True,
    metavar="TIME:PRESSURE[:TEMPERATURE]",
    help="One reading, such as 60:10.4:21.5; once for each, in place of CSV.",
)
@click.option("--volume-ml", type=float, required=True, help="Free volume that holds the pressure, mL.")
@click.option(
    "--unit",
    default="Pa",
    show_default=True,
    help="Unit of the pressures: Pa, hPa, mbar, kPa, bar, mmHg, psi.",
)
@click.option("--time-unit", default="s", show_default=True, help="Unit of the times: s, min, h.")
@click.option("--temperature-unit", default="°C", show_default=True, help="Unit: °C (or C), K, °F (or F).")
@click.option("--gauge", is_flag=True, help="The pressures are relative to the ambient one.")
@click.option("--ambient-pa", type=float, default=101_325.0, show_default=True, help="Ambient pressure, Pa.")
@click.option(
    "--volume-uncertainty", type=NUMBER, default=5.0, show_default=True, help="Standard, % of the volume."
)
@click.option(
    "--pressure-uncertainty", type=NUMBER, default=5.0, show_default=True, help="Standard, Pa of a reading."
)
@click.option(
    "--temperature-uncertainty",
    type=NUMBER,
    default=0.05,
    show_default=True,
    help="Standard, K of its change.",
)
@click.option(
    "--gas",
    type=click.Choice(["air", "nitrogen", "argon", "helium", "hydrogen"]),
    default="air",
    show_default=True,
    help="What the test is made with; the criteria are told for air.",
)
@click.option("--chart", metavar="SVG", help="Write the chart of the decay to this file.")
@click.option("--record", "file", metavar="FILE", help="The record that the test belongs to.")
@click.option("--note", default="", metavar="TEXT", help="A note kept with the test.")
@click.option("--write", metavar="OUT", help="Write the --record with the test kept in it to OUT (TOML).")
@force_option
@shared.json_option
def command(readings: str | None, as_json: bool, **options: Any) -> None:
    """Tell the leak rate of a decay test, beside published criteria.

    CSV holds the columns seconds, pressure and, if measured, celsius; a head
    may name the unit, such as "pressure (kPa)". Readings may be typed instead,
    each with --reading. The result indicates tightness; it restores no rating.
    """
    from midframe.cli.plain.seal import seal_data
    from midframe.cli.sheets.seal import seal_sheet
    from midframe.seal import tested

    setup = setup_of(options)
    found = read(readings, options["typed"], setup.units)
    result = tested(found, setup)
    if options["chart"]:
        from midframe.publish.seal_chart import seal_chart
        from midframe.publish.svg import standalone

        drawn = standalone(seal_chart(found, result, ambient_pa=setup.ambient_pa))
        shared.write_new(Path(options["chart"]), drawn, overwrite=options["force"])
    if options["write"]:
        text = with_test(found, setup, options["file"], options["note"])
        shared.write_new(Path(options["write"]), text, overwrite=options["force"])
    if as_json:
        shared.echo_json("seal", None, seal_data(result, found, options["chart"]))
    else:
        shared.echo(seal_sheet(result, setup.instrument))


def setup_of(options: dict[str, Any]) -> Setup:
    """What the options say that the test was made with."""
    from midframe.seal import Instrument, Setup, Units

    mark, ambient = options["temperature_unit"], options["ambient_pa"]
    units = Units(
        options["time_unit"],
        options["unit"],
        f"°{mark}" if mark in ("C", "F") else mark,
        ambient if options["gauge"] else None,
    )
    tool = Instrument(
        options["volume_uncertainty"] / 100,
        options["pressure_uncertainty"],
        options["temperature_uncertainty"],
    )
    return Setup(
        volume_ml=options["volume_ml"],
        gas=options["gas"],
        ambient_pa=ambient,
        instrument=tool,
        units=units,
    )


def with_test(readings: Sequence[Reading], setup: Setup, file: str | None, note: str) -> str:
    """The record with the test kept in it, as text; raises `BadSetting` where no record is named."""
    from midframe.record import write
    from midframe.seal import kept_in

    if file is None:
        raise BadSetting("--write: found no record to keep the test in; right: --record FILE with it")
    at = datetime.now(UTC).isoformat(timespec="seconds")
    return write(kept_in(shared.load(file), readings, setup, at=at, note=note))


def read(file: str | None, typed: tuple[str, ...], units: Units) -> tuple[Reading, ...]:
    """The readings of a file, or those that were typed; raises `BadSetting` with every fault."""
    from midframe.seal import Row, readings_from_csv, readings_of

    if (file is None) == (not typed):
        found = "both a file and" if file else "neither a file nor"
        raise BadSetting(f"readings: found {found} --reading; right: one of them")
    if file is not None:
        return readings_from_csv(
            shared.text_of(file, "the readings of a decay test (CSV)"), file, units=units
        )
    rows = []
    for number, text in enumerate(typed, start=1):
        parts = text.split(":")
        if not 2 <= len(parts) <= 3:
            right = "TIME:PRESSURE or TIME:PRESSURE:TEMPERATURE, such as 60:10.4:21.5"
            raise BadSetting(f"--reading {number}: found '{text}'; right: {right}")
        rows.append(Row(f"--reading {number}", *parts))
    found_readings, wrong = readings_of(rows, units)
    if wrong:
        raise BadSetting("\n".join(map(str, wrong)))
    return found_readings
