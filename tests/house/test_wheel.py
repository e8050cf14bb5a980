"""The wheel works where none of the developers' packages is."""

from __future__ import annotations

import os
import subprocess
import sys
import venv
import zipfile

import pytest

from house.tree import PACKAGE, ROOT
from midframe import __version__
from midframe.cli import COMMANDS

pytestmark = pytest.mark.slow


def run(*command, **settings):
    words = [str(word) for word in command]
    done = subprocess.run(
        words, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL, **settings
    )
    assert done.returncode == 0, f"{words}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel, built with the locked hatchling and nothing from the network."""
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", folder, cwd=ROOT)
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """An environment with the user's lock and the wheel only; gives its folder of programs."""
    folder = tmp_path_factory.mktemp("installed")
    venv.create(folder, with_pip=True)
    pip = [folder / "bin" / "python", "-m", "pip", "install", "--quiet", "--no-input"]
    pip.append("--disable-pip-version-check")
    run(*pip, "--require-hashes", "--requirement", ROOT / "requirements.lock")
    run(*pip, "--no-deps", "--no-index", wheel)
    return folder / "bin"


@pytest.fixture
def clean():
    """An environment without this project's source on the path."""
    return {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}


def test_the_wheel_holds_every_file_of_the_package(wheel):
    packed = set(zipfile.ZipFile(wheel).namelist())
    ours = [path for path in PACKAGE.rglob("*") if path.is_file() and "__pycache__" not in path.parts]
    assert {str(path.relative_to(PACKAGE.parent)) for path in ours} - packed == set()


def test_the_installed_program_tells_its_version_and_its_help(installed, clean, tmp_path):
    assert run(installed / "midframe", "--version", cwd=tmp_path, env=clean) == f"midframe {__version__}\n"
    assert "Usage: midframe" in run(installed / "midframe", "--help", cwd=tmp_path, env=clean)


@pytest.mark.skipif("demo" not in COMMANDS, reason="the command demo is not there yet")
def test_the_installed_program_runs_the_demo(installed, clean, tmp_path):
    assert run(installed / "midframe", "demo", cwd=tmp_path, env=clean)


def test_every_module_can_be_imported_without_developer_packages(installed, clean, tmp_path):
    names = [
        ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")
        for path in PACKAGE.rglob("*.py")
        if path.name != "__main__.py"
    ]
    program = "import importlib, sys\nfor name in sys.argv[1:]: importlib.import_module(name)"
    run(installed / "python", "-P", "-W", "error", "-c", program, *names, cwd=tmp_path, env=clean)
