"""`midframe heat`: how long and how hot to soften a bond, with what margin, and what comes after."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import click

from midframe.cli import shared
from midframe.cli.options import force_option
from midframe.faults import BadSetting

KINDS = ("sound", "swollen", "damaged")


@click.command("heat")
@shared.file_argument
@click.argument("joint", metavar="JOINT")
@click.option(
    "--cell",
    type=click.Choice(KINDS),
    help="The cell as you have seen it; a swollen or damaged one gets no heat.",
)
@click.option(
    "--with",
    "sources",
    multiple=True,
    metavar="SOURCE",
    help="Only this source of heat, or own for those of --measured; repeatable.",
)
@click.option(
    "--limit",
    "limits",
    multiple=True,
    metavar="WHAT=C",
    help="Own limit: cell, display, over, cover or held.",
)
@click.option("--soft", "soft_c", type=float, metavar="C", help="Own softening temperature at the bond line.")
@click.option(
    "--draws",
    type=click.IntRange(0, 1_000_000),
    default=2000,
    show_default=True,
    help="Draws of what is not known; 0 for none.",
)
@click.option("--seed", type=click.IntRange(min=0), default=1, show_default=True, help="Seed of the draws.")
@click.option(
    "--reading",
    "readings",
    multiple=True,
    metavar="S=C",
    help="What the thermometer showed (°C) after S seconds, with one --with; repeatable.",
)
@click.option("--taped", is_flag=True, help="The readings are from matt tape or paint, not the bare surface.")
@click.option("--measured", metavar="FILE", help="Own sources as --keep wrote them (TOML).")
@click.option("--keep", metavar="OUT", help="Write the source fitted to the readings to OUT (TOML).")
@click.option("--chart", metavar="OUT", help="Write temperatures against time to OUT (SVG).")
@click.option("--picture", metavar="OUT", help="Write the section coloured by temperature to OUT (SVG).")
@force_option
@shared.json_option
def command(file: str, joint: str, as_json: bool, **options: Any) -> None:
    """Plan how long and how hot to soften a bond without harm to cell and display.

    JOINT is the id or name of an adhesive joint. The plan names the gentlest
    source that works, its window and its chance, or says that none does. With
    readings it fits the source and tells the next step. Local codes and
    licensed practice come first; never heat a swollen or damaged cell.
    """
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # on small matrices its threads wait for one another
    from midframe.cli.plain.heat import heat_data
    from midframe.cli.sheets.heat import heat_sheet
    from midframe.heat import heat_model, make_plan

    record = shared.load(file)
    model = heat_model(record, joint)
    asked = settings_in(record, options)
    plan = make_plan(model, asked)
    found = studied(model, plan, asked, options)
    written = files_of(model, plan, found, options)
    if as_json:
        shared.echo_json("heat", record, {"files": written, **heat_data(plan, found)})
    else:
        shared.echo(heat_sheet(record, plan, found))
        if written:
            shared.echo([f"Written: {', '.join(written)}"])


def settings_in(record: Any, options: dict[str, Any]) -> Any:
    """The settings of the plan that the options say."""
    from midframe.heat import PlanSettings, calibrations_from, cell_state

    own: tuple[Any, ...] = ()
    if options["measured"] is not None:
        kept = calibrations_from(
            shared.text_of(options["measured"], "measured sources (TOML, as --keep writes it)"),
            options["measured"],
        )
        own = tuple(one.setting() for one in kept)
    return PlanSettings(
        cell=cell_state(record, options["cell"] or "not said"),
        limits_c=dict(pair("--limit", text, "cell=55") for text in options["limits"]),
        soft_c=options["soft_c"],
        sources=tuple(options["sources"]),
        own=own,
    )


def pair(option: str, text: str, example: str) -> tuple[str, float]:
    """A word and a figure out of WORD=FIGURE; raises `BadSetting`."""
    word, _, figure = text.partition("=")
    try:
        return word.strip(), float(figure)
    except ValueError:
        raise BadSetting(f"{option}: found '{text}'; right: for example {example}") from None


def studied(model: Any, plan: Any, asked: Any, options: dict[str, Any]) -> dict[str, Any]:
    """What goes beyond the plan: confidence, cooling, next step; empty where there is nothing to follow."""
    from midframe.heat import Reading, confidence, cooling, goal_of, watch

    found: dict[str, Any] = {"confidence": None, "cooling": None, "next": None}
    if plan.refused:
        return found
    goal = goal_of(model, asked)
    if plan.best is not None:
        if options["draws"]:
            draws, seed = max(100, options["draws"]), options["seed"]
            found["confidence"] = confidence(model, plan.best, goal, draws=draws, seed=seed)
        found["cooling"] = cooling(model, plan.best, goal)
    if options["readings"]:
        pairs = [pair("--reading", text, "60=54.5") for text in options["readings"]]
        readings = [Reading(seconds_of(word), figure) for word, figure in pairs]
        followed = plan.best or max(plan.attempts, key=lambda one: one.window.reached_c)
        found["next"] = watch(model, followed, goal, readings, taped=options["taped"])
    return found


def seconds_of(word: str) -> float:
    """Seconds of a reading; raises `BadSetting`."""
    try:
        return float(word)
    except ValueError:
        raise BadSetting(f"--reading: found '{word}' as seconds; right: for example 60=54.5") from None


def files_of(model: Any, plan: Any, found: dict[str, Any], options: dict[str, Any]) -> list[str]:
    """Write what was asked for and give the names of the files."""
    texts: list[tuple[str, str]] = []
    if options["keep"] is not None:
        texts.append((options["keep"], kept_text(found)))
    if options["chart"] is not None or options["picture"] is not None:
        texts += drawings(model, plan, found, options)
    for name, text in texts:
        shared.write_new(Path(name), text, overwrite=options["force"])
    return [name for name, _ in texts]


def kept_text(found: dict[str, Any]) -> str:
    """The fitted source as TOML; raises `BadSetting` where there is none."""
    from midframe.heat import calibrations_text

    if found["next"] is None or found["next"].fitted is None:
        raise BadSetting("--keep: found no fitted source; right: at least two --reading S=C with it")
    return calibrations_text([found["next"].fitted])


def drawings(model: Any, plan: Any, found: dict[str, Any], options: dict[str, Any]) -> list[tuple[str, str]]:
    """The pictures that were asked for."""
    from midframe.publish.heat_charts import chart_of
    from midframe.publish.heat_section import section_of
    from midframe.publish.svg import standalone

    if plan.refused:
        raise BadSetting(f"--chart, --picture: {plan.refused}")
    shown = plan.best or max(plan.attempts, key=lambda one: one.window.reached_c)
    texts = []
    if options["chart"] is not None:
        texts.append((options["chart"], standalone(chart_of(plan, shown, found["cooling"]))))
    if options["picture"] is not None:
        texts.append((options["picture"], standalone(section_of(model, plan, shown))))
    return texts
