"""Jobs in the store: what is told at the bench of one record, and how far its refit has come."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from midframe.faults import BadSetting
from midframe.publish.job import Begun, Job, Telling, Told, job_of, packed, unpacked
from midframe.publish.language import language
from midframe.publish.log_moves import log_moves
from midframe.publish.pause import Ordered, Pause, pause
from midframe.publish.progress import Progress, progress
from midframe.publish.site_refit import action
from midframe.record import Record
from midframe.web.live import job_thread

if TYPE_CHECKING:
    from midframe.store import State, Store

KIND = "told"
"""Kind of the notes that hold tellings."""


def job_at(store: Store, record_id: str) -> Job:
    """Where the job of a record stands."""
    return job_of(
        Told(telling, note.author, note.at)
        for note in store.notes(job_thread(record_id))
        for telling in unpacked(note.content)
    )


def tell(
    store: Store, record_id: str, tellings: Sequence[Telling], *, at: str, author: str = "", key: str = ""
) -> None:
    """Keep what was told of a job; the same key again changes nothing. Raises `UnknownRecord`."""
    store.head(record_id)
    if tellings:
        store.add_note(job_thread(record_id), KIND, packed(tellings), at=at, author=author, key=key)


def set_state(store: Store, record_id: str, state: State, at: str) -> None:
    """The state of a record on the shelf, where it is another one."""
    if store.get(record_id).state != state:
        store.set_state(record_id, state, at)


def refit_of(record: Record, job: Job) -> Progress:
    """How far the refit of a job has come; raises `BadSetting` where none is begun, or it is at its end."""
    if job.ended is not None:
        raise BadSetting("refit: found it closed; right: say first that it is not closed yet")
    found = progress(record, job)
    if found is None:
        raise BadSetting(
            "refit: found none that is begun; right: begin it first, from the log or from a part"
        )
    return found


def pause_of(record: Record, job: Job, code: str = "en") -> Pause:
    """The pause sheet of a job as it stands, in a language: in a refit, else from the log.

    A job at its end is over once the log is another one. Raises `IllegalMove` where the moves of the
    refit fit the record no more.
    """
    over = job.ended is not None and went_on(record, job)
    found = None if over else progress(record, job)
    orders: tuple[Ordered, ...] = job.on_order
    return pause(
        record,
        log_moves(record).moves if found is None else found.moves,
        on_order=orders,
        notes=[job.notes] if job.notes else [],
        places=job.places,
        driven=found.driven if found else None,
        last=last_ticked(found, code) if found else "",
        code=code,
    )


def last_ticked(found: Progress, code: str) -> str:
    """The move that was ticked last, in words; empty where none was."""
    done = [step for step in found.steps if step.done]
    newest = max(done, key=lambda step: step.at, default=None)
    return "" if newest is None else action(newest.line, language(code))


def went_on(record: Record, job: Job) -> bool:
    """Whether the log has other moves than the refit was begun from."""
    begun = job.begun.telling if job.begun else None
    return isinstance(begun, Begun) and begun.basis == "log" and begun.moves != log_moves(record).moves
