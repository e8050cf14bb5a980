"""`midframe tables`: all figures of many records as tables, over all cores or a cluster, resumable."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from midframe.cli import shared
from midframe.cli.sheets.figures import count
from midframe.faults import BadSetting
from midframe.ways.way import USUAL_LIMIT

if TYPE_CHECKING:
    from midframe.fleet import Job


@click.command("tables")
@click.argument("files", nargs=-1, required=True, metavar="FILE…")
@click.option(
    "--into",
    required=True,
    type=click.Path(file_okay=False, path_type=Path),
    metavar="FOLDER",
    help="Where the tables go; a run that was broken off goes on there.",
)
@click.option("--parquet", is_flag=True, help="Parquet beside CSV (extra tables).")
@click.option(
    "--processes", type=click.IntRange(min=0), default=0, show_default=True, help="At once; 0: one a core."
)
@click.option("--cluster", metavar="ADDRESS", help="Dask scheduler, tcp://HOST:8786 (extra cluster).")
@click.option(
    "--limit",
    type=click.IntRange(min=1),
    default=USUAL_LIMIT,
    show_default=True,
    metavar="STATES",
    help="End each search after so many states; a way cut short is not proven.",
)
@click.option("--no-upkeep", is_flag=True, help="Leave the mean time to repair out, which is faster.")
@shared.json_option
def command(  # noqa: PLR0913 (one for each option)
    files: tuple[str, ...],
    into: Path,
    parquet: bool,
    processes: int,
    cluster: str | None,
    limit: int,
    no_upkeep: bool,
    as_json: bool,
) -> None:
    """Write all figures of many records as tables.

    FILE is a record, a folder with records (*.device.toml), or demo:NAME. A
    record that cannot be read stands with its faults in faults.csv; the
    others go on. Exit code 1 when there was such a record.
    """
    from midframe.dossier.figures import FigureSettings
    from midframe.fleet import Cluster, Local, join, run, write_csv, write_parquet

    jobs = [job for file in files for job in jobs_of(file)]
    if not jobs:
        raise BadSetting(
            f"{', '.join(files)}: found no *.device.toml; right: records or folders with records"
        )
    settings = FigureSettings(limit=limit, upkeep=not no_upkeep)
    engine = Cluster(cluster) if cluster else Local(min(processes, len(jobs)) or (1 if len(jobs) == 1 else 0))
    try:
        outcomes = run(jobs, into / "kept", settings=settings, engine=engine, told=shared.progress("Record"))
        tables = join(outcomes)
        written = [*write_csv(tables, into), *(write_parquet(tables, into) if parquet else ())]
    except OSError as error:
        found = shared.reason(error)
        raise BadSetting(f"{into}: found {found}; right: a folder that can be written") from None
    counts = {name: len(rows) for name, rows in tables.items()}
    if as_json:
        told = {"tables": counts, "files": [str(path) for path in written]}
        shared.echo_json("tables", None, told)
    else:
        shared.echo([*(f"{name:8} {count:6} rows" for name, count in counts.items()), *map(str, written)])
    if tables["faults"]:
        unused = count(len({row["file"] for row in tables["faults"]}), "file")
        click.echo(f"{unused} could not be used:", err=True)
        for row in tables["faults"]:
            click.echo(f"  {row['fault']}", err=True)
        raise SystemExit(1)


def jobs_of(file: str) -> list[Job]:
    """The record files that one argument stands for."""
    from midframe.fleet import Job

    folder = Path(file)
    paths = sorted(folder.rglob("*.device.toml")) if folder.is_dir() else None
    names = [file] if paths is None else [str(path) for path in paths]
    return [Job(name, shared.text_of(name)) for name in names]
