"""`midframe schema`: the JSON Schema of a record."""

from __future__ import annotations

import json

import click

from midframe.cli import shared
from midframe.record import schema


@click.command("schema")
@click.option("--json", "as_json", is_flag=True, help="The same; the schema is JSON anyway.")
def command(as_json: bool) -> None:  # noqa: ARG001 (every command takes --json)
    """Print the JSON Schema of a record.

    Draft 2020-12, for editors that complete and check TOML as it is typed.
    """
    shared.echo([json.dumps(schema(), indent=2, ensure_ascii=False)])
