"""Screws: the tally, what is mistaken for what, wrong holes, and the screw sheet to print."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from types import MappingProxyType

import msgspec
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.publish.language import language_names
from midframe.publish.plan import plan_drawing
from midframe.publish.screw_files import SheetOptions, html_of, svg_of
from midframe.publish.screw_sheet import sides
from midframe.publish.site_screws import MILD
from midframe.record.draft import slug
from midframe.record.model import Face, Record
from midframe.screws import mistaken, tally, torque, wrong_holes
from midframe.screws.wording import harm, hole_name, pair_sentence
from midframe.sources import cited
from midframe.store import Kept
from midframe.web.choices import one_of
from midframe.web.context import store_of
from midframe.web.documents import document
from midframe.web.pages.instruction import PAPERS
from midframe.web.render import page, wants_fragment
from midframe.web.waiting import asked, shown


def screws(request: Request) -> Response:
    """Everything about the screws of one record."""
    kept = store_of(request).get(request.path_params["id"])
    record, found = kept.record, tally(kept.record)
    torques = {one.id: torque(record, one) for one in record.joints if one.kind == "screw"}
    hazards = [(one, hole_name(record, one), harm(one)) for one in wrong_holes(record)]
    keys = {"iso-965-2", "iso-10664"} | {one.source for one in torques.values() if one and one.source}
    kinds = {line.letter: line for line in found.kinds}
    alike = [one for one in mistaken(record) if one.thread == "same" and one.bit != "no"]
    return page(
        request,
        "screws.html",
        kept=kept,
        sheet="screws",
        sheet_title="Screws",
        tally=found,
        torques=torques,
        names={one.id: one.name for one in record.parts},
        pairs=[pair_sentence(one, kinds) for one in alike],
        grave=[one for one in hazards if one[0].effect not in MILD],
        mild=[one for one in hazards if one[0].effect in MILD],
        plans=plans(record),
        sources=cited(keys),
        papers=PAPERS.items(),
        lies=LIES.items(),
        all_sides=SIDES.items(),
        labels=LABELS.items(),
        languages=language_names().items(),
    )


def plans(record: Record) -> list[tuple[Face, str]]:
    """The plan of every side that has screws with places, as a drawing."""
    made = []
    for side in sides(record):
        joints = [one for one in record.joints if one.kind == "screw" and (one.face or side) == side]
        drawn = plan_drawing(record, joints, up=side)
        if drawn:
            made.append((side, drawn))
    return made


LIES: Mapping[str, str] = MappingProxyType(
    {"": "as takes fewer pages", "upright": "upright", "landscape": "landscape"}
)
SIDES: Mapping[str, str] = MappingProxyType({"": "all with screws", "back": "back", "front": "front"})
LABELS: Mapping[str, str] = MappingProxyType(
    {"all": "bag and every tray", "with screws": "bag and trays with screws", "none": "none"}
)
"""What may be chosen of a screw sheet, and the words for it."""

PDF_SECONDS = 6.0
"""How long the request for a PDF waits before the page shows the progress: house choice."""


def sheet(request: Request) -> Response:
    """The screw sheet at true scale: as a page to print, or as a file to keep."""
    kept, query = store_of(request).get(request.path_params["id"]), request.query_params
    options = wanted(request, kept.id)
    stem = f"{slug(kept.record.device.name)}-screws"
    match query.get("file", ""):
        case "pdf":
            return as_pdf(request, kept, options, f"{stem}.pdf")
        case "svg":
            return as_svg(svg_of(kept.record, options), stem)
        case "html" | "yes":
            return document(request, html_of(kept.record, options), file_name=f"{stem}.html")
        case _:
            return document(request, html_of(kept.record, options))


def wanted(request: Request, name: str) -> SheetOptions:
    """What the address says of the sheet."""
    query = request.query_params
    link = f"{request.url.scheme}://{request.url.netloc}/r/{name}" if query.get("codes") == "yes" else ""
    said = {
        "paper": one_of(query, "paper", PAPERS),
        "lie": one_of(query, "lie", LIES) or None,
        "side": one_of(query, "side", SIDES) or None,
        "labels": one_of(query, "labels", LABELS),
        "mirrored": query.get("mirrored") == "yes",
        "link": link,
        "language": one_of(query, "language", language_names()),
    }
    return msgspec.convert(said, SheetOptions)


def as_pdf(request: Request, kept: Kept, options: SheetOptions, name: str) -> Response:
    """The sheet as PDF, or how far it is."""
    answer = asked(request, "screw-sheet", kept.record, msgspec.to_builtins(options), wait=PDF_SECONDS)
    if answer.status == "done" and not wants_fragment(request):
        head = {"content-disposition": f'attachment; filename="{name}"'}
        return Response(answer.value, media_type="application/pdf", headers=head)
    return shown(
        request, "screws_pdf.html", answer, kept=kept, sheet="screws", sheet_title="Screw sheet as PDF"
    )


def as_svg(pages: Sequence[str], stem: str) -> Response:
    """One page as SVG, several as an archive of numbered ones."""
    if len(pages) == 1:
        head = {"content-disposition": f'attachment; filename="{stem}.svg"'}
        return Response(pages[0], media_type="image/svg+xml", headers=head)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for number, page_ in enumerate(pages, start=1):
            archive.writestr(zipfile.ZipInfo(f"{stem}-{number}.svg"), page_, zipfile.ZIP_DEFLATED)
    head = {"content-disposition": f'attachment; filename="{stem}.zip"'}
    return Response(packed.getvalue(), media_type="application/zip", headers=head)


routes = (
    Route("/r/{id}/screws", screws),
    Route("/r/{id}/screws/sheet", sheet),
)
