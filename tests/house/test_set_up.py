"""`./midframe` in a fresh copy of the project: sets up once, then stays quiet; a read-only copy works too."""

from __future__ import annotations

import os
import shutil
import subprocess

import pytest

from house.tree import ROOT, tracked
from midframe import __version__

pytestmark = pytest.mark.slow


@pytest.fixture
def copy(tmp_path):
    """The tracked files in a folder of their own."""
    folder = tmp_path / "a copy"
    for path in tracked():
        target = folder / path.relative_to(ROOT)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(path, target)
    return folder


def run(folder, *arguments, **variables):
    home = folder.parent / "home"
    home.mkdir(exist_ok=True)
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "VIRTUAL_ENV", "XDG_"))}
    return subprocess.run(
        [folder / "midframe", *arguments],
        capture_output=True,
        text=True,
        check=False,
        cwd=home,
        env=kept | {"HOME": str(home)} | variables,
        stdin=subprocess.DEVNULL,
    )


def test_the_first_run_sets_up_and_later_runs_are_quiet_until_the_lock_changes(copy):
    first = run(copy, "--version")
    assert (first.returncode, first.stdout) == (0, f"midframe {__version__}\n"), first.stderr
    assert "setting up" in first.stderr
    assert run(copy, "--version").stderr == ""

    lock = copy / "requirements.lock"
    lock.write_text("click==0.0.1 \\\n    --hash=sha256:" + "0" * 64 + "\n")
    broken = run(copy, "--version", PIP_NO_INDEX="1")
    assert broken.returncode == 1
    assert "could not be installed" in broken.stderr
    assert "Traceback" not in broken.stderr


def test_a_python_that_is_too_old_is_named(copy, tmp_path):
    programs = tmp_path / "programs"
    programs.mkdir()
    for name in ("dirname", "readlink", "cmp"):
        (programs / name).symlink_to(shutil.which(name))
    old = programs / "python3"
    old.write_text('#!/bin/sh\n[ "$1" = -V ] && echo Python 3.9.2 && exit 0\nexit 1\n')
    old.chmod(0o755)
    result = run(copy, "--version", PATH=str(programs))
    assert result.returncode == 1
    assert "Python 3.11 or newer is needed; found: Python 3.9.2" in result.stderr


def test_a_python_without_venv_says_what_to_install(copy, tmp_path):
    bare = tmp_path / "python3"
    bare.write_text('#!/bin/sh\ncase "$2" in *ensurepip*) exit 1;; *) exit 0;; esac\n')
    bare.chmod(0o755)
    result = run(copy, "--version", MIDFRAME_PYTHON=str(bare))
    assert result.returncode == 1
    assert "apt-get install python3-venv" in result.stderr


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere; tried by hand with a bind mount")
def test_a_read_only_copy_sets_up_in_the_cache_of_the_user(copy, tmp_path):
    copy.chmod(0o555)
    try:
        assert run(copy, "--version").stdout == f"midframe {__version__}\n"
    finally:
        copy.chmod(0o755)
    assert not (copy / ".venv").exists()
    assert list((tmp_path / "home" / ".cache" / "midframe").iterdir())
