from __future__ import annotations

import importlib

import click
import pytest
from click.testing import CliRunner

from house.tree import PACKAGE
from midframe import __version__
from midframe.cli import COMMANDS, LazyGroup, main
from midframe.faults import BadSetting

NO_COMMANDS = {"__init__", "data", "options", "reference", "shared"}


def run(*arguments, **settings):
    return CliRunner().invoke(main, list(arguments), **settings)


def test_the_version_is_printed():
    assert run("--version").output == f"midframe {__version__}\n"


def test_help_names_every_command():
    output = run("--help").output
    assert [name for name in COMMANDS if name not in output] == []


def test_an_unknown_command_is_a_wrong_call():
    result = run("no-such-command")
    assert result.exit_code == 2
    assert "no-such-command" in result.output


def test_every_module_of_a_command_is_in_the_table_and_none_is_missing():
    files = {path.stem for path in (PACKAGE / "cli").glob("*.py")} - NO_COMMANDS
    assert {module.rpartition(".")[2] for module, _ in COMMANDS.values()} == files


@pytest.mark.parametrize("name", COMMANDS)
def test_the_line_in_the_table_is_the_first_line_of_the_command_help(name):
    module, line = COMMANDS[name]
    command = importlib.import_module(module).command
    assert command.name == name
    assert command.get_short_help_str(limit=200) == line


@pytest.mark.parametrize("name", COMMANDS)
def test_every_option_of_a_command_has_a_help_text(name):
    options = [p for p in main.get_command(None, name).params if isinstance(p, click.Option)]
    assert [option.name for option in options if not option.help] == []


@pytest.fixture
def failing():
    """A group with three commands that end in a fault, in a missing file and in a bug."""

    class Failing(LazyGroup):
        def get_command(self, ctx, cmd_name):
            return click.Command(cmd_name, callback={"fault": fault, "file": file, "bug": bug}[cmd_name])

    def fault():
        raise BadSetting("reading: found 'Q99'; the readings are Q2, Q3, Q4, Q6")

    def file():
        open("/no/such/file")  # noqa: SIM115, PTH123

    def bug():
        raise ZeroDivisionError

    return Failing("failing")


def test_a_fault_in_the_input_ends_with_its_message_and_one(failing):
    result = CliRunner().invoke(failing, ["fault"])
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == "reading: found 'Q99'; the readings are Q2, Q3, Q4, Q6\n"


def test_a_missing_file_is_named_without_a_traceback(failing):
    result = CliRunner().invoke(failing, ["file"])
    assert result.exit_code == 1
    assert result.stderr == "/no/such/file: No such file or directory\n"


def test_a_bug_is_not_hidden(failing):
    assert isinstance(CliRunner().invoke(failing, ["bug"]).exception, ZeroDivisionError)


def test_no_color_switches_colour_off(monkeypatch):
    seen = []
    monkeypatch.setattr(LazyGroup, "list_commands", lambda _self, _ctx: ["probe"])
    monkeypatch.setattr(
        LazyGroup,
        "get_command",
        lambda _self, _ctx, _name: click.Command(
            "probe", callback=lambda: seen.append(click.get_current_context().color)
        ),
    )
    run("probe", env={"NO_COLOR": "1"})
    run("probe", env={"NO_COLOR": ""})
    assert seen == [False, None]
