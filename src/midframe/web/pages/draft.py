"""From spoken notes: captions become a draft, looked through item by item, and then a record."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting, Fault
from midframe.narration import Begun, Review, Step, draft_of, read_captions
from midframe.narration.captions import Captions
from midframe.narration.review import FACTS, FIELDS, MOVES, Doing
from midframe.narration.wording import GRADES, details, item_words
from midframe.web import drafts
from midframe.web.context import now, person, store_of
from midframe.web.forms import files, key_of, posted, text, whole
from midframe.web.render import fragment, page, page_or_fragment, see_other, wants_fragment

LONGEST = 1_500_000
"""Signs of captions that are taken at once."""

DOING: tuple[Doing, ...] = get_args(Doing)

LABELS: Mapping[str, tuple[str, str]] = {
    "verb": ("What was done", ""),
    "part": ("Part", ""),
    "to": ("Held to, or led to", ""),
    "count": ("How many", ""),
    "drive": ("Drive and size", ""),
    "thread": ("Thread", ""),
    "length_mm": ("Length", "mm"),
    "seconds": ("Took", "s"),
    "celsius": ("Temperature", "°C"),
    "tools": ("Tools, with commas", ""),
    "label": ("On the label", ""),
    "value": ("Figure", ""),
    "unit": ("Unit", ""),
    "without": ("Parts that need not come out, with commas", ""),
    "fact": ("How it is held", ""),
}
"""Each field of an item with its label and unit."""


def start(request: Request) -> Response:
    """The form for captions, and the drafts that are kept."""
    return page(request, "draft.html", **offered(request))


def offered(request: Request, **more: Any) -> dict[str, Any]:
    """What the first page shows."""
    return {"drafts": drafts.listed(store_of(request)), "typed": {}, "faults": (), **more}


@posted
def begin(request: Request, form: FormData) -> Response:
    """Read captions and keep their draft; what was typed comes back with what is wrong."""
    typed = {name: text(form, name, LONGEST) for name in ("captions", "name", "kind", "clock", "invented")}
    given = files(form, "file")
    try:
        captions, file = read(typed["captions"], given)
        begun = Begun(
            name=typed["name"] or named_after(file),
            kind="tablet" if typed["kind"] == "tablet" else "phone",
            invented=bool(typed["invented"]),
            clock=bool(typed["clock"]),
            draft=draft_of(captions),
            damaged=tuple(f"{one.path}: {one.found}" for one in captions.damaged),
        )
    except Fault as fault:
        faults = str(fault).splitlines()
        return page(request, "draft.html", 422, **offered(request, typed=typed, faults=faults))
    key = key_of(request, form)
    name = drafts.begin(store_of(request), begun, at=now(), author=person(request), key=key)
    return see_other(f"/draft/{name}")


def read(typed: str, given: list[tuple[str, bytes]]) -> tuple[Captions, str]:
    """The captions of a file, else those that were pasted, with a name for them."""
    if not given:
        return read_captions(typed, "what was pasted"), ""
    name, data = given[0]
    if len(data) > LONGEST * 4:
        raise BadSetting(f"{name}: found {len(data)} bytes; right: captions of at most {LONGEST * 4}")
    return read_captions(data.decode("utf-8-sig", "replace"), name), name


def named_after(file: str) -> str:
    """A name for the device where none was typed."""
    stem = file.rpartition(".")[0].replace("_", " ").strip()
    return stem[:1].upper() + stem[1:] if stem else "Device without a name"


def shown(request: Request, **more: Any) -> dict[str, Any]:
    """What the page of one draft shows."""
    store, name = store_of(request), request.path_params["draft"]
    known = drafts.one_listed(store, name)
    now_: Review = more.pop("review", None) or drafts.review_of(store, name)
    return {
        "draft": known,
        "review": now_,
        "aside": [(place, one) for place, one in now_.aside.items() if not one.idle],
        "grades": GRADES,
        "fields": FIELDS,
        "labels": LABELS,
        "verbs": MOVES,
        "facts": FACTS,
        "words": item_words,
        "details": details,
        "failed": 0,
        "typed": {},
        "fault": "",
        **more,
    }


def looked(request: Request) -> Response:
    """One draft, all its items on one page."""
    return page_or_fragment(request, "draft_items.html", "items", **shown(request))


@posted
def step(request: Request, form: FormData) -> Response:
    """Confirm, correct or throw out one item; it is kept at once."""
    name, number = request.path_params["draft"], whole(form, "number") or 0
    do = next((one for one in DOING if one == text(form, "do")), None)
    typed = {key: text(form, key, 400) for key in LABELS if key in form}
    try:
        if do is None:
            raise BadSetting("what to do: found nothing; right: confirm, correct or throw out")
        after = drafts.take_step(
            store_of(request),
            name,
            Step(do=do, number=number, fields=typed if do == "correct" else {}),
            at=now(),
            author=person(request),
            key=key_of(request, form),
        )
    except BadSetting as fault:
        context = shown(request, failed=number, typed=typed, fault=str(fault))
        return page_or_fragment(request, "draft_items.html", "items", 422, **context)
    if wants_fragment(request):
        return fragment(request, "draft_items.html", "items", **shown(request, review=after))
    return see_other(f"/draft/{name}#item-{number}" if do != "keep as a note" else f"/draft/{name}#aside")


@posted
def make(request: Request, form: FormData) -> Response:  # noqa: ARG001 (all there is to know is kept)
    """Make the record and go to it."""
    try:
        record = drafts.make_record(
            store_of(request), request.path_params["draft"], at=now(), author=person(request)
        )
    except BadSetting as fault:
        return page(request, "draft_items.html", 422, **shown(request, fault=str(fault)))
    return see_other(f"/r/{record}")


routes = (
    Route("/draft", start),
    Route("/draft", begin, methods=["POST"]),
    Route("/draft/{draft}", looked),
    Route("/draft/{draft}/items", step, methods=["POST"]),
    Route("/draft/{draft}/record", make, methods=["POST"]),
)
