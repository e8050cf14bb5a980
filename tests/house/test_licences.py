from __future__ import annotations

import re
import tomllib

import pytest

from house.tree import PACKAGE, ROOT

TABLES = sorted(PACKAGE.rglob("data/**/*.csv"))
SPDX = {
    "CC BY-SA 4.0": "CC-BY-SA-4.0",
    "CC BY-SA 3.0": "CC-BY-SA-3.0",
    "ODbL": "ODbL-1.0",
    "Apache": "Apache-2.0",
    "MIT": "MIT",
}


def licence_of(table):
    """The licence that the text beside a table states: `<table>.md`, or the README of its folder."""
    beside = table.with_suffix(".md")
    text = (beside if beside.exists() else table.parent / "README.md").read_text(encoding="utf-8")
    stated = re.search(r"Licen[cs]e[^:\n]*:\W*(.+)", text)
    assert stated, f"the text beside {table} does not state a licence"
    return next(SPDX[name] for name in SPDX if name in stated[1])


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)
def test_every_table_of_open_data_states_its_licence_and_the_package_names_it(table):
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert licence_of(table) in project["license"].split(" AND ")


def test_two_share_alike_licences_never_share_a_folder():
    licences = {}
    for table in TABLES:
        licences.setdefault(table.parent, set()).add(licence_of(table))
    assert [folder for folder, found in licences.items() if len(found - {"MIT", "Apache-2.0"}) > 1] == []


def test_there_are_tables():
    assert TABLES
