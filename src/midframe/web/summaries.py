"""What the shelf shows of a record, computed after it changed: in the background, one record at a time."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from midframe.faults import Fault

if TYPE_CHECKING:
    from midframe.store import Store
    from midframe.web.answers import Answers

LOOK_SECONDS = 2.0
"""How often the shelf is looked through for records that changed: house choice."""

PATIENCE_SECONDS = 120.0
"""A summary that takes longer is tried again after the record's next change: house choice."""


class Summaries:
    """A thread that keeps class, R and the small drawing of every record on the shelf true.

    It asks through `Answers` with the lowest rank, so that no page waits for it.
    """

    def __init__(self, store: Store, answers: Answers) -> None:
        self.store, self.answers = store, answers
        self._over = threading.Event()
        self._seen = -1
        self._tried: dict[str, int] = {}
        self._thread = threading.Thread(target=self._keep, name="summaries", daemon=True)

    def start(self) -> None:
        """Begin to look."""
        self._thread.start()

    def close(self) -> None:
        """End after the record in hand."""
        self._over.set()

    def _keep(self) -> None:
        while not self._over.wait(LOOK_SECONDS):
            try:
                self.look()
            except Fault:
                continue

    def look(self) -> int:
        """Bring up to date what is behind; gives how many records were."""
        number = self.store.heads()
        if number == self._seen:
            return 0
        done = 0
        for record_id, revision in self.store.unsummarised():
            if self._over.is_set():
                return done
            if self._tried.get(record_id) != revision:
                self._tried[record_id] = revision
                done += self.summarise(record_id)
        self._seen = self._seen if done else number
        return done

    def summarise(self, record_id: str) -> bool:
        """Compute one record's summary and keep it; False where there is none."""
        kept = self.store.get(record_id)
        answer = self.answers.ask("shelf", kept.record, wait=PATIENCE_SECONDS, background=True)
        if answer.status != "done":
            return False
        letter, value, drawing = answer.value
        self.store.summarise(record_id, kept.revision, index_class=letter, index_value=value, drawing=drawing)
        return True
