from __future__ import annotations

import pytest

from house.tree import PACKAGE, imports, modules, name_of

# Who may import whom inside midframe. A package that is not named here is a computing package.
BASE = frozenset({"faults", "sources", "units"})
LAYERS = {
    "record": frozenset(),
    "demo": frozenset({"record"}),
    "dossier": None,  # where the computing packages meet on one record
    "publish": None,
    "photos": frozenset({"record"}),
    "store": frozenset({"record", "photos"}),
    "fleet": None,  # many records at once
    "stripdown": None,  # what was said to be done, as a changed record
    "narration": None,  # a whole talk, as what was done
    "cli": None,
    "web": None,
}
ABOVE = {
    "dossier": {"publish", "stripdown", "narration", "photos", "store", "cli", "web"},
    "publish": {"stripdown", "narration", "photos", "store", "cli", "web"},
    "stripdown": {"publish", "narration", "photos", "store", "fleet", "cli", "web"},
    "narration": {"publish", "photos", "store", "fleet", "cli", "web"},
    "fleet": {"publish", "stripdown", "narration", "photos", "store", "cli", "web"},
    "cli": set(),
    "web": {"cli"},
}
"""For a package that may import all below it: what lies above or beside it."""

OUTSIDE = {
    "sqlalchemy": {"store"},
    "alembic": {"store"},
    "psycopg": {"store"},
    "PIL": {"photos", "battery"},
    "segno": {"publish", "web"},
    "starlette": {"web"},
    "uvicorn": {"web"},
    "click": {"cli"},
    "jinja2": {"publish", "web"},
    "markupsafe": {"publish", "web"},
    "sqlite3": {"store"},
    "webvtt": {"narration"},
    "jellyfish": {"narration"},
    "subprocess": {"cli", "publish"},
    "socket": {"web"},
}
"""Libraries that only some packages may know."""


def package_of(name: str) -> str:
    parts = name.split(".")
    return parts[1].replace("__main__", "cli") if len(parts) > 1 else ""


def packages() -> set[str]:
    return {entry.name for entry in PACKAGE.iterdir() if (entry / "__init__.py").exists()}


def may_import(importer: str, imported: str) -> bool:
    if importer == imported or imported in BASE or importer == "":
        return True
    if importer in BASE:
        return False
    if importer in ABOVE:
        return imported not in ABOVE[importer] and imported != ""
    return imported in (LAYERS.get(importer, frozenset({"record"})) or frozenset())


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_imports_run_downwards_only(path):
    importer = package_of(name_of(path))
    known = packages() | BASE
    for imported, line in imports(path):
        parts = imported.split(".")
        if parts[0] == "midframe" and len(parts) > 1 and parts[1] in known:
            assert may_import(importer, parts[1]), (
                f"{path}:{line}: {importer or 'midframe'} must not import midframe.{parts[1]}"
            )


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_each_outside_library_stays_in_its_room(path):
    importer = package_of(name_of(path))
    for imported, line in imports(path):
        rooms = OUTSIDE.get(imported.split(".")[0])
        assert rooms is None or importer in rooms, (
            f"{path}:{line}: {imported} belongs in {', '.join(sorted(rooms or ()))} only"
        )


def test_the_rule_refuses_what_it_should():
    assert may_import("ways", "record")
    assert may_import("ways", "faults")
    assert not may_import("ways", "index")
    assert not may_import("record", "ways")
    assert not may_import("dossier", "publish")
    assert not may_import("publish", "cli")
    assert may_import("dossier", "ways")
    assert may_import("cli", "publish")
    assert not may_import("faults", "record")
    assert may_import("store", "photos")
    assert may_import("stripdown", "dossier")
    assert not may_import("store", "stripdown")
    assert not may_import("stripdown", "store")
    assert not may_import("photos", "store")
    assert may_import("narration", "stripdown")
    assert not may_import("stripdown", "narration")
