"""The run: every record once, each answer kept in a file of its own at once, so that a broken run goes on."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TypeAlias

import msgspec

from midframe import __version__
from midframe.dossier.figures import Figures, FigureSettings, figures
from midframe.faults import Fault
from midframe.fleet.engines import Engine, Local
from midframe.record import read


class Job(msgspec.Struct, frozen=True):
    """One record file: where it lies and what it holds."""

    file: str
    text: str


class Finished(msgspec.Struct, frozen=True, tag=True):
    """The figures of one file."""

    file: str
    figures: Figures


class Failed(msgspec.Struct, frozen=True, tag=True):
    """A file that gave no figures, and every fault found in it."""

    file: str
    faults: tuple[str, ...]


Outcome: TypeAlias = Finished | Failed


class Task(msgspec.Struct, frozen=True):
    """What one worker is given: plain text and settings, so that any engine can send it."""

    name: str
    job: Job
    settings: FigureSettings


def outcome(task: Task) -> tuple[str, Outcome]:
    """The task's name, and the figures of its file or why there are none: what every engine runs."""
    job = task.job
    try:
        return task.name, Finished(job.file, figures(read(job.text, job.file), task.settings))
    except Fault as fault:
        return task.name, Failed(job.file, tuple(str(fault).splitlines()))


def run(
    jobs: Sequence[Job],
    folder: Path,
    *,
    settings: FigureSettings | None = None,
    engine: Engine | None = None,
    told: Callable[[int, int, str], None] | None = None,
) -> tuple[Outcome, ...]:
    """Figures of every record, in the order given.

    Parameters
    ----------
    jobs
        The record files; the same text twice is computed once.
    folder
        Where each answer is kept under the digest of text, settings and version. What is there
        already is not computed again: a run that was broken off goes on where it was.
    settings
        What is computed.
    engine
        Where; the cores of this machine where absent.
    told
        Called with (done, of, file) after each file.

    Returns
    -------
    tuple[Outcome, ...]
        One for each job.

    Raises
    ------
    OSError
        The folder cannot be written.
    """
    chosen = settings or FigureSettings()
    folder.mkdir(parents=True, exist_ok=True)
    names = [name_of(job, chosen) for job in jobs]
    held = {name: kept(folder / name, job.file) for name, job in zip(names, jobs, strict=True)}
    missing = {
        name: Task(name, job, chosen) for name, job in zip(names, jobs, strict=True) if held[name] is None
    }
    alike = Counter(names)
    done = sum(held[name] is not None for name in names)
    if told and done:
        told(done, len(jobs), "kept from an earlier run")
    for name, made in (engine or Local()).each(outcome, list(missing.values())):
        keep(folder / name, made)
        held[name] = made
        done += alike[name]
        if told:
            told(done, len(jobs), made.file)
    return tuple(in_words_of(held[name], job.file) for name, job in zip(names, jobs, strict=True))


def name_of(job: Job, settings: FigureSettings) -> str:
    """The file name of an answer: what it depends on, and nothing else."""
    import hashlib

    told = msgspec.json.encode((job.text, settings, __version__))
    return hashlib.sha256(told).hexdigest()[:40] + ".json"


def kept(path: Path, file: str) -> Outcome | None:
    """An answer of an earlier run; a torn file counts as none."""
    try:
        found: Outcome = msgspec.json.decode(path.read_bytes(), type=Finished | Failed)
    except (FileNotFoundError, msgspec.DecodeError):
        return None
    return in_words_of(found, file)


def keep(path: Path, made: Outcome) -> None:
    """Write an answer whole or not at all."""
    draft = path.with_suffix(f".{os.getpid()}.part")
    draft.write_bytes(msgspec.json.encode(made))
    draft.replace(path)


def in_words_of(found: Outcome | None, file: str) -> Outcome:
    """The answer under the name of this file: two files may hold the same record."""
    if found is None:
        return Failed(file, ("the engine gave no answer for this file",))
    return msgspec.structs.replace(found, file=file)
