from __future__ import annotations

from pathlib import Path

import pytest

from cli.small import data, run
from midframe import demo
from midframe.cli import demo as command
from midframe.cli import shared
from midframe.faults import BadSetting


@pytest.mark.slow
def test_the_demo_does_the_main_job_and_names_the_file_it_wrote():
    result = run("demo")
    assert result.exit_code == 0
    assert "no such device exists" in result.output
    for word in ("ways in", "repairability index", "tern-3-battery.html", "midframe what-if"):
        assert word in result.output
    assert "<svg" in Path("tern-3-battery.html").read_text(encoding="utf-8")


def test_a_file_of_another_content_is_left_alone():
    Path("page.html").write_text("mine", encoding="utf-8")
    assert command.written("page.html", "new") == Path("page-2.html")
    assert command.written("page.html", "new") == Path("page-2.html")
    assert Path("page.html").read_text(encoding="utf-8") == "mine"


def test_where_the_folder_cannot_be_written_a_temporary_one_is_used(monkeypatch):
    write = shared.write_new

    def refuse(path, text, **settings):
        if path.parent == Path():
            raise BadSetting("no permission")
        write(path, text, **settings)

    monkeypatch.setattr(shared, "write_new", refuse)
    path = command.written("page.html", "new")
    assert path.is_absolute()
    assert path.read_text(encoding="utf-8") == "new"


def test_the_records_can_be_copied_and_copied_again():
    first, again = data("demo", "--copy", "here"), data("demo", "--copy", "here")
    assert first["files"] == again["files"]
    assert len(first["files"]) == len(demo.names())
    assert run("check", *first["files"]).exit_code == 0


def test_a_changed_copy_is_not_replaced():
    (file, *_) = data("demo", "--copy", "here")["files"]
    Path(file).write_text("changed", encoding="utf-8")
    result = run("demo", "--copy", "here")
    assert result.exit_code == 1
    assert Path(file).read_text(encoding="utf-8") == "changed"


def test_a_folder_that_cannot_be_made_is_told():
    Path("file").write_text("", encoding="utf-8")
    result = run("demo", "--copy", "file/folder")
    assert result.exit_code == 1
    assert "file/folder" in result.stderr


@pytest.mark.parametrize("line", command.TRY)
def test_every_command_that_the_demo_names_is_there(line):
    name = line[0].split()[1]
    assert run(name, "--help").exit_code == 0
