"""What the house tests look at: tracked files, modules, citations."""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "midframe"

CITATION = re.compile(r"\[([a-z0-9]+(?:-[a-z0-9]+)+)(?:, [^\]\"']|\] (?=\w))")
"""`[key, clause]` or `[key] clause`: the ways a source is cited in code, data and docs."""


def tracked() -> list[Path]:
    """Every file that git tracks or would track: new files that are not ignored count."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=ROOT,
        capture_output=True,
        check=True,
    ).stdout.decode()
    return [path for name in listed.split("\0") if name and (path := ROOT / name).is_file()]


def modules(folder: Path = PACKAGE) -> list[Path]:
    """Every Python file under a folder."""
    return sorted(folder.rglob("*.py"))


def tree(path: Path) -> ast.Module:
    """One file, parsed."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def name_of(path: Path) -> str:
    """The dotted name of a module of the package."""
    return ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")


def imports(path: Path) -> Iterator[tuple[str, int]]:
    """Every module a file imports, anywhere in it, as (dotted name, line)."""
    inside = name_of(path).split(".")
    package = inside if path.name == "__init__.py" else inside[:-1]
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            source = ".".join([*base, *([node.module] if node.module else [])])
            yield from ((f"{source}.{alias.name}", node.lineno) for alias in node.names)


Function = ast.FunctionDef | ast.AsyncFunctionDef


def functions(path: Path) -> Iterator[Function]:
    """Every function and method of a file."""
    return (node for node in ast.walk(tree(path)) if isinstance(node, Function))


def body_lines(function: Function) -> int:
    """Lines of a function from its `def`, decorators and docstring not counted."""
    lines = (function.end_lineno or function.lineno) - function.lineno + 1
    if ast.get_docstring(function) is not None:
        first = function.body[0]
        lines -= (first.end_lineno or first.lineno) - first.lineno + 1
    return lines


def cited_keys(path: Path) -> set[str]:
    """The source keys that a text file cites."""
    return set(CITATION.findall(path.read_text(encoding="utf-8")))
