"""Screws: the tally, what is mistaken for what, wrong holes, and the screw sheet to print."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from midframe.faults import BadSetting
from midframe.publish.plan import plan_drawing
from midframe.publish.screw_pages import sheet_html
from midframe.publish.screw_sheet import screw_sheet, sides
from midframe.record.draft import slug
from midframe.record.model import Face, Record
from midframe.screws import mistaken, tally, torque, wrong_holes
from midframe.screws.wording import harm, hole_name, pair_sentence
from midframe.sources import cited
from midframe.web.context import store_of
from midframe.web.documents import document
from midframe.web.render import page

MILD = ("short", "askew", "goes in")
"""Effects that stand folded away: they hold little or spoil a thread, and harm nothing beneath."""


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


def sheet(request: Request) -> Response:
    """The screw sheet at true scale: as a page to print, or as a file to keep."""
    kept = store_of(request).get(request.path_params["id"])
    record, query = kept.record, request.query_params
    wanted = [one for one in sides(record) if query.get("side") in (None, "", one)]
    if not wanted:
        raise BadSetting(
            f"screw sheet: found no screws on this side of {record.device.name}; right: a side that has some"
        )
    lie = {"landscape": True, "upright": False}.get(query.get("lie", ""))
    made = [screw_sheet(record, side, on=query.get("paper", "A4"), landscape=lie) for side in wanted]
    link = f"{request.url.scheme}://{request.url.netloc}/r/{kept.id}" if query.get("codes") == "yes" else ""
    html = sheet_html(made, link=link)
    name = f"{slug(record.device.name)}-screws.html" if query.get("file") == "yes" else ""
    return document(request, html, file_name=name)


routes = (
    Route("/r/{id}/screws", screws),
    Route("/r/{id}/screws/sheet", sheet),
)
