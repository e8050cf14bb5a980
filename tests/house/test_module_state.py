from __future__ import annotations

import ast

import pytest

from house.tree import modules, name_of, tree

MUTABLE = (ast.List, ast.Dict, ast.Set, ast.ListComp, ast.DictComp, ast.SetComp)
MAKERS = {"list", "dict", "set", "defaultdict", "Counter", "deque", "OrderedDict", "bytearray"}
READ_ONLY = ("Mapping[", "Sequence[", "Collection[", "Final[Mapping[", "Final[Sequence[")


def is_mutable(value):
    if isinstance(value, ast.Call):
        return isinstance(value.func, ast.Name) and value.func.id in MAKERS
    return isinstance(value, MUTABLE)


def is_read_only(node):
    """Annotated as something that mypy lets nobody change."""
    return isinstance(node, ast.AnnAssign) and ast.unparse(node.annotation).startswith(READ_ONLY)


def state(body):
    """Module-level names bound to something that can change; `__all__` is a convention of the language."""
    for node in body:
        if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None or is_read_only(node):
            continue
        if is_mutable(node.value):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            yield from (ast.unparse(target) for target in targets if ast.unparse(target) != "__all__")


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_module_holds_constants_only(path):
    module = tree(path)
    assert list(state(module.body)) == [], (
        "annotate a constant as Mapping[…] or Sequence[…], or make it a tuple"
    )
    assert [node.lineno for node in ast.walk(module) if isinstance(node, ast.Global)] == []


def test_a_changing_module_level_value_would_be_found():
    lines = ["a = []", "b: dict[str, int] = {}", "c = set()", "d: Mapping[str, int] = {}", "__all__ = ['x']"]
    assert list(state(ast.parse("\n".join(lines)).body)) == ["a", "b", "c"]
