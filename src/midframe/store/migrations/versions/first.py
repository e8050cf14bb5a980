"""The first schema: records, revisions, versions set aside, photos, keys, and the search over words."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "first"
down_revision = None


def upgrade() -> None:
    """Make the tables and the search over words."""
    make_records()
    make_revisions()
    make_photos()
    make_search()


def make_records() -> None:
    """The number of the newest change, records, keys."""
    op.create_table(
        "changes",
        sa.Column("single", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.CheckConstraint("single = 1", name=op.f("ck_changes_single")),
        sa.PrimaryKeyConstraint("single", name=op.f("pk_changes")),
    )
    op.create_table(
        "records",
        sa.Column("seat", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("head", sa.Integer(), nullable=False),
        sa.Column("change", sa.Integer(), nullable=False),
        sa.Column("changed_at", sa.Text(), nullable=False),
        sa.Column("removed_at", sa.Text(), nullable=True),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("invented", sa.Integer(), nullable=False),
        sa.Column("parts", sa.Integer(), nullable=False),
        sa.Column("joints", sa.Integer(), nullable=False),
        sa.Column("photo", sa.Text(), nullable=False),
        sa.Column("index_of", sa.Integer(), nullable=False),
        sa.Column("index_class", sa.Text(), nullable=False),
        sa.Column("index_value", sa.Float(), nullable=True),
        sa.Column("clock_started_at", sa.Text(), nullable=True),
        sa.Column("clock_running_since", sa.Text(), nullable=True),
        sa.Column("clock_elapsed_seconds", sa.Float(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("drawing", sa.Text(), nullable=False),
        sa.CheckConstraint(
            "state IN ('apart_now', 'waiting', 'refitting', 'closed')", name=op.f("ck_records_state")
        ),
        sa.PrimaryKeyConstraint("seat", name=op.f("pk_records")),
        sa.UniqueConstraint("id", name=op.f("uq_records_id")),
    )
    op.create_index(op.f("ix_records_change"), "records", ["change"], unique=False)
    op.create_table(
        "keys",
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("record_id", sa.Text(), nullable=False),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["record_id"], ["records.id"], name=op.f("fk_keys_record_id")),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_keys")),
    )
    op.execute("INSERT INTO changes (single, number) VALUES (1, 0)")


def make_revisions() -> None:
    """Revisions, and versions set aside."""
    op.create_table(
        "revisions",
        sa.Column("record_id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("parent", sa.Integer(), nullable=False),
        sa.Column("base", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("of", sa.Integer(), nullable=True),
        sa.Column("merged", sa.Integer(), nullable=False),
        sa.Column("summary", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.ForeignKeyConstraint(["record_id"], ["records.id"], name=op.f("fk_revisions_record_id")),
        sa.PrimaryKeyConstraint("record_id", "number", name=op.f("pk_revisions")),
    )
    op.create_table(
        "beside",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("record_id", sa.Text(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("base", sa.Integer(), nullable=False),
        sa.Column("subject", sa.Text(), nullable=False),
        sa.Column("path", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("summary", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("settled_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["record_id", "revision"],
            ["revisions.record_id", "revisions.number"],
            name=op.f("fk_beside_record_id_revision"),
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_beside")),
    )
    op.create_index(op.f("ix_beside_record_id"), "beside", ["record_id"], unique=False)


def make_photos() -> None:
    """Photos, and for which record they were taken."""
    op.create_table(
        "photos",
        sa.Column("hash", sa.Text(), nullable=False),
        sa.Column("width", sa.Integer(), nullable=False),
        sa.Column("height", sa.Integer(), nullable=False),
        sa.Column("bytes", sa.Integer(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("successor", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("hash", name=op.f("pk_photos")),
    )
    op.create_table(
        "record_photos",
        sa.Column("record_id", sa.Text(), nullable=False),
        sa.Column("hash", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["hash"], ["photos.hash"], name=op.f("fk_record_photos_hash")),
        sa.ForeignKeyConstraint(["record_id"], ["records.id"], name=op.f("fk_record_photos_record_id")),
        sa.PrimaryKeyConstraint("record_id", "hash", name=op.f("pk_record_photos")),
    )


def make_search() -> None:
    """The search over words, which each database has its own kind of."""
    if op.get_bind().dialect.name == "sqlite":
        op.execute("CREATE VIRTUAL TABLE search USING fts5(words, prefix='1 2 3')")
    else:
        op.execute(
            "CREATE TABLE search "
            "(seat integer PRIMARY KEY REFERENCES records (seat), words tsvector NOT NULL)"
        )
        op.execute("CREATE INDEX ix_search_words ON search USING gin (words)")
