"""The tables, the same on SQLite and PostgreSQL; times are ISO 8601 text in UTC."""

from __future__ import annotations

from sqlalchemy import (
    CheckConstraint,
    Column,
    Float,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)

METADATA = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)

RECORDS = Table(
    "records",
    METADATA,
    Column("seat", Integer, primary_key=True, autoincrement=True),
    Column("id", Text, nullable=False, unique=True),
    Column("head", Integer, nullable=False),
    Column("change", Integer, nullable=False),
    Column("changed_at", Text, nullable=False),
    Column("removed_at", Text),
    Column("state", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("invented", Integer, nullable=False),
    Column("parts", Integer, nullable=False),
    Column("joints", Integer, nullable=False),
    Column("photo", Text, nullable=False),
    Column("index_of", Integer, nullable=False),
    Column("index_class", Text, nullable=False),
    Column("index_value", Float),
    Column("clock_started_at", Text),
    Column("clock_running_since", Text),
    Column("clock_elapsed_seconds", Float, nullable=False),
    Column("words", Text, nullable=False),
    Column("drawing", Text, nullable=False),
    CheckConstraint("state IN ('apart_now', 'waiting', 'refitting', 'closed')", name="state"),
    Index(None, "change"),
)
"""One row a record: where its head is, and what the shelf shows of it."""

REVISIONS = Table(
    "revisions",
    METADATA,
    Column("record_id", Text, ForeignKey("records.id"), primary_key=True),
    Column("number", Integer, primary_key=True, autoincrement=False),
    Column("parent", Integer, nullable=False),
    Column("base", Integer, nullable=False),
    Column("kind", Text, nullable=False),
    Column("of", Integer),
    Column("merged", Integer, nullable=False),
    Column("summary", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("content", LargeBinary, nullable=False),
)
"""Every revision whole: the record as JSON, compressed."""

BESIDE = Table(
    "beside",
    METADATA,
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("record_id", Text, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("base", Integer, nullable=False),
    Column("subject", Text, nullable=False),
    Column("path", Text, nullable=False),
    Column("content", LargeBinary, nullable=False),
    Column("summary", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("settled_by", Integer),
    ForeignKeyConstraint(["record_id", "revision"], ["revisions.record_id", "revisions.number"]),
    Index(None, "record_id"),
)
"""Versions set aside because the same thing was edited twice."""

PHOTOS = Table(
    "photos",
    METADATA,
    Column("hash", Text, primary_key=True),
    Column("width", Integer, nullable=False),
    Column("height", Integer, nullable=False),
    Column("bytes", Integer, nullable=False),
    Column("at", Text, nullable=False),
    Column("successor", Text),
)
"""Photos by content hash; one that was blacked out names the hash that took its place."""

RECORD_PHOTOS = Table(
    "record_photos",
    METADATA,
    Column("record_id", Text, ForeignKey("records.id"), primary_key=True),
    Column("hash", Text, ForeignKey("photos.hash"), primary_key=True),
    Column("at", Text, nullable=False),
)
"""Which record a photo was taken for."""

KEYS = Table(
    "keys",
    METADATA,
    Column("key", Text, primary_key=True),
    Column("record_id", Text, ForeignKey("records.id"), nullable=False),
    Column("answer", Text, nullable=False),
    Column("at", Text, nullable=False),
)
"""Idempotency keys and what was answered to them the first time."""

BENCH_NOTES = Table(
    "bench_notes",
    METADATA,
    Column("id", Integer, primary_key=True, autoincrement=True),
    Column("thread", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("content", Text, nullable=False),
    Column("author", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("key", Text, unique=True),
    Index(None, "thread"),
)
"""Notes of the bench that are part of no record, in threads to which something is only added."""

CHANGES = Table(
    "changes",
    METADATA,
    Column("single", Integer, primary_key=True, autoincrement=False),
    Column("number", Integer, nullable=False),
    CheckConstraint("single = 1", name="single"),
)
"""One row: the number of the newest change on the shelf."""
