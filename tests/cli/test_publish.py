from __future__ import annotations

import io
from pathlib import Path

import msgspec
import PIL.Image
import pytest

from cli.small import SMALL, data, run
from midframe.publish import site_folder
from midframe.publish.site import MANIFEST, Manifest

HASH = "b" * 64


@pytest.fixture
def pictured(tmp_path, narrow):
    """The small phone with a photo beside it that carries its place and the device that took it."""
    text = SMALL + f'\n[[photos]]\nhash = "{HASH}"\ncaption = "Lid off"\n'
    (tmp_path / "wren.device.toml").write_text(text, encoding="utf-8")
    (tmp_path / "photos").mkdir()
    image, held = PIL.Image.new("RGB", (640, 480), "grey"), io.BytesIO()
    exif = image.getexif()
    exif[0x010F], exif[0x9003] = "SECRETMAKER", "2026:01:02 03:04:05"
    exif.get_ifd(0x8825)[1] = "N"
    image.save(held, "JPEG", exif=exif)
    (tmp_path / "photos" / f"{HASH}.jpg").write_bytes(held.getvalue())
    return "wren.device.toml"


def files(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in Path(folder).rglob("*")
        if path.is_file()
    }


def test_the_folder_holds_what_its_manifest_names(small):
    result = run("publish", small)
    assert result.exit_code == 0, result.output
    assert result.output == f"Wren: {len(files('wren-site'))} files in wren-site, begin with index.html\n"
    manifest = msgspec.json.decode(Path("wren-site", MANIFEST).read_bytes(), type=Manifest)
    assert set(manifest.files) == set(files("wren-site")) - {MANIFEST}


def test_an_unchanged_folder_is_replaced_and_nothing_is_left_beside_it(small):
    run("publish", small, "-o", "out/site")
    first = files("out/site")
    assert run("publish", small, "-o", "out/site").exit_code == 0
    assert files("out/site") == first
    assert run("publish", small, "-o", "out/site", "--language", "de", "--without", "index").exit_code == 0
    assert "repairability.html" not in files("out/site")
    assert [path.name for path in Path("out").iterdir()] == ["site"]


@pytest.mark.parametrize("change", ["changed", "added", "linked"])
def test_a_folder_in_which_something_was_changed_is_left_alone(small, change):
    run("publish", small, "-o", "site")
    if change == "changed":
        Path("site/index.html").write_text("my own words")
    elif change == "added":
        Path("site/notes.txt").write_text("my own words")
    else:
        Path("site/index.html").unlink()
        Path("site/index.html").symlink_to(Path(small).resolve())
    before = files("site")
    result = run("publish", small, "-o", "site")
    assert result.exit_code == 1
    assert ("notes.txt" if change == "added" else "index.html") in result.stderr
    assert "right: a new folder, or an empty one" in result.stderr
    assert files("site") == before


def test_a_folder_of_something_else_is_left_alone_and_an_empty_one_is_taken(small):
    Path("other").mkdir()
    Path("other/thesis.txt").write_text("a year of work")
    result = run("publish", small, "-o", "other")
    assert result.exit_code == 1
    assert "thesis.txt" in result.stderr
    assert files("other") == {"thesis.txt": b"a year of work"}
    Path("empty").mkdir()
    assert run("publish", small, "-o", "empty").exit_code == 0
    assert run("publish", small, "-o", small).exit_code == 1


def test_a_write_that_fails_leaves_the_older_folder_as_it_was(small, monkeypatch):
    run("publish", small, "-o", "site")
    before = files("site")

    def full(_folder, _files):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(site_folder, "written", full)
    result = run("publish", small, "-o", "site", "--language", "de")
    assert result.exit_code == 1
    assert "site: found no space left on device" in result.stderr
    assert files("site") == before
    assert sorted(path.name for path in Path().iterdir()) == ["site", small]


def test_photos_beside_the_record_come_without_what_they_carried(pictured):
    assert b"SECRETMAKER" in Path("photos", f"{HASH}.jpg").read_bytes()
    assert run("publish", pictured).exit_code == 0
    published = files("wren-site")[f"photos/{HASH}.jpg"]
    assert b"SECRETMAKER" not in published
    assert dict(PIL.Image.open(io.BytesIO(published)).getexif()) == {}
    assert b'alt="Lid off"' in files("wren-site")["photos.html"]


def test_a_broken_photo_is_named_and_left_out(pictured):
    Path("photos", f"{HASH}.jpg").write_bytes(b"no picture")
    result = run("publish", pictured)
    assert result.exit_code == 0
    assert f"photos/{HASH}.jpg" in result.stderr
    assert "left out" in result.stderr
    assert "photos.html" not in files("wren-site")


def test_the_document_alone_is_written_where_no_folder_is_wanted(small):
    pytest.importorskip("typst")
    assert run("publish", small, "--no-folder", "--pdf", "wren.pdf").exit_code == 0
    assert Path("wren.pdf").read_bytes().startswith(b"%PDF")
    assert not Path("wren-site").exists()
    again = run("publish", small, "--no-folder", "--pdf", "wren.pdf")
    assert again.exit_code == 1
    assert "found a file of this name" in again.stderr
    assert run("publish", small, "--no-folder").exit_code == 1


def test_the_json_names_every_file(small):
    found = data("publish", small, "-o", "site")
    assert sorted(found["files"]) == sorted(files("site"))
    assert (found["folder"], found["pdf"]) == ("site", None)


def test_a_language_that_is_not_known_is_told_before_anything_is_written(small):
    result = run("publish", small, "--language", "tlh")
    assert result.exit_code == 1
    assert "it may be en or de" in result.stderr
    assert not Path("wren-site").exists()


def test_command_page_and_library_name_the_same_sheets():
    from midframe.cli.publish import SHEETS
    from midframe.publish import site_contents
    from midframe.web.pages import publish

    assert SHEETS == site_contents.SHEETS == tuple(publish.SHEETS)
