from __future__ import annotations

import statistics

import pytest

from house.tree import ROOT, body_lines, functions, modules, name_of


def lines_of(path):
    return len(path.read_text(encoding="utf-8").splitlines())


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_file_has_at_most_400_lines(path):
    assert lines_of(path) <= 400


@pytest.mark.parametrize("path", modules(), ids=name_of)
def test_a_function_has_at_most_60_lines(path):
    long = {f"{f.name} (line {f.lineno})": body_lines(f) for f in functions(path) if body_lines(f) > 60}
    assert not long


def test_the_median_file_has_at_most_150_lines():
    assert statistics.median(map(lines_of, modules())) <= 150


@pytest.mark.parametrize("path", modules(ROOT / "tests"), ids=lambda path: path.stem)
def test_a_test_file_has_at_most_500_lines(path):
    assert lines_of(path) <= 500
