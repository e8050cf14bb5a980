"""`midframe weigh`: what a weighing before and after the job says, and what the scale cannot see."""

from __future__ import annotations

import click
import msgspec

from midframe.cli import shared

ABOVE = click.FloatRange(min=0, min_open=True)
NUMBER = click.FloatRange(min=0)


@click.command("weigh")
@shared.file_argument
@click.argument("first_g", type=float)
@click.argument("last_g", type=float)
@click.option("--step", type=ABOVE, default=0.1, show_default=True, help="Smallest step of the scale, grams.")
@click.option(
    "--spread", type=NUMBER, help="Standard deviation of repeated weighings, grams; by default one step."
)
@click.option(
    "--changed",
    type=float,
    default=0.0,
    show_default=True,
    help="Changed on purpose, grams: new less old, minus where it became lighter.",
)
@click.option(
    "--changed-uncertainty", type=NUMBER, default=0.0, show_default=True, help="Standard, grams, of that."
)
@shared.json_option
def command(  # noqa: PLR0913 - click hands every option over
    file: str,
    first_g: float,
    last_g: float,
    step: float,
    spread: float | None,
    changed: float,
    changed_uncertainty: float,
    as_json: bool,
) -> None:
    """Compare two weighings, and say what the scale cannot see.

    FIRST_G is the mass before opening, LAST_G at the end, both in grams and
    on the same scale. The screws of FILE are named that may be missing
    unseen; only counting back finds those.
    """
    from midframe.cli.sheets.pause import weigh_text
    from midframe.refit import Scale, weigh_check
    from midframe.screws.mass import masses

    record = shared.load(file)
    found = weigh_check(
        first_g,
        last_g,
        Scale(step, spread),
        changed_g=changed,
        changed_uncertainty_g=changed_uncertainty,
        screws_g=masses(record),
    )
    if as_json:
        data = msgspec.to_builtins(found)
        data["unseen"] = [{"kind": kind, "mass_g": mass} for kind, mass in found.unseen]
        shared.echo_json("weigh", record, data)
    else:
        shared.echo(weigh_text(found))
