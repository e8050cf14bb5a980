"""Where the store of a command lies, and the time it is told."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

if TYPE_CHECKING:
    from midframe.store import Store

DATABASE = "midframe.db"
"""The store in its folder, where no other is named."""

Command = TypeVar("Command", bound=Callable[..., Any])


def store_options(function: Command) -> Command:
    """The options `--data` and `--store`, the same as those of `midframe serve`."""
    function = click.option("--data", metavar="FOLDER", help="The data folder, instead of the user's.")(
        function
    )
    return click.option(
        "--store",
        "url",
        metavar="URL",
        envvar="MIDFRAME_STORE",
        help="A PostgreSQL store (postgresql://…); $MIDFRAME_STORE does the same.",
    )(function)


def folder_of(data: str | None) -> Path:
    """The data folder that is named, else the user's."""
    from midframe.web.place import usual_folder

    return Path(data) if data else usual_folder(os.environ, Path.home())


@contextmanager
def opened(data: str | None, url: str | None) -> Iterator[Store]:
    """The store in this folder or the user's, at this address or in the folder's own file."""
    from midframe.store import Store
    from midframe.web.place import ready_folder

    folder = ready_folder(folder_of(data), database=not url)
    store = Store.open(url or f"sqlite:///{folder / DATABASE}", folder)
    try:
        yield store
    finally:
        store.close()


def utc_now() -> str:
    """The time as every change is told it: ISO 8601, UTC, whole seconds."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
