"""Documents made for print, served by the bench: their styles become linked files, none runs inline."""

from __future__ import annotations

import hashlib
import re
from collections import OrderedDict
from threading import Lock

from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
MOST_STYLES = 64
BAR_STYLE = '<link rel="stylesheet" href="/static/document.css">'


class Styles:
    """Style sheets of the documents that were served last, by the hash of their text."""

    def __init__(self) -> None:
        self._held: OrderedDict[str, str] = OrderedDict()
        self._lock = Lock()

    def keep(self, text: str) -> str:
        """Keep a style sheet and give its name."""
        name = hashlib.sha256(text.encode()).hexdigest()[:32]
        with self._lock:
            self._held[name] = text
            self._held.move_to_end(name)
            while len(self._held) > MOST_STYLES:
                self._held.popitem(last=False)
        return name

    def get(self, name: str) -> str | None:
        """A style sheet by its name, if it is still held."""
        with self._lock:
            return self._held.get(name)


def linked(html: str, styles: Styles) -> str:
    """The document with its styles in one linked file.

    >>> held = Styles()
    >>> made = linked("<html><head><style>p{margin:0}</style></head><body></body></html>", held)
    >>> "<style>" in made, made.count("stylesheet")
    (False, 1)
    """
    texts = list(dict.fromkeys(STYLE.findall(html)))
    if not texts:
        return html
    name = styles.keep("\n".join(texts))
    link = f'<link rel="stylesheet" href="/styles/{name}.css"><link rel="icon" href="/static/icon.svg">'
    return STYLE.sub("", html).replace("</head>", f"{link}</head>", 1)


def document(request: Request, html: str, *, file_name: str = "", bar: str = "") -> Response:
    """A document to look at and print, under a bar of markup; with `file_name` the self-contained one."""
    if file_name:
        disposition = f'attachment; filename="{file_name}"'
        return HTMLResponse(html, headers={"content-disposition": disposition})
    made = linked(html, request.app.state.styles)
    if bar:
        made = made.replace("</head>", BAR_STYLE + "</head>", 1).replace("<body>", "<body>" + bar, 1)
    return HTMLResponse(made)
