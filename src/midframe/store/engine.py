"""The connection to the database: settings, transactions, schema steps, and faults in plain words."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, DatabaseError, DBAPIError, OperationalError

from midframe.faults import BadSetting, StoreTrouble, lacking

NEWEST = "notes"
"""The newest step of the schema, in `migrations/versions`."""

PRAGMAS = ("busy_timeout=5000", "foreign_keys=on", "journal_mode=wal", "synchronous=full")
"""Every acknowledged change outlives a power cut: `synchronous=full` with the write-ahead log."""


def engine_for(url: str) -> Engine:
    """An engine for this address; raises `BadSetting` for one that is neither SQLite nor PostgreSQL."""
    try:
        kind = make_url(url).get_backend_name()
    except ArgumentError:
        kind = ""
    if kind not in ("sqlite", "postgresql"):
        raise BadSetting(f"{url}: found no address of a store; right: sqlite:///… or postgresql://…")
    try:
        engine = create_engine(url, pool_size=8, max_overflow=32)
    except ImportError:
        raise lacking("PostgreSQL", "psycopg[binary]", "team") from None
    if kind == "sqlite":
        event.listen(engine, "connect", set_up_sqlite)
        event.listen(engine, "begin", begin_sqlite)
    return engine


def set_up_sqlite(connection: Any, _record: Any) -> None:
    """Settings of every SQLite connection; transactions begin where `begin_sqlite` says."""
    connection.isolation_level = None
    for pragma in PRAGMAS:
        connection.execute(f"PRAGMA {pragma}")


def begin_sqlite(connection: Connection) -> None:
    """A writing transaction takes the write lock at once, so that what it read stays true."""
    writing = connection.get_execution_options().get("writing", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """One transaction that writes: all of it or nothing."""
    with told(engine), engine.connect().execution_options(writing=True) as connection, connection.begin():
        yield connection


@contextmanager
def reading(engine: Engine, *, snapshot: bool = False) -> Iterator[Connection]:
    """One transaction that reads; with `snapshot`, all of it as it was at one moment."""
    with told(engine), engine.connect() as connection:
        if snapshot and engine.dialect.name == "postgresql":
            connection.execution_options(isolation_level="REPEATABLE READ")
        with connection.begin():
            yield connection


@contextmanager
def told(engine: Engine) -> Iterator[None]:
    """Turns what the database or the disk refuses into `StoreTrouble` with what to do."""
    try:
        yield
    except DBAPIError as error:
        damaged = type(error) is DatabaseError  # no database at all, or a torn one
        if not damaged and not isinstance(error, OperationalError) and "read-only" not in str(error.orig):
            raise
        raise StoreTrouble(trouble(where(engine), str(error.orig).strip())) from error
    except OSError as error:
        place = f"{error.filename}" if error.filename else where(engine)
        raise StoreTrouble(trouble(place, error.strerror or str(error))) from error


def where(engine: Engine) -> str:
    """The file or the server of a store, without its password."""
    return engine.url.database or "" if engine.dialect.name == "sqlite" else str(engine.url)


def trouble(place: str, message: str) -> str:
    """What was found, and what to do.

    >>> trouble("bench.db", "database or disk is full")
    'bench.db: found a full disk; nothing was changed. Make room, then save again'
    """
    low = message.lower()
    if "full" in low or "no space" in low or "file too large" in low or "quota" in low:
        return f"{place}: found a full disk; nothing was changed. Make room, then save again"
    if "readonly" in low or "read-only" in low or "permission" in low:
        return (
            f"{place}: found a place that cannot be written; nothing was changed. "
            "Give this user the right to write there, then save again"
        )
    if "locked" in low:
        return f"{place}: found another program writing for more than 5 s; nothing was changed. Save again"
    return f"{place}: found {message}; nothing was changed. Right: a store that can be opened and written"


def migrate(engine: Engine) -> None:
    """Bring the schema up to date where it is behind; raises `StoreTrouble` where it is ahead."""
    at = step_of(engine)
    if at == NEWEST:
        return
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    if at and at not in {one.revision for one in ScriptDirectory.from_config(config).walk_revisions()}:
        raise StoreTrouble(
            f"{where(engine)}: found a store of a newer version (step {at}); nothing was changed. "
            "Right: the version of midframe that wrote it, or a newer one"
        )
    with writing(engine) as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(7243)"))
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


def step_of(engine: Engine) -> str:
    """The step the schema is at; empty for a new store."""
    with reading(engine) as connection:
        if not inspect(connection).has_table("alembic_version"):
            return ""
        return str(connection.execute(text("SELECT version_num FROM alembic_version")).scalar() or "")
