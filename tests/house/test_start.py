"""What is imported at the start, told by names of modules and not by a clock."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from house.tree import ROOT

HEAVY = {
    "alembic", "anyio", "asyncio", "babel", "fluent", "jellyfish", "jinja2",
    "networkx", "numpy", "ortools", "pandas", "PIL", "psycopg",
    "scipy", "sqlalchemy", "starlette", "typst", "uvicorn",
}  # fmt: skip


def loaded_after(code):
    """Names of all modules in a fresh interpreter after running this code."""
    program = f"import sys, json\n{code}\nprint(json.dumps(sorted(sys.modules)), file=sys.__stderr__)"
    done = subprocess.run(
        [sys.executable, "-P", "-c", program],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": str(ROOT / "src"), "PATH": ""},
    )
    return set(json.loads(done.stderr.splitlines()[-1]))


def heavy(loaded):
    return HEAVY & {name.partition(".")[0] for name in loaded}


CLI = "from midframe.cli import main\ntry:\n    main([{argument!r}])\nexcept SystemExit:\n    pass"


@pytest.mark.parametrize("argument", ["--help", "--version"])
def test_help_and_version_load_no_heavy_module(argument):
    assert heavy(loaded_after(CLI.format(argument=argument))) == set()


def test_help_loads_no_command():
    loaded = loaded_after(CLI.format(argument="--help"))
    assert [name for name in loaded if name.startswith("midframe.cli.")] == []


def test_importing_midframe_loads_none_of_its_parts():
    ours = {name for name in loaded_after("import midframe") if name.startswith("midframe")}
    assert ours == {"midframe"}


def test_a_heavy_module_would_be_seen():
    assert heavy(loaded_after("import asyncio")) == {"asyncio"}


def test_every_public_name_can_be_loaded():
    import midframe

    for name in midframe.__all__:
        assert getattr(midframe, name) is not None
    with pytest.raises(AttributeError, match="no_such_name"):
        _ = midframe.no_such_name
