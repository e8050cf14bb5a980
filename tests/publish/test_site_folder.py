from __future__ import annotations

from pathlib import Path

import pytest

from midframe.publish.site_folder import exchanged


@pytest.fixture
def folders(tmp_path):
    """A folder that was published, and the one that is to take its place."""
    for name in ("site", "new"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "index.html").write_text(name)
    return tmp_path


def failing(monkeypatch, numbers, error):
    """Let the renames of these numbers fail."""
    plain, done = Path.rename, []

    def rename(path, target):
        done.append(target)
        if len(done) in numbers:
            raise error
        return plain(path, target)

    monkeypatch.setattr(Path, "rename", rename)


def test_the_new_folder_takes_the_place_of_the_old_one_and_nothing_is_left_beside_it(folders):
    exchanged(folders / "new", folders / "site")
    assert [path.name for path in folders.iterdir()] == ["site"]
    assert (folders / "site/index.html").read_text() == "new"


@pytest.mark.parametrize("error", [OSError(), KeyboardInterrupt()])
def test_the_old_folder_comes_back_where_the_exchange_is_broken_off(folders, monkeypatch, error):
    failing(monkeypatch, {2}, error)
    with pytest.raises(type(error)):
        exchanged(folders / "new", folders / "site")
    assert (folders / "site/index.html").read_text() == "site"
    assert sorted(path.name for path in folders.iterdir()) == ["new", "site"]


def test_an_old_folder_that_cannot_come_back_is_not_deleted(folders, monkeypatch):
    failing(monkeypatch, {2, 3}, OSError())
    with pytest.raises(OSError, match=r"^$"):
        exchanged(folders / "new", folders / "site")
    (kept,) = folders.glob(".site-old-*/site/index.html")
    assert kept.read_text() == "site"
