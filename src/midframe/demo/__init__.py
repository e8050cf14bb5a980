"""Invented demo devices, shipped with the package: names, their text, their records."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable

from midframe.faults import UnknownPart
from midframe.record import Record, read

SUFFIX = ".device.toml"
"""How the file name of a record ends."""


def names() -> tuple[str, ...]:
    """Names of the demo devices in alphabetical order.

    >>> "tern-3" in names()
    True
    """
    found = (file.name for file in folder().iterdir())
    return tuple(sorted(name.removesuffix(SUFFIX) for name in found if name.endswith(SUFFIX)))


def text(name: str) -> str:
    """The file of a demo device as it stands; raises `UnknownPart` for a name that is not one of `names()`.

    The file name (`tern-3.device.toml`, as `predecessor` says it) will do as well.
    """
    short = name.removesuffix(SUFFIX)
    if short not in names():
        raise UnknownPart(f"no demo device '{name}'; there are {', '.join(names())}")
    return folder().joinpath(short + SUFFIX).read_text(encoding="utf-8")


def load(name: str) -> Record:
    """The record of a demo device.

    >>> load("tern-3").device.invented
    True
    """
    return read(text(name), file=name.removesuffix(SUFFIX) + SUFFIX)


def folder() -> Traversable:
    """The folder of the files inside the package."""
    return files(__name__).joinpath("devices")
