"""Runs the steps on the connection that the store hands over."""

from __future__ import annotations

from alembic import context

from midframe.store.tables import METADATA


def run() -> None:
    """Run what is missing."""
    context.configure(
        connection=context.config.attributes["connection"], target_metadata=METADATA, render_as_batch=True
    )
    with context.begin_transaction():
        context.run_migrations()


if hasattr(context, "config"):  # only while Alembic runs this file
    run()
