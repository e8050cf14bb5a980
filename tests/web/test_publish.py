from __future__ import annotations

import io
import re
import zipfile

import msgspec
import PIL.Image
import pytest

from midframe.demo import load
from midframe.photos import black_out, clean
from midframe.record.model import Photo
from midframe.web.pages.publish import SHEETS
from web.conftest import AT, settled

pytestmark = pytest.mark.slow

FEW = "form=folder&parts=priority&with=lists&with=photos"


@pytest.fixture
def tern(store):
    """Tern 2 on the shelf; gives its id."""
    return store.new(load("tern-2"), at=AT).id


def picture(colour):
    held = io.BytesIO()
    PIL.Image.new("RGB", (320, 240), colour).save(held, "JPEG")
    return clean(held.getvalue())


def archive_of(client, address):
    settled(client, address)
    answer = client.get(address.replace("/publish?", "/publish/file?"))
    assert answer.headers["content-type"] == "application/zip"
    return answer, zipfile.ZipFile(io.BytesIO(answer.content))


def test_the_form_offers_everything_and_nothing_is_computed_for_it(client, tern):
    page = client.get(f"/r/{tern}/publish")
    assert page.status_code == 200
    assert re.findall(r'name="with" value="([a-z]+)" checked', page.text) == list(SHEETS)
    assert "Deutsch" in page.text
    assert 'aria-current="page">Publish' in page.text


def test_what_is_chosen_is_made_and_kept_as_one_file(client, tern):
    answer, archive = archive_of(client, f"/r/{tern}/publish?{FEW}&language=de")
    assert answer.headers["content-disposition"] == 'attachment; filename="tern-2-de.zip"'
    names = archive.namelist()
    assert "index.html" in names
    assert "lists/parts.csv" in names
    assert "screws.html" not in names
    assert b'<html lang="de">' in archive.read("index.html")
    page = settled(client, f"/r/{tern}/publish?{FEW}&language=de").text
    assert "Keep the zip file" in page
    assert re.findall(r'name="with" value="([a-z]+)" checked', page) == ["lists", "photos"]


def test_a_blacked_out_photo_is_published_as_it_is_now(client, store, tern):
    first = picture("red")
    kept = store.get(tern)
    store.keep_photo(tern, first, at=AT)
    record = msgspec.structs.replace(kept.record, photos=(Photo(hash=first.hash, caption="Board"),))
    store.save(tern, record, base=kept.revision, summary="photo", author="", at=AT)
    _, archive = archive_of(client, f"/r/{tern}/publish?{FEW}")
    assert archive.read(f"photos/{first.hash}.jpg") == first.medium
    covered = black_out(first, [(0, 0, 320, 240)])
    store.replace_photo(tern, first.hash, covered, author="", at=AT)
    _, archive = archive_of(client, f"/r/{tern}/publish?{FEW}")
    assert [name for name in archive.namelist() if name.startswith("photos/")] == [
        f"photos/{covered.hash}.jpg"
    ]


def test_the_document_is_made_too(client, tern):
    pytest.importorskip("typst")
    address = f"/r/{tern}/publish?form=pdf&parts=priority&with=screws"
    assert "Keep the document" in settled(client, address).text
    answer = client.get(address.replace("/publish?", "/publish/file?"))
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF")


def test_a_choice_that_is_not_known_is_refused_in_words(client, tern):
    page = client.get(f"/r/{tern}/publish?form=scroll")
    assert page.status_code == 422
    assert "it may be folder, pdf" in page.text


def test_a_file_that_is_not_made_yet_leads_to_the_page(client, tern):
    answer = client.get(f"/r/{tern}/publish/file?form=folder&parts=all&language=de&date=never")
    assert answer.status_code == 303
    assert answer.headers["location"].startswith(f"/r/{tern}/publish?form=folder")
