from __future__ import annotations

import csv
import json

import pytest
from click.testing import CliRunner

from midframe.cli import main
from midframe.demo import text


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "in").mkdir()
    (tmp_path / "in" / "one.device.toml").write_text(text("tern-2"), encoding="utf-8")
    return tmp_path


def run(*words):
    return CliRunner().invoke(main, ["tables", *map(str, words)])


def test_a_folder_of_records_becomes_tables(folder):
    made = run(folder / "in", "--into", folder / "out", "--no-upkeep", "--json")
    assert made.exit_code == 0, made.output
    assert json.loads(made.stdout)["tables"]["records"] == 1
    with (folder / "out" / "records.csv").open(encoding="utf-8-sig", newline="") as stream:
        (row,) = csv.DictReader(stream)
    assert (row["name"], row["index_class"]) == ("Tern 2", "C")


def test_a_bad_record_is_told_the_good_one_is_there_and_the_exit_code_is_1(folder):
    (folder / "in" / "two.device.toml").write_text("format = 1\n", encoding="utf-8")
    made = run(folder / "in", "--into", folder / "out", "--no-upkeep", "--processes", 1)
    assert made.exit_code == 1
    assert "1 file could not be used" in made.stderr
    assert "two.device.toml" in made.stderr
    assert (folder / "out" / "records.csv").exists()
    assert (folder / "out" / "faults.csv").exists()


def test_a_folder_without_records_is_told(folder):
    (folder / "none").mkdir()
    made = run(folder / "none", "--into", folder / "out")
    assert made.exit_code == 1
    assert "found no *.device.toml" in made.stderr
