"""Photos of a record: taken or chosen, shown, told what they show, blacked out where they show too much."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import FileResponse, Response
from starlette.routing import Route

from midframe.faults import BadPhoto, BadSetting, TooLarge, UnknownRecord
from midframe.photos import black_out, clean
from midframe.record.model import Photo, Record
from midframe.store import Kept
from midframe.store.shapes import Size
from midframe.web.context import now, person, store_of
from midframe.web.faults import status_of
from midframe.web.forms import files, key_of, posted, text, whole
from midframe.web.keeping import keep, onward
from midframe.web.render import page, see_other

SIZES: tuple[Size, ...] = ("small", "medium", "full")


def photos(request: Request) -> Response:
    """Every photo of the record."""
    kept = store_of(request).get(request.path_params["id"])
    return page(request, "photos.html", **listed(kept))


def listed(kept: Kept, **more: Any) -> dict[str, Any]:
    """What the sheet of photos shows."""
    return {
        "kept": kept,
        "sheet": "photos",
        "sheet_title": "Photos",
        "parts": {part.id: part.name for part in kept.record.parts},
        "shown_at": logged(kept.record),
        "faults": (),
        **more,
    }


def logged(record: Record) -> dict[str, float]:
    """The second of the log at which a photo was taken."""
    return {entry.photo: entry.seconds for entry in record.log if entry.photo}


@posted
def take(request: Request, form: FormData) -> Response:
    """Keep photos and put them into the record; each is decoded, turned upright and stripped first."""
    store, name, key = store_of(request), request.path_params["id"], key_of(request, form)
    kept, made = store.get(name, whole(form, "base")), list[str]()
    faults: list[BadPhoto | TooLarge] = []
    given = files(form, "photo")
    if not given:
        faults.append(BadPhoto("No photo came with the form; take or choose one."))
    for place, (file, data) in enumerate(given):
        try:
            row = store.keep_photo(name, clean(data), at=now(), key=f"{key}-photo-{place}" if key else "")
        except (BadPhoto, TooLarge) as fault:
            faults.append(type(fault)(f"{file}: {fault}"))
        else:
            made.append(row.hash)
    if made:
        record = with_photos(kept.record, made, text(form, "caption", 400), form.getlist("parts"))
        keep(request, form, kept, record, f"{len(made)} photo{'s' if len(made) > 1 else ''} added")
    return answered(request, name, faults)


def with_photos(record: Record, hashes: list[str], caption: str, parts: list[Any]) -> Record:
    """The record with more photos; those it has already stay as they are."""
    known = {photo.hash for photo in record.photos}
    ids = {part.id for part in record.parts}
    shown = tuple(part for part in parts if part in ids)
    added = [
        Photo(hash=one, caption=caption, parts=shown) for one in dict.fromkeys(hashes) if one not in known
    ]
    return replace(record, photos=(*record.photos, *added))


def answered(request: Request, name: str, faults: list[BadPhoto | TooLarge]) -> Response:
    """What the outbox, or a person, gets after sending photos."""
    if faults:
        told = listed(store_of(request).get(name), faults=[str(fault) for fault in faults])
        return page(request, "photos.html", max(map(status_of, faults)), **told)
    outbox = request.headers.get("swap") == "outbox"
    return Response(status_code=204) if outbox else see_other(f"/r/{name}/photos")


def photo(request: Request) -> Response:
    """One photo: what it shows, and blacking out."""
    kept = store_of(request).get(request.path_params["id"])
    return page(request, "photo.html", **single(request, kept))


def single(request: Request, kept: Kept, **more: Any) -> dict[str, Any]:
    """What the sheet of one photo shows."""
    one = photo_of(kept, request.path_params["hash"])
    rows = {row.hash: row for row in store_of(request).photos(kept.id)}
    return {
        "kept": kept,
        "sheet": "photos",
        "sheet_title": "Photo",
        "photo": one,
        "row": rows.get(one.hash),
        "parts": [part for part in kept.record.parts if part.id != kept.record.device.body],
        "fault": "",
        **more,
    }


def photo_of(kept: Kept, name: str) -> Photo:
    """The photo of an address; raises `UnknownRecord`."""
    found = next((one for one in kept.record.photos if one.hash == name), None)
    if found is None:
        raise UnknownRecord(f"found no photo '{name[:12]}' in {kept.name}; right: one of its sheet Photos")
    return found


@posted
def describe(request: Request, form: FormData) -> Response:
    """What a photo shows, in words and parts."""
    store, name = store_of(request), request.path_params["id"]
    base = whole(form, "base")
    kept = store.get(name, base)
    one = photo_of(kept, request.path_params["hash"])
    ids = {part.id for part in kept.record.parts}
    shown = tuple(part for part in form.getlist("parts") if part in ids)
    told = replace(one, caption=text(form, "caption", 400), parts=tuple(map(str, shown)))
    changed = tuple(told if other.hash == one.hash else other for other in kept.record.photos)
    saved = keep(request, form, kept, replace(kept.record, photos=changed), "photo described")
    return onward(saved, f"/r/{name}/photos/{one.hash}")


@posted
def cover(request: Request, form: FormData) -> Response:
    """Black out a rectangle of a photo for good: in every copy, every revision, every export to come."""
    store, name = store_of(request), request.path_params["id"]
    kept = store.get(name)
    one = photo_of(kept, request.path_params["hash"])
    edges = [whole(form, field) for field in ("left", "top", "right", "bottom")]
    left, top, right, bottom = (-1 if edge is None else edge for edge in edges)
    if min(left, top) < 0 or right <= left or bottom <= top:
        said = "The area needs left, top, right and bottom in pixels, right beyond left and bottom below top."
        return page(request, "photo.html", 422, **single(request, kept, fault=said))
    try:
        made = black_out(
            store.photo(one.hash, "full").read_bytes(),
            [((left, top), (right, top), (right, bottom), (left, bottom))],
        )
    except BadSetting as fault:
        return page(request, "photo.html", 422, **single(request, kept, fault=str(fault)))
    store.replace_photo(name, one.hash, made, author=person(request), at=now(), key=key_of(request, form))
    return see_other(f"/r/{name}/photos/{made.hash}")


def picture(request: Request) -> Response:
    """The file of a photo in one size; asked for anew each time, so that what was blacked out is gone."""
    size = request.path_params["size"]
    for one in SIZES:
        if one == size:
            path = store_of(request).photo(request.path_params["hash"], one)
            return FileResponse(path, media_type="image/jpeg", headers={"cache-control": "no-cache"})
    raise UnknownRecord(f"found the size '{size[:20]}'; right: {', '.join(SIZES)}")


routes = (
    Route("/r/{id}/photos", photos, methods=["GET"]),
    Route("/r/{id}/photos", take, methods=["POST"]),
    Route("/r/{id}/photos/{hash}", photo, methods=["GET"]),
    Route("/r/{id}/photos/{hash}", describe, methods=["POST"]),
    Route("/r/{id}/photos/{hash}/black-out", cover, methods=["POST"]),
    Route("/photo/{hash}/{size}.jpg", picture),
)
