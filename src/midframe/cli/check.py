"""`midframe check`: every fault and note of records, dead locks included."""

from __future__ import annotations

import click
import msgspec

from midframe.cli import shared
from midframe.cli.sheets.findings import findings_sheet
from midframe.faults import RecordFault
from midframe.record import Finding, check, faults, read


def findings_of(file: str) -> tuple[Finding, ...]:
    """Every fault and note about the record behind FILE; one that cannot be read gives its faults alone."""
    from midframe.ways.reach import reach

    try:
        record = read(shared.text_of(file), file)
    except RecordFault as fault:
        return fault.findings
    locked = tuple(msgspec.structs.replace(finding, file=file) for finding in reach(record))
    found = (*check(record, file), *locked)
    return tuple(sorted(dict.fromkeys(found), key=lambda finding: finding.level))


@click.command("check")
@click.argument("files", metavar="FILE...", nargs=-1, required=True)
@shared.json_option
@click.pass_context
def command(ctx: click.Context, files: tuple[str, ...], as_json: bool) -> None:
    """Report every fault and note of a record at once.

    A fault stands in the way of a result, a note is worth a look. Dead locks,
    parts that no order of moves gets out, are among them. FILE is a path,
    demo:NAME for a demo device, or - for the standard input. Exit code 1 if
    there is a fault.
    """
    found = {file: findings_of(file) for file in files}
    if as_json:
        rows = [
            {"file": file, "findings": [msgspec.to_builtins(one) for one in each]}
            for file, each in found.items()
        ]
        shared.echo_json(
            "check", None, {"files": rows, "faults": sum(len(faults(each)) for each in found.values())}
        )
    else:
        shared.echo(findings_sheet(found))
    if any(faults(each) for each in found.values()):
        ctx.exit(1)
