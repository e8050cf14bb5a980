"""`midframe ways`: the best way in to every part, or one way move by move."""

from __future__ import annotations

from typing import Any

import click

from midframe.cli import shared
from midframe.cli.options import (
    by_option,
    objective_of,
    power_option,
    reading_options,
    readings_of,
    search_options,
)
from midframe.ways.solve import Planner


@click.command("ways")
@shared.file_argument
@click.argument("part", metavar="[PART]", required=False)
@by_option
@click.option(
    "--toolbox",
    metavar="FILE",
    help="What is at hand (TOML: tools, consumables): says first what is missing, and the best way without.",
)
@power_option
@click.option(
    "--alternatives",
    "most",
    type=click.IntRange(0, 9),
    default=3,
    show_default=True,
    help="How many other ways to PART are looked for.",
)
@click.option("--assumed", is_flag=True, help="Best and worst case of every part, and what to look at next.")
@search_options
@reading_options
@shared.json_option
def command(file: str, part: str | None, as_json: bool, **options: Any) -> None:
    """Find the best way in to a part, move by move, or to every part in a table.

    FILE is a path, demo:NAME or -; PART an id or a name. A way that is proven
    is the cheapest there is under the rules, not the best of some tried.
    """
    record = shared.load(file)
    planner = Planner(record, objective_of(options["by"]), readings_of(options), limit=options.pop("limit"))
    toolbox = shared.toolbox_in(options["toolbox"])
    if part is None:
        all_ways(planner, options, toolbox, as_json)
    else:
        one_way(planner, shared.part_named(record, part), options, toolbox, as_json)


def all_ways(planner: Planner, options: dict[str, Any], toolbox: Any, as_json: bool) -> None:
    """The table of all parts."""
    from midframe.cli.plain.ways import assumed_data, toolbox_lacks, way_data
    from midframe.cli.sheets.ways import assumed_sheet, lacking_part, ways_sheet
    from midframe.ways.assumed import assumed_range, next_question

    record, by = planner.record, options["by"]
    targets = [part.id for part in record.parts if part.id != record.device.body]
    answers = {target: planner.way(target) for target in shared.watched(targets, "way")}
    settings = (planner.objective, planner.readings, planner.bench)
    cases = assumed_range(record, *settings, limit=planner.limit) if options["assumed"] else None
    question = next_question(record, *settings, limit=planner.limit) if options["assumed"] else None
    if as_json:
        rows = [way_data(record, target, answer) for target, answer in answers.items()]
        content: dict[str, Any] = {"by": by, "readings": list(planner.readings.described()), "ways": rows}
        if toolbox is not None:
            content["toolbox"] = toolbox_lacks(answers, toolbox)
        if cases is not None:
            content["assumed"] = assumed_data(cases, question)
        shared.echo_json("ways", record, content)
        return
    lines = lacking_part(record, answers, toolbox, options["toolbox"]) if toolbox is not None else []
    lines += ways_sheet(record, answers, by)
    lines += assumed_sheet(record, cases, question) if cases is not None else []
    shared.echo(lines)


def one_way(planner: Planner, target: str, options: dict[str, Any], toolbox: Any, as_json: bool) -> None:
    """One way with all that stands beside it."""
    from midframe.cli.plain.way import detail_data
    from midframe.cli.sheets.detail import detail_sheet
    from midframe.dossier.beside import beside

    found = beside(
        planner,
        target,
        toolbox,
        power=options["power"],
        most=options["most"],
        question=options["assumed"],
    )
    if as_json:
        shared.echo_json("ways", planner.record, {"by": options["by"], **detail_data(planner, found)})
    else:
        shared.echo(detail_sheet(planner, found, options))
