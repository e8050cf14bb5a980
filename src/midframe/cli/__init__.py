"""The command `midframe`: one module a command, loaded only when that command runs.

A command parses its arguments, calls the library and renders what comes back.
Exit codes: 0 all well, 1 faults in the input, 2 the command was called wrongly.
"""

from __future__ import annotations

import importlib
import os
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

import click

from midframe import __version__
from midframe.faults import Fault

COMMANDS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "demo": ("midframe.cli.demo", "Work through an invented device: ways in, index, work instruction."),
        "new": ("midframe.cli.new", "Begin a record by a short interview."),
        "draft": ("midframe.cli.draft", "Draft a record from spoken notes, given as timed captions."),
        "check": ("midframe.cli.check", "Report every fault and note of a record at once."),
        "ways": (
            "midframe.cli.ways",
            "Find the best way in to a part, move by move, or to every part in a table.",
        ),
        "index": ("midframe.cli.index", "Compute the EU repairability index, every number with its clause."),
        "what-if": (
            "midframe.cli.what_if",
            "Rank every single design change by what it gains in index and minutes.",
        ),
        "upkeep": (
            "midframe.cli.upkeep",
            "Estimate mean time to repair over a mix of failures, with intervals.",
        ),
        "instruct": (
            "midframe.cli.instruct",
            "Write the work instruction to a part: a page to read on the bench or print.",
        ),
        "publish": (
            "midframe.cli.publish",
            "Publish a whole device: a folder of static pages, and one tagged PDF.",
        ),
        "screws": (
            "midframe.cli.screws",
            "Tally the screws, rank wrong-hole hazards, print the screw sheet.",
        ),
        "refit": ("midframe.cli.refit", "Tell the way back: plugs, bonds, torque, trial, waits, checks."),
        "pause": (
            "midframe.cli.pause",
            "Tell what lies where, what is on order, what to look at on return.",
        ),
        "weigh": ("midframe.cli.weigh", "Compare two weighings, and say what the scale cannot see."),
        "trials": (
            "midframe.cli.trials",
            "List the function checks that apply, and what is worse than before.",
        ),
        "seal": ("midframe.cli.seal", "Tell the leak rate of a decay test, beside published criteria."),
        "heat": (
            "midframe.cli.heat",
            "Plan how long and how hot to soften a bond without harm to cell and display.",
        ),
        "battery": (
            "midframe.cli.battery",
            "Check a battery: label, health from a log, handling, beside the model before.",
        ),
        "thermal": (
            "midframe.cli.thermal",
            "Tell resistance and drop of the thermal layers; rank substitute pads.",
        ),
        "compare": (
            "midframe.cli.compare",
            "Set records side by side: ways, index, screws, time to repair.",
        ),
        "tables": (
            "midframe.cli.tables",
            "Write all figures of many records as tables.",
        ),
        "serve": (
            "midframe.cli.serve",
            "Open the bench in the browser: shelf, bench log, photos, ways, index.",
        ),
        "backup": ("midframe.cli.backup", "Copy the whole store into a folder, verified by hash."),
        "restore": ("midframe.cli.restore", "Put a backup into the store, verified by hash."),
        "schema": ("midframe.cli.schema", "Print the JSON Schema of a record."),
    }
)
"""Command name → its module, and the line that `midframe --help` shows for it."""


class LazyGroup(click.Group):
    """A group that imports the module of a command when that command is asked for, and no sooner."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (the signature is click's)
        """Name the commands in the order of the table, which is the order of work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import one command."""
        if cmd_name not in COMMANDS:
            return None
        command = importlib.import_module(COMMANDS[cmd_name][0]).command
        if not isinstance(command, click.Command):
            raise TypeError(f"{COMMANDS[cmd_name][0]}.command is no click command")
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the commands from the table alone, so that help imports none of them."""
        if COMMANDS:
            with formatter.section("Commands"):
                formatter.write_dl([(name, line) for name, (_, line) in COMMANDS.items()])

    def invoke(self, ctx: click.Context) -> Any:
        """Run; a fault in the input ends with its message and exit code 1, never with a traceback."""
        try:
            return super().invoke(ctx)
        except Fault as fault:
            message = str(fault)
        except OSError as error:
            if error.filename is None:  # a closed pipe, which click ends quietly
                raise
            message = f"{error.filename}: {error.strerror}"
        click.echo(message, err=True)
        return ctx.exit(1)


@click.group(
    cls=LazyGroup, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__, prog_name="midframe", message="%(prog)s %(version)s")
@click.pass_context
def main(ctx: click.Context) -> None:
    """Compute from one record how a phone or tablet comes apart.

    A record (NAME.device.toml) holds the parts, the joints and how they are
    reached. Wherever a command takes FILE, demo:NAME stands for a demo device
    (demo:tern-3) and - for the standard input. Exit codes: 0 all well, 1
    faults in the input, 2 wrong call.
    """
    if os.environ.get("NO_COLOR"):
        ctx.color = False
