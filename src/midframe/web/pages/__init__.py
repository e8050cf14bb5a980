"""The pages, one concern a module; each module of this package names its `routes`."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules

from starlette.routing import BaseRoute


def all_routes() -> list[BaseRoute]:
    """The routes of every page."""
    names = sorted(module.name for module in iter_modules(__path__))
    return [route for name in names for route in import_module(f"{__name__}.{name}").routes]
