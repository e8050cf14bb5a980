"""Notes of the bench that are part of no record: own sources of heat, what was read while heating."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "notes"
down_revision = "first"


def upgrade() -> None:
    """Make the table; nothing of what is there changes."""
    op.create_table(
        "bench_notes",
        sa.Column("id", sa.Integer(), autoincrement=True, nullable=False),
        sa.Column("thread", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("content", sa.Text(), nullable=False),
        sa.Column("author", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bench_notes")),
        sa.UniqueConstraint("key", name=op.f("uq_bench_notes_key")),
    )
    op.create_index(op.f("ix_bench_notes_thread"), "bench_notes", ["thread"], unique=False)
