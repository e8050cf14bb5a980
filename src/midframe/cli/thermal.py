"""`midframe thermal`: resistance and drop of thermal layers, substitute pads, the predecessor, a bar test."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from midframe.cli import shared
from midframe.faults import BadSetting

if TYPE_CHECKING:
    from midframe.thermal import Pad, Stack, Substitutes


@click.command("thermal")
@click.argument("file", metavar="FILE", required=False)
@click.option("--power", type=float, metavar="W", help="Power through each layer, W; 2 by default.")
@click.option("--from", "start", default="", metavar="PART", help="The warm part; by default the main board.")
@click.option("--replace", metavar="LAYER", help="Rank substitute pads for this layer.")
@click.option(
    "--pad", "own", multiple=True, metavar="MM,K", help="A pad by thickness and W/(m·K), 0.8,6; repeatable."
)
@click.option("--pads", metavar="LIST", help="Pads at hand (TOML or CSV) instead of the common ones.")
@click.option(
    "--gap", type=float, metavar="MM", help="The gap as measured; by default the layer's thickness."
)
@click.option(
    "--limit", type=float, default=1.0, show_default=True, metavar="K", help="How much warmer is allowed, K."
)
@click.option("--all", "everything", is_flag=True, help="List every pad, those that do not fit too.")
@click.option("--with", "other", metavar="OTHER", help="Set the layers beside those of another record.")
@click.option("--tested", metavar="CSV", help="A bar test: thickness and impedance of samples.")
@shared.json_option
def command(file: str | None, as_json: bool, **options: Any) -> None:
    """Tell resistance and drop of the thermal layers; rank substitute pads.

    With --replace, pads are told that do not touch, press on the board, or
    get too warm. --tested gives the conductivity of a pad from impedances at
    several thicknesses (ASTM D5470), and needs no FILE.
    """
    from midframe.cli.plain.thermal import thermal_data
    from midframe.cli.sheets.thermal import fit_lines, thermal_sheet
    from midframe.thermal import compare_layers, conductivity, heat_paths, samples_from_csv, thermal_stack

    fit = None
    if options["tested"]:
        text = shared.text_of(options["tested"], "a bar test (CSV)")
        fit = conductivity(*samples_from_csv(text, options["tested"]))
    if file is None:
        if fit is None:
            raise click.UsageError("Missing argument 'FILE' (or --tested CSV).")
        if as_json:
            shared.echo_json("thermal", None, thermal_data(fit=fit))
        else:
            shared.echo(fit_lines(fit))
        return
    record = shared.load(file)
    stack = thermal_stack(record, options["power"])
    start = shared.part_named(record, options["start"]) if options["start"] else ""
    paths = heat_paths(record, stack, start)
    found = replaced(stack, options)
    beside = (
        compare_layers(record, shared.load(options["other"]), options["power"]) if options["other"] else None
    )
    if as_json:
        shared.echo_json("thermal", record, thermal_data(stack, paths, found, beside, fit=fit))
        return
    lines = thermal_sheet(record, stack, paths, found, beside, everything=options["everything"])
    shared.echo([*lines, *(["", *fit_lines(fit)] if fit else [])])


def replaced(stack: Stack, options: dict[str, Any]) -> Substitutes | None:
    """Substitutes for the layer that is named, if one is."""
    from midframe.thermal import common_pads, pads_from, substitutes

    if not options["replace"]:
        if options["pads"] or options["own"] or options["gap"] is not None:
            raise BadSetting(
                "--pad, --pads, --gap: found no --replace; right: name the layer that they are for"
            )
        return None
    pads = [pad_in(text) for text in options["own"]]
    if options["pads"]:
        pads += pads_from(shared.text_of(options["pads"], "a list of pads (TOML or CSV)"), options["pads"])
    return substitutes(
        stack,
        options["replace"],
        pads or common_pads(),
        limit_k=options["limit"],
        gap_mm=options["gap"],
    )


def pad_in(text: str) -> Pad:
    """A pad as `0.8,6`: thickness in mm, conductivity in W/(m·K)."""
    from midframe.thermal import Pad
    from midframe.thermal.units import number_of

    thickness, separator, conductivity = text.partition(",")
    if not separator or "," in conductivity:
        right = "thickness in mm and conductivity in W/(m·K), such as 0.8,6"
        raise BadSetting(f"--pad: found '{text[:40]}'; right: {right}")
    return Pad(thickness_mm=number_of(thickness, "--pad"), conductivity_w_mk=number_of(conductivity, "--pad"))
