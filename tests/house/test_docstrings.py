from __future__ import annotations

import ast

import pytest

from house.tree import CITATION, PACKAGE, modules, name_of, tree

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def public_definitions(path):
    """Module-level classes and functions, and the methods of those classes, without a leading underscore."""
    for node in tree(path).body:
        if isinstance(node, Definition) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from (
                    inner
                    for inner in node.body
                    if isinstance(inner, Definition) and not inner.name.startswith("_")
                )


@pytest.mark.parametrize("path", [p for p in modules() if p.stat().st_size], ids=name_of)
def test_everything_public_has_a_docstring(path):
    assert ast.get_docstring(tree(path)), f"{path} has no module docstring"
    bare = [
        f"{node.name} (line {node.lineno})"
        for node in public_definitions(path)
        if not ast.get_docstring(node)
    ]
    assert not bare


def references(path):
    """The text under every `References` heading, and after every `References:`, of a file's docstrings."""
    for node in ast.walk(tree(path)):
        if isinstance(node, Definition | ast.Module) and (text := ast.get_docstring(node)):
            for mark in ("References\n----------\n", "References:"):
                if mark in text:
                    yield node, text.split(mark, 1)[1]


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_references_name_a_source_or_say_that_there_is_none(path):
    for node, text in references(path):
        said = any(
            mark in text for mark in ("common practice", "from memory", "textbook", "own construction")
        )
        assert said or CITATION.search(text), (
            f"{path}: References of {getattr(node, 'name', 'the module')}: no `[key, clause]`, no mark"
        )


def test_there_are_modules_to_look_at():
    assert PACKAGE / "faults.py" in modules()
