"""A store on SQLite and one on PostgreSQL, for the same tests."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from secrets import token_hex
from tempfile import mkdtemp

import pytest

from midframe.store import Store


def programs():
    """Where the programs of PostgreSQL are; `None` where there are none."""
    found = shutil.which("initdb")
    folders = [
        *sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True),
        *([Path(found).parent] if found else []),
    ]
    return next((folder for folder in folders if (folder / "initdb").exists()), None)


def run(folder, command):
    """Run a program of PostgreSQL, which refuses to be root."""
    user = {"user": "postgres", "group": "postgres", "extra_groups": []} if os.getuid() == 0 else {}
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, cwd=folder, **user)


@pytest.fixture(scope="session")
def postgresql():
    """A PostgreSQL server of its own, on a socket in a temporary folder: host and user."""
    bin_folder = programs()
    if bin_folder is None:
        pytest.skip("PostgreSQL is not installed: apt-get install postgresql")
    folder = Path(mkdtemp(prefix="midframe-pg-", dir="/tmp"))
    if os.getuid() == 0:
        shutil.chown(folder, "postgres", "postgres")
    data = folder / "data"
    initdb = [bin_folder / "initdb", "-D", data, "-U", "bench", "-A", "trust", "-E", "UTF8", "--locale=C"]
    run(folder, [*initdb, "--no-sync"])
    options = f"-c listen_addresses='' -c unix_socket_directories={folder} -c fsync=off"
    ctl = [bin_folder / "pg_ctl", "-D", data, "-w"]
    run(folder, [*ctl, "-l", folder / "log", "-o", options, "start"])
    yield str(folder)
    run(folder, [*ctl, "-m", "immediate", "stop"])
    shutil.rmtree(folder)


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path):
    """The address of an empty store, on each database."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path / 'midframe.db'}"
        return
    import psycopg

    host = request.getfixturevalue("postgresql")
    name = f"t{token_hex(6)}"
    with psycopg.connect(f"host={host} user=bench dbname=postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE template0")
    yield f"postgresql://bench@/{name}?host={host}"
    with psycopg.connect(f"host={host} user=bench dbname=postgres", autocommit=True) as connection:
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture
def store(url, tmp_path):
    """An empty store."""
    opened = Store.open(url, tmp_path / "data")
    yield opened
    opened.close()


@pytest.fixture
def sqlite_store(tmp_path):
    """An empty store on SQLite, for what has nothing to do with the database."""
    opened = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path / "data")
    yield opened
    opened.close()
