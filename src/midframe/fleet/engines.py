"""Where the work runs: the cores of this machine, or a Dask cluster."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any, Protocol, TypeVar

import msgspec

from midframe.faults import BadSetting, lacking

Given = TypeVar("Given")
Made = TypeVar("Made")


class Engine(Protocol):
    """Runs a function over many arguments and gives each answer as soon as it is there, in any order."""

    def each(self, function: Callable[[Given], Made], given: Iterable[Given]) -> Iterator[Made]:
        """Answers as they come."""
        ...


class Local(msgspec.Struct, frozen=True):
    """The cores of this machine; `processes` 0 is one a core, 1 is this process itself."""

    processes: int = 0

    def each(self, function: Callable[[Given], Made], given: Iterable[Given]) -> Iterator[Made]:
        """Answers as they come; a worker that ends early is an error of the whole run."""
        if self.processes == 1:
            yield from map(function, given)
            return
        import multiprocessing
        from concurrent.futures import ProcessPoolExecutor, as_completed

        context = multiprocessing.get_context("spawn")
        with ProcessPoolExecutor(self.processes or None, mp_context=context) as pool:
            waiting = [pool.submit(function, one) for one in given]
            try:
                for done in as_completed(waiting):
                    yield done.result()
            finally:
                for one in waiting:
                    one.cancel()


class Cluster(msgspec.Struct, frozen=True):
    """A Dask cluster at the address of its scheduler (extra `cluster`); workers need midframe installed."""

    address: str

    def each(self, function: Callable[[Given], Made], given: Iterable[Given]) -> Iterator[Made]:
        """Answers as they come; a lost worker's records are done again by the others."""
        client = connected(self.address)
        try:
            import distributed

            as_completed: Any = distributed.as_completed
            for future in as_completed(client.map(function, list(given), pure=False), loop=client.loop):
                yield future.result()
        finally:
            client.close()


def connected(address: str) -> Any:
    """A client of the scheduler; says what is missing."""
    try:
        import distributed
    except ImportError:
        raise lacking("a cluster", "distributed", "cluster") from None
    try:
        client: Any = distributed.Client
        return client(address, timeout="10s", set_as_default=False)
    except (OSError, ValueError, TimeoutError) as error:
        raise BadSetting(
            f"no Dask scheduler answers at {address!r} ({error}); right: tcp://HOST:8786"
        ) from None
