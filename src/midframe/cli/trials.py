"""`midframe trials`: the function checks that apply to a record, and what is worse than before the job."""

from __future__ import annotations

from pathlib import Path

import click

from midframe.cli import shared
from midframe.cli.options import force_option


@click.command("trials")
@shared.file_argument
@click.option(
    "--answers",
    "said",
    metavar="TOML",
    help="Answers from this file in place of those in the record: tables [before] and [after].",
)
@click.option(
    "--when",
    type=click.Choice(["before", "after"]),
    help="Only the checks of that side, as a list to go through.",
)
@click.option("--write", "out", metavar="OUT", help="Write FILE with the answers kept in it to OUT (TOML).")
@force_option
@shared.json_option
def command(
    file: str, said: str | None, when: str | None, out: str | None, force: bool, as_json: bool
) -> None:
    """List the function checks that apply, and what is worse than before.

    A check applies where its parts are in the record. The answers are those
    that the record keeps, or those of a file: `touch = "works"` under
    [before], `touch = "does not work"` under [after]. An answer is works,
    worse, does not work or not tried.
    """
    from midframe.cli.plain.trials import trials_data
    from midframe.cli.sheets.trials import difference_sheet, list_sheet
    from midframe.record import write
    from midframe.record.reader import parsed
    from midframe.trials import answers, difference, of_plain, trials, with_answers

    record = shared.load(file)
    if said is None:
        before, after = answers(record)
    else:
        text = shared.text_of(said, "the answers to function checks (TOML)")
        before, after = of_plain(parsed(text, said), said)
    found = difference(record, before, after)
    listed = trials(record, when)
    if out is not None:
        shared.write_new(Path(out), write(with_answers(record, before, after)), overwrite=force)
    if as_json:
        shared.echo_json("trials", record, trials_data(listed, found))
    elif when or not (before or after):
        shared.echo(list_sheet(record, listed, {"before": before, "after": after}.get(when or "", {})))
    else:
        shared.echo(difference_sheet(record, found))
