"""Photos: kept once, stripped, blacked out for good; what is no photo is told."""

from __future__ import annotations

import io
import zipfile

import pytest
from PIL import Image

from midframe.demo import load
from midframe.photos import segments
from web.conftest import AT


def jpeg(colour=(200, 40, 40), size=(640, 480)):
    """A photo that carries a place and a device in its metadata, with a white patch."""
    image = Image.new("RGB", size, colour)
    image.paste((255, 255, 255), (100, 100, 200, 160))
    exif = Image.Exif()
    exif[0x010F] = "An invented maker"
    exif.get_ifd(0x8825)[1] = "N"
    held = io.BytesIO()
    image.save(held, "JPEG", exif=exif, quality=95)
    return held.getvalue()


@pytest.fixture
def record(store):
    return store.new(load("tern-2"), at=AT).id


def send(client, record, data, **fields):
    return client.post(
        f"/r/{record}/photos",
        files={"photo": ("p.jpg", data)},
        data=fields,
        headers=fields.pop("headers", {}),
    )


def test_a_photo_is_kept_stripped_and_shown_in_three_sizes(client, store, record):
    assert b"invented maker" in jpeg()
    assert send(client, record, jpeg(), caption="Back off", parts="battery").status_code == 303
    (photo,) = store.get(record).record.photos
    assert (photo.caption, photo.parts) == ("Back off", ("battery",))
    for size in ("small", "medium", "full"):
        answer = client.get(f"/photo/{photo.hash}/{size}.jpg")
        assert answer.status_code == 200
        assert not any(name.startswith("APP1") for name in segments(answer.content))
        assert b"invented maker" not in answer.content
    assert photo.hash in client.get(f"/r/{record}/photos").text


def test_the_same_sending_twice_counts_once(client, store, record):
    for _ in range(2):
        answer = client.post(
            f"/r/{record}/photos",
            files={"photo": ("p.jpg", jpeg())},
            headers={"Swap": "outbox", "Idempotency-Key": "k7"},
        )
        assert answer.status_code == 204
    assert len(store.get(record).record.photos) == 1
    assert store.get(record).revision == 2


@pytest.mark.parametrize(
    "data",
    [b"no picture", b"", jpeg()[:900], b"\0\0\0\x18ftypheic" + bytes(64)],
    ids=["text", "none", "torn", "heic"],
)
def test_what_is_no_photo_is_told_and_nothing_changes(client, store, record, data):
    answer = send(client, record, data)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text
    assert store.get(record).revision == 1


def test_a_blacked_out_area_is_gone_from_every_copy_and_the_export(client, store, record):
    send(client, record, jpeg(), caption="Label")
    (before,) = store.get(record).record.photos
    answer = client.post(
        f"/r/{record}/photos/{before.hash}/black-out",
        data={"left": "90", "top": "90", "right": "210", "bottom": "170"},
    )
    assert answer.status_code == 303
    (after,) = store.get(record).record.photos
    assert after.hash != before.hash
    assert after.caption == "Label"
    for revision in range(2, store.get(record).revision + 1):
        assert {photo.hash for photo in store.get(record, revision).record.photos} == {after.hash}
    pictures = [client.get(f"/photo/{name.hash}/full.jpg").content for name in (before, after)]
    with zipfile.ZipFile(io.BytesIO(client.get(f"/r/{record}/export?originals=yes").content)) as archive:
        pictures += [archive.read(name) for name in archive.namelist() if name.endswith(".jpg")]
    assert len(pictures) >= 3
    for data in pictures:
        image = Image.open(io.BytesIO(data))
        scale = image.width / 640
        assert max(image.getpixel((int(150 * scale), int(130 * scale)))) < 20


def test_an_area_that_is_none_is_told(client, store, record):
    send(client, record, jpeg())
    (photo,) = store.get(record).record.photos
    for area in ({}, {"left": "5", "top": "5", "right": "5", "bottom": "9"}):
        answer = client.post(f"/r/{record}/photos/{photo.hash}/black-out", data=area)
        assert answer.status_code == 422
    assert store.get(record).record.photos == (photo,)


def test_words_and_parts_of_a_photo_are_kept(client, store, record):
    send(client, record, jpeg())
    (photo,) = store.get(record).record.photos
    client.post(f"/r/{record}/photos/{photo.hash}", data={"caption": "Coil", "parts": ["battery", "nothing"]})
    (told,) = store.get(record).record.photos
    assert (told.caption, told.parts) == ("Coil", ("battery",))


def test_a_photo_that_is_not_there_is_told(client, record):
    assert client.get(f"/r/{record}/photos/{'0' * 64}").status_code == 404
    assert client.get(f"/photo/{'0' * 64}/small.jpg").status_code == 404
    assert client.get("/photo/..%2f..%2fetc/small.jpg").status_code == 404


def test_a_picture_of_too_many_pixels_is_refused_before_it_is_decoded(client, store, record):
    held = io.BytesIO()
    Image.new("1", (30_000, 30_000)).save(held, "PNG")
    answer = send(client, record, held.getvalue())
    assert answer.status_code == 413
    assert 'role="alert"' in answer.text
    assert store.get(record).revision == 1
