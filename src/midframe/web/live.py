"""Live update: one look at the store every half second, told to every open page by server-sent events."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from typing import TYPE_CHECKING

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import StreamingResponse

from midframe.faults import Fault

if TYPE_CHECKING:
    from midframe.store import Store

LOOK_SECONDS = 0.5
"""How often the store is asked for its newest change; so other servers on it are seen too."""

PING_SECONDS = 15.0
"""A line that says nothing keeps the connection open and shows when nobody listens any more."""

SHELF = ""
"""Stands for the shelf as a whole where a record's id is asked for."""


JOB = "/job"
"""Follows the id of a record where what is told of its job is watched too, not only its revisions."""


def job_thread(record_id: str) -> str:
    """The thread of the store's notes in which the jobs of a record are told."""
    return f"job:{record_id}"


class Hub:
    """What is looked at, and who waits for it; lives in one event loop, asks the store in threads."""

    def __init__(self, store: Store, look_seconds: float = LOOK_SECONDS) -> None:
        self.store = store
        self.look_seconds = look_seconds
        self.watched: dict[str, int] = {}
        self.numbers: dict[str, int] = {}
        self.turn = asyncio.Event()
        self.looker: asyncio.Task[None] | None = None
        self.closed = False

    async def changes(self, record_id: str = SHELF) -> AsyncIterator[int | None]:
        """The number of the newest revision (or of the shelf's newest change): now, and after each change.

        None says that nothing happened for `PING_SECONDS`. Ends when the
        record is gone or the server stops.
        """
        seen = await run_in_threadpool(self.ask, record_id)
        yield seen
        self.watched[record_id] = self.watched.get(record_id, 0) + 1
        self.begin()
        try:
            while not self.closed and self.numbers.get(record_id, 0) >= 0:
                number = self.numbers.get(record_id, seen)
                if number > seen:
                    seen = number
                    yield number
                elif not await self.turned():
                    yield None
        finally:
            self.watched[record_id] -= 1
            if not self.watched[record_id]:
                del self.watched[record_id]
                self.numbers.pop(record_id, None)

    def ask(self, record_id: str) -> int:
        """The newest number, from the store; with `JOB` after the id what is told of its job counts too."""
        if record_id == SHELF:
            return self.store.heads()
        name = record_id.removesuffix(JOB)
        told = 0 if name == record_id else self.store.last_note(job_thread(name))
        return self.store.head(name) + told

    async def turned(self) -> bool:
        """Wait for the next change of anything; False when none came in time."""
        try:
            await asyncio.wait_for(self.turn.wait(), PING_SECONDS)
        except TimeoutError:
            return False
        return True

    def begin(self) -> None:
        """Look at the store for as long as somebody waits."""
        if self.looker is None or self.looker.done():
            self.looker = asyncio.create_task(self.look())

    async def look(self) -> None:
        """Ask for the newest change of all; where there is one, for each record that is watched."""
        newest = -1
        while self.watched and not self.closed:
            found = await self.heads(newest)
            if found is not None:
                newest, self.numbers = found
                turn, self.turn = self.turn, asyncio.Event()
                turn.set()
            await asyncio.sleep(self.look_seconds)

    async def heads(self, newest: int) -> tuple[int, dict[str, int]] | None:
        """The newest change and the number of everything watched; None where nothing changed."""
        watched = tuple(self.watched)

        def asked() -> tuple[int, dict[str, int]] | None:
            number = self.store.heads()
            if number == newest and set(watched) <= set(self.numbers):
                return None
            return number, {one: number if one == SHELF else self.head_or_gone(one) for one in watched}

        try:
            return await run_in_threadpool(asked)
        except Fault:  # a store that cannot be read for a moment: the pages keep what they show
            return None

    def head_or_gone(self, record_id: str) -> int:
        """The newest revision of a record; -1 where it is gone."""
        try:
            return self.ask(record_id)
        except LookupError:
            return -1

    def close(self) -> None:
        """End every stream, so that the server can stop at once."""
        self.closed = True
        self.turn.set()


async def stream(request: Request, record_id: str = SHELF) -> StreamingResponse:
    """Changes of a record or of the shelf as server-sent events; raises `UnknownRecord`."""
    hub: Hub = request.app.state.hub
    changes = hub.changes(record_id)
    first = await anext(changes)
    return StreamingResponse(
        events(first, changes),
        media_type="text/event-stream",
        headers={"cache-control": "no-store", "x-accel-buffering": "no"},
    )


async def events(first: int | None, changes: AsyncIterator[int | None]) -> AsyncIterator[str]:
    """Server-sent events: `revision` with the number, or a comment where nothing happened."""
    yield "retry: 2000\n" + event(first)
    async for number in changes:
        yield event(number)


def event(number: int | None) -> str:
    r"""One event as it goes over the line.

    >>> event(17), event(None)
    ('event: revision\ndata: 17\n\n', ': nothing new\n\n')
    """
    return ": nothing new\n\n" if number is None else f"event: revision\ndata: {number}\n\n"
