"""`midframe seal`: what a pressure or vacuum decay test says."""

from __future__ import annotations

import click
import msgspec

from midframe.cli import shared


@click.command("seal")
@click.argument("readings", metavar="CSV")
@click.option("--volume-ml", type=float, required=True, help="Free volume that holds the pressure, mL.")
@click.option(
    "--unit", default="Pa", show_default=True, help="Unit of the pressures: Pa, hPa, mbar, kPa, bar."
)
@click.option("--gauge", is_flag=True, help="The pressures are relative to the ambient one.")
@click.option("--ambient-pa", type=float, default=101_325.0, show_default=True, help="Ambient pressure, Pa.")
@shared.json_option
def command(
    readings: str, volume_ml: float, unit: str, gauge: bool, ambient_pa: float, as_json: bool
) -> None:
    """Tell the leak rate of a decay test, beside published criteria.

    CSV holds the columns seconds, pressure and, if measured, celsius. The
    result indicates tightness; it restores no rating.
    """
    from midframe.cli.sheets.refit import seal_sheet
    from midframe.seal import readings_from_csv, seal_check

    text = shared.text_of(readings, "the readings of a decay test (CSV)")
    found = readings_from_csv(text, readings, unit=unit, gauge_at_pa=ambient_pa if gauge else None)
    result = seal_check(found, volume_ml * 1e-6, ambient_pa=ambient_pa)
    if as_json:
        shared.echo_json("seal", None, msgspec.to_builtins(result))
    else:
        shared.echo(seal_sheet(result))
