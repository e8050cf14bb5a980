from __future__ import annotations

import pytest

from house.tree import PACKAGE, ROOT, cited_keys
from midframe.faults import BadSetting
from midframe.sources import cited, sources

TEXT = {".py", ".toml", ".csv", ".md", ".html"}


def citing_files():
    """Code, data and docs that may cite; the list of sources itself does not count."""
    folders = (PACKAGE, ROOT / "docs", ROOT / "tests")
    files = [path for folder in folders for path in folder.rglob("*") if path.suffix in TEXT]
    return [path for path in files if path.name != "sources.toml" and "house" not in path.parts]


def test_every_cited_key_is_a_source():
    unknown = {
        str(path.relative_to(ROOT)): sorted(keys)
        for path in citing_files()
        if (keys := cited_keys(path) - sources().keys())
    }
    assert not unknown


def test_every_source_is_cited_somewhere():
    used = set().union(*map(cited_keys, citing_files()))
    assert sorted(sources().keys() - used) == []


def test_every_source_says_how_far_it_was_read():
    assert {source.read for source in sources().values()} <= {
        "text",
        "abstract",
        "second-hand",
        "cited only",
    }


def test_an_unknown_key_is_refused_by_name():
    with pytest.raises(BadSetting, match="no-such-source"):
        cited(["no-such-source"])


def test_a_source_prints_as_one_line_of_a_reference_list():
    line = str(sources()["eco-2023-1670"])
    assert line.startswith("[eco-2023-1670] ")
    assert "\n" not in line
