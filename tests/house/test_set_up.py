"""`./midframe` in a fresh copy of the project: sets up once, then stays quiet; a read-only copy works too."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from pwd import getpwnam
from tempfile import mkdtemp

import pytest

from house.tree import ROOT, tracked
from midframe import __version__

pytestmark = pytest.mark.slow


def put_copy(folder):
    """Copy the tracked files into a folder."""
    for path in tracked():
        target = folder / path.relative_to(ROOT)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy2(path, target)
    return folder


@pytest.fixture
def copy(tmp_path):
    """The project in a folder of its own, with a space in the name."""
    return put_copy(tmp_path / "a copy")


def run(folder, *arguments, user=None, **variables):
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
        user=user,
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


@pytest.fixture
def read_only():
    """A copy that its user cannot write, and that user: nobody when the tests run as root."""
    folder = Path(mkdtemp(prefix="midframe-read-only-"))
    copy = put_copy(folder / "copy")
    (folder / "home").mkdir()
    user = None
    if os.geteuid() == 0:
        user = getpwnam("nobody").pw_uid
        os.chown(folder / "home", user, -1)
    folder.chmod(0o755)
    copy.chmod(0o555)
    yield copy, user
    copy.chmod(0o755)
    shutil.rmtree(folder)


def test_a_read_only_copy_sets_up_in_the_cache_of_the_user(read_only):
    copy, user = read_only
    for expected in ("setting up", ""):
        result = run(copy, "--version", user=user)
        assert result.stdout == f"midframe {__version__}\n", result.stderr
        assert expected in result.stderr
    assert result.stderr == ""
    assert not (copy / ".venv").exists()
    assert list((copy / "src").rglob("__pycache__")) == []
    cache = copy.parent / "home" / ".cache" / "midframe"
    assert [path.name for folder in cache.iterdir() for path in folder.glob("byte-code")] == ["byte-code"]
