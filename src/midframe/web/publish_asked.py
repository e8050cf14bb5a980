"""The question that publishes a device: the folder as one zip file, or the document."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from midframe.publish.site import files_of
from midframe.publish.site_contents import SiteSettings, published
from midframe.publish.site_folder import zipped
from midframe.publish.typeset import pdf
from midframe.record.model import Record


def made(record: Record, options: Mapping[str, Any], tell: Callable[[int, int, str], None]) -> bytes:
    """The bytes to keep; `photos` of the options are the places of clean pictures by hash."""
    settings = SiteSettings(
        language=options["language"],
        paper=options["paper"],
        parts=options["parts"],
        date=options["date"],
        sheets=tuple(options["sheets"]),
    )
    wanted = options["photos"] if "photos" in settings.sheets else {}
    photos = {name: path.read_bytes() for name, place in wanted.items() if (path := Path(place)).is_file()}
    of = published(record, settings, photos=photos, tell=tell)
    return pdf(of, photos) if options["form"] == "pdf" else zipped(files_of(of, photos))
