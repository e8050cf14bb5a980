from __future__ import annotations

import pytest

from cli.small import SMALL, TOOLBOX


@pytest.fixture
def small(tmp_path, narrow):
    """The small phone as a file."""
    file = tmp_path / "wren.device.toml"
    file.write_text(SMALL, encoding="utf-8")
    return file.name


@pytest.fixture
def toolbox(tmp_path, narrow):
    """A toolbox without a prying lever and a heating mat."""
    file = tmp_path / "toolbox.toml"
    file.write_text(TOOLBOX, encoding="utf-8")
    return file.name


@pytest.fixture(autouse=True)
def narrow(monkeypatch, tmp_path):
    """Every command runs at 80 columns, in a folder of its own."""
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)
