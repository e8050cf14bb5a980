"""Whatever file is sent: it is taken whole or refused in words, and what was there before is untouched."""

from __future__ import annotations

import io
import random
import zipfile
import zlib

import pytest
from PIL import Image

from midframe import demo
from midframe.record import write
from web.conftest import AT

ROUNDS = 60


@pytest.fixture
def tern(store):
    """The id of a record on the shelf."""
    return store.new(demo.load("tern-3"), at=AT).id


def jpeg(size=(90, 60), **options):
    data = io.BytesIO()
    Image.effect_noise(size, 60).convert("RGB").save(data, "JPEG", **options)
    return data.getvalue()


def spoilt(data, source):
    """The same bytes cut, flipped, doubled or filled at random."""
    data, kind = bytearray(data), source.randrange(4)
    at = source.randrange(len(data))
    if kind == 0:
        return bytes(data[:at])
    if kind == 1:
        for _ in range(source.randrange(1, 30)):
            data[source.randrange(len(data))] = source.randrange(256)
    elif kind == 2:
        data[at:at] = data[: source.randrange(len(data))]
    else:
        data[at : at + 40] = source.randbytes(source.randrange(80))
    return bytes(data)


def zipped(**members):
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return data.getvalue()


def photo_sent(client, record_id, data, name="a.jpg", kind="image/jpeg"):
    return client.post(
        f"/r/{record_id}/photos",
        files={"photo": (name, data, kind)},
        data={"base": "1"},
        headers={"Swap": "outbox"},
    )


def archive_sent(client, data, name="a.zip"):
    return client.post("/import", files={"file": (name, data, "application/zip")}, data={"key": "k"})


def files_in(folder):
    return {path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("midframe.db")}


@pytest.mark.slow
def test_a_spoilt_photo_is_kept_whole_or_refused_in_words(client, store, tern, tmp_path):
    source, whole, answers = random.Random(1), jpeg(), set()
    for _ in range(ROUNDS):
        answer = photo_sent(client, tern, spoilt(whole, source))
        answers.add(answer.status_code)
        assert answer.status_code in (204, 413, 422)
        assert answer.status_code == 204 or "right" in answer.text
    assert {204, 422} <= answers
    for row in store.photos(tern):
        with Image.open(store.photo(row.hash, "full")) as kept:
            assert kept.size == (row.width, row.height)
    assert len(files_in(tmp_path)) == 3 * len(store.photos(tern))


@pytest.mark.slow
def test_a_spoilt_archive_comes_in_whole_or_is_refused_in_words(client, store, tern, tmp_path):
    photo_sent(client, tern, jpeg())
    source, whole = random.Random(2), store.export(tern)
    before, refused = files_in(tmp_path), 0
    for number in range(ROUNDS):
        answer = client.post(
            "/api/import",
            content=spoilt(whole, source),
            headers={"Content-Type": "application/zip", "Idempotency-Key": f"z-{number}"},
        )
        assert answer.status_code in (201, 413, 422)
        if answer.status_code == 201:
            assert answer.json()["record"]["device"]["name"] == "Tern 3"
        else:
            refused += 1
            assert "right" in answer.json()["fault"] or "found" in answer.json()["fault"]
    assert refused > ROUNDS / 4
    assert files_in(tmp_path) == before
    assert store.get(tern).name == "Tern 3"


@pytest.mark.parametrize(
    "name",
    ["../../evil.txt", "/etc/evil.txt", "photos/../../evil.jpg", "..\\evil.jpg", "a\x01b.jpg", "C:evil"],
)
def test_no_name_in_an_archive_leads_out_of_the_folder(client, store, tmp_path, name):
    data = zipped(**{"record.device.toml": write(demo.load("tern-3")), name: b"x", "manifest.json": b"{}"})
    before = files_in(tmp_path.parent)
    answer = archive_sent(client, data)
    assert answer.status_code == 422
    assert files_in(tmp_path.parent) == before
    assert store.shelf().total == 0


def test_a_zip_bomb_is_refused_before_it_is_unpacked(client, store):
    data = zipped(**{"record.device.toml": b" " * 300_000_000})
    assert len(data) < 400_000
    answer = archive_sent(client, data)
    assert answer.status_code in (413, 422)
    assert store.shelf().total == 0


def test_an_archive_of_very_many_files_is_refused(client, store):
    data = zipped(**{f"photos/{number}.jpg": b"" for number in range(30_000)})
    assert archive_sent(client, data).status_code in (413, 422)
    assert store.shelf().total == 0


def png_that_says(width, height):
    """A picture of few bytes that says it is huge."""

    def chunk(kind, content):
        return len(content).to_bytes(4) + kind + content + zlib.crc32(kind + content).to_bytes(4)

    head = width.to_bytes(4) + height.to_bytes(4) + b"\x08\x02\x00\x00\x00"
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    )


def test_a_picture_with_too_many_pixels_is_refused_with_413_before_it_is_decoded(client, tern):
    answer = client.post(
        f"/api/records/{tern}/photos",
        content=png_that_says(60_000, 60_000),
        headers={"Content-Type": "image/png"},
    )
    assert answer.status_code == 413


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        b"GIF89a" + b"\x00" * 40,
        b"%PDF-1.7",
        b"<html><script>alert(1)</script></html>",
    ],
)
def test_what_is_no_photo_is_refused_whatever_it_is_called(client, store, tern, data):
    answer = photo_sent(client, tern, data, "holiday.jpg", "image/jpeg")
    assert answer.status_code == 422
    assert store.photos(tern) == ()


@pytest.mark.parametrize(
    "name", ["../../x.jpg", "/etc/passwd", "x" * 5000, "\u202egpj.exe", "", "a\x00b.jpg"]
)
def test_the_name_of_a_photo_leads_nowhere(client, store, tern, tmp_path, name):
    answer = photo_sent(client, tern, jpeg(), name or "blob")
    if len(name) > 4000:  # the head of a part is bounded, like that of a request
        assert answer.status_code == 400
        return
    assert answer.status_code == 204
    (row,) = store.photos(tern)
    assert all(path.is_relative_to(tmp_path / "photos") for path in files_in(tmp_path))
    assert row.hash in str(store.photo(row.hash, "full"))


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")  # the form reader's own files
def test_a_spoilt_form_is_no_fault_of_the_server(client, tern):
    source = random.Random(3)
    body = (
        b'--x\r\nContent-Disposition: form-data; name="verb"\r\n\r\nnote\r\n'
        b'--x\r\nContent-Disposition: form-data; name="note"\r\n\r\nswollen\r\n'
        b'--x\r\nContent-Disposition: form-data; name="photo"; filename="a.jpg"\r\n'
        b"Content-Type: image/jpeg\r\n\r\n" + jpeg((20, 20)) + b"\r\n--x--\r\n"
    )
    for _ in range(ROUNDS):
        answer = client.post(
            f"/r/{tern}/bench/moves",
            content=spoilt(body, source),
            headers={"Content-Type": "multipart/form-data; boundary=x", "Swap": "outbox"},
        )
        assert answer.status_code < 500
