"""Pages from templates: whole, or one block alone for a part of a page that is swapped in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import jinja2
from markupsafe import Markup
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from midframe import __version__
from midframe.web import edit_views, telling, words
from midframe.web.context import new_key, person, settings_of


def environment() -> jinja2.Environment:
    """The templates of the pages: escaped by default, an unknown name is an error."""
    made = jinja2.Environment(
        loader=jinja2.PackageLoader("midframe.web"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters.update(words.FILTERS)
    made.filters.update(telling.FILTERS)
    made.filters["entry"] = edit_views.shown
    made.globals["version"] = __version__
    made.globals["drawn"] = Markup  # SVG of midframe.publish, whose texts are escaped there
    return made


def page(request: Request, name: str, status: int = 200, **context: Any) -> HTMLResponse:
    """A whole page from `templates/name`."""
    template = request.app.state.templates.get_template(name)
    return HTMLResponse(template.render({**common(request), **addressed(context)}), status_code=status)


def fragment(request: Request, name: str, block: str, status: int = 200, **context: Any) -> HTMLResponse:
    """One block of a template alone, what `swap.js` puts in the place of its target."""
    template = request.app.state.templates.get_template(name)
    made = template.new_context({**common(request), **addressed(context)})
    return HTMLResponse(
        "".join(template.blocks[block](made)), status_code=status, headers={"Fragment": block}
    )


def page_or_fragment(
    request: Request, name: str, block: str, status: int = 200, **context: Any
) -> HTMLResponse:
    """The block where the page's script asked for it, the whole page otherwise."""
    if wants_fragment(request):
        return fragment(request, name, block, status, **context)
    return page(request, name, status, **context)


def wants_fragment(request: Request) -> bool:
    """Whether `swap.js` asks, which puts a part of a page in its place."""
    return "swap" in request.headers


def see_other(address: str) -> Response:
    """After a change: the browser is sent to a page, so that a reload changes nothing twice."""
    return RedirectResponse(address, status_code=303)


def common(request: Request) -> Mapping[str, Any]:
    """What every template may use."""
    return {
        "request": request,
        "path": request.url.path,
        "person": person(request),
        "theme": request.cookies.get("theme", ""),
        "hints": request.cookies.get("hints", "") != "off",
        "share": settings_of(request).share,
        "new_key": new_key,
    }


def addressed(context: Mapping[str, Any]) -> dict[str, Any]:
    """The context with `at`, the address of the record whose sheet it is."""
    kept = context.get("kept")
    return {**({} if kept is None else {"at": f"/r/{kept.id}"}), **context}
