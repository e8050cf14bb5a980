from __future__ import annotations

from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from midframe.store import Store
from midframe.store.engine import NEWEST, PRAGMAS, reading, step_of
from midframe.store.tables import METADATA


def test_the_steps_make_the_tables_that_the_code_names(store):
    with reading(store.engine) as connection:
        context = MigrationContext.configure(
            connection,
            opts={"include_name": lambda name, kind, _: kind != "table" or name in METADATA.tables},
        )
        assert compare_metadata(context, METADATA) == []


def test_a_store_is_at_the_newest_step_and_opening_it_again_changes_nothing(store, url, tmp_path):
    assert step_of(store.engine) == NEWEST
    Store.open(url, tmp_path / "data").close()
    assert step_of(store.engine) == NEWEST


def test_every_sqlite_connection_is_set_for_safety(sqlite_store):
    with reading(sqlite_store.engine) as connection:
        found = [
            connection.exec_driver_sql(f"PRAGMA {name}").scalar()
            for name in ("busy_timeout", "foreign_keys", "journal_mode", "synchronous")
        ]
    assert found == [5000, 1, "wal", 2]
    assert len(PRAGMAS) == len(found)
