"""Shared by every test: the docs are run as tests, and property tests repeat in one fixed order in CI."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from doctest import ELLIPSIS, NORMALIZE_WHITESPACE, OutputChecker
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

import pytest
from hypothesis import settings
from sybil import Example, Sybil
from sybil.parsers.markdown import CodeBlockParser, PythonCodeBlockParser, SkipParser

ROOT = Path(__file__).parent

settings.register_profile("ci", derandomize=True, deadline=None, max_examples=60)
settings.register_profile("here", deadline=None, max_examples=60)
settings.load_profile("ci" if os.environ.get("CI") else "here")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--update", action="store_true", help="rewrite golden files and docs/commands.md")


@pytest.fixture
def update(request: pytest.FixtureRequest) -> bool:
    """Whether generated and golden files are to be rewritten instead of compared."""
    return bool(request.config.getoption("--update"))


def run_console(example: Example) -> str | None:
    """Run the `$ ` lines of a console block, one shared folder a document, and compare what they print."""
    text = str(example.parsed)
    commands = [chunk.partition("\n") for chunk in f"\n{text}".split("\n$ ")[1:]]
    assert commands, f"a console block without a line that starts with '$ ': {text!r}"
    for line, _, after in commands:
        words = shlex.split(line.replace("./midframe", "midframe", 1))
        assert words[0] == "midframe", f"only midframe is run from the docs, not {words[0]!r}"
        done = subprocess.run(
            [sys.executable, "-P", "-m", "midframe", *words[1:]],
            cwd=example.namespace["folder"],
            env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "NO_COLOR": "1"},
            capture_output=True,
            text=True,
            check=False,
        )
        printed = done.stdout + done.stderr
        expected = after.rstrip() + "\n" if after.strip() else ""
        if not OutputChecker().check_output(expected, printed, ELLIPSIS | NORMALIZE_WHITESPACE):
            return f"$ {line}\nexpected:\n{expected}\nprinted:\n{printed}"
    return None


def give_folder(namespace: dict[str, Any]) -> None:
    """Give every document an empty folder of its own."""
    namespace["folder"] = mkdtemp(prefix="midframe-docs-")


pytest_collect_file = Sybil(
    parsers=[
        PythonCodeBlockParser(doctest_optionflags=ELLIPSIS | NORMALIZE_WHITESPACE),
        CodeBlockParser(language="console", evaluator=run_console),
        SkipParser(),
    ],
    patterns=["README.md", "docs/*.md"],
    setup=give_folder,
).pytest()
