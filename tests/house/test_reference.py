from __future__ import annotations

import pytest

from house.tree import ROOT
from midframe.cli.reference import reference

PAGE = ROOT / "docs" / "commands.md"


def test_the_page_of_commands_is_what_help_prints(update):
    if update:
        PAGE.write_text(reference(), encoding="utf-8")
    if PAGE.read_text(encoding="utf-8") != reference():
        pytest.fail("docs/commands.md is out of date: run pytest --update tests/house/test_reference.py")
