from __future__ import annotations

import re
import tomllib

import pytest

import midframe
from house.tree import ROOT

KINDS = ("added", "changed", "fixed", "removed")
FRAGMENTS = sorted(path for path in (ROOT / "changes").glob("*.md") if path.name != "README.md")


@pytest.mark.parametrize("path", FRAGMENTS, ids=lambda path: path.name)
def test_a_change_fragment_is_well_formed(path):
    assert re.fullmatch(rf"[a-z0-9]+(-[a-z0-9]+)*\.({'|'.join(KINDS)})\.md", path.name), path.name
    text = path.read_text(encoding="utf-8")
    assert text.endswith(".\n"), (
        "a fragment is one or more sentences and ends with a full stop and a new line"
    )
    assert not text.startswith(("#", "-", "*", " ")), "a fragment is plain text: no heading, no list mark"
    assert "\n\n" not in text, "a fragment is one paragraph"


def test_the_version_is_the_newest_heading_of_the_change_log():
    log = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
    newest = re.search(r"^## (\d+\.\d+\.\d+)", log, re.MULTILINE)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert newest is not None
    assert newest[1] == midframe.__version__ == project["version"]
