"""The pages, one concern a module; each names its routes."""

from __future__ import annotations

from importlib import import_module
from typing import Final

from starlette.routing import BaseRoute

PAGES: Final[tuple[str, ...]] = ("shelf",)
"""Modules of this package that bring routes."""


def all_routes() -> list[BaseRoute]:
    """The routes of every page."""
    return [route for name in PAGES for route in import_module(f"{__name__}.{name}").routes]
