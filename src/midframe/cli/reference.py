"""The page `docs/commands.md`, made from what `--help` prints."""

from __future__ import annotations

import click

from midframe.cli import COMMANDS, main

WIDTH = 100
"""Columns of the help texts in the page."""


def help_of(command: click.Command, name: str, parent: click.Context | None = None) -> str:
    """Give the help text of one command, wrapped at `WIDTH` whatever the terminal is."""
    settings = dict(command.context_settings) | {"terminal_width": WIDTH, "max_content_width": WIDTH}
    context = click.Context(command, info_name=name, parent=parent, **settings)
    return command.get_help(context).rstrip()


def section(title: str, text: str) -> str:
    """Give one section of the page."""
    return f"## {title}\n\n```text\n{text}\n```\n"


def sections_of(command: click.Command, name: str, parent: click.Context) -> list[str]:
    """Give the section of a command, and those of the commands inside it."""
    made = [section(f"{parent.command_path} {name}", help_of(command, name, parent))]
    if isinstance(command, click.Group):
        inside = click.Context(command, info_name=name, parent=parent)
        for inner, one in command.commands.items():
            made += sections_of(one, inner, inside)
    return made


def reference() -> str:
    """Give the whole page as Markdown."""
    top = click.Context(main, info_name="midframe", **main.context_settings)
    sections = [section("midframe", help_of(main, "midframe"))]
    for name in COMMANDS:
        command = main.get_command(top, name)
        if command is not None:
            sections += sections_of(command, name, top)
    head = "# Commands\n\nMade from `--help`; a test compares the two.\n"
    return "\n".join([head, *sections])
