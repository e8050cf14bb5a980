"""Read a label from a photo with the optional offline reader; what it read is a proposal to be confirmed."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib import import_module
from importlib.util import find_spec
from io import BytesIO
from typing import Any, TypeAlias

import msgspec

from midframe.battery.label import Figure, Label, figures_in
from midframe.faults import LogFault, lacking
from midframe.record import Finding

LONGEST_PIXELS = 2000
"""A photo is made no larger than this before it is read; house choice, for time."""

TURNS = (0, 90, 180, 270)

Line: TypeAlias = tuple[str, float]
"""A line of text and how sure the reader is of it, 0 to 1."""

Engine: TypeAlias = Callable[[Any], Sequence[Line]]
"""Takes a picture as an array of rows, columns and colours, gives its lines from top to bottom."""


class ReadLabel(msgspec.Struct, frozen=True, kw_only=True):
    """What was read from a photo, not yet confirmed by a person.

    `turned_degrees` is how far the photo was turned against the clock before it was read; `lines` with
    their certainty 0 to 1 as the reader gave them; `figures` those with a unit of a label.
    """

    lines: tuple[Line, ...]
    figures: tuple[Figure, ...]
    turned_degrees: int

    def confirmed(self, figures: Sequence[Figure] | None = None) -> Label:
        """The label once a person has looked at the figures, and perhaps put some right."""
        kept = self.figures if figures is None else tuple(figures)
        return Label(figures=kept, origin="photo", confirmed=True)

    def unconfirmed(self) -> Label:
        """The label as read, marked as not confirmed."""
        return Label(figures=self.figures, origin="photo", confirmed=False)


def read_photo(data: bytes, engine: Engine | None = None, *, name: str = "photo") -> ReadLabel:
    """Read the figures of a label from the bytes of a photo, in all four turns, and keep the best.

    Parameters
    ----------
    data
        A picture file as it comes from a camera.
    engine
        What turns a picture into lines; by default the reader of the extra `reader`, which needs no network.
    name
        Name of the file in messages.

    Raises
    ------
    BadSetting
        Where the reader is not installed.
    LogFault
        Where the data is no picture.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    try:
        picture = ImageOps.exif_transpose(Image.open(BytesIO(data))).convert("RGB")
    except (UnidentifiedImageError, OSError, Image.DecompressionBombError, ValueError, SyntaxError) as error:
        found = "no picture that can be read" if data else "an empty file"
        right = f"a photo as JPEG or PNG ({type(error).__name__})"
        raise LogFault([Finding("fault", name, "", "", found, right)]) from None
    picture.thumbnail((LONGEST_PIXELS, LONGEST_PIXELS))
    read = engine or installed_engine()
    best: ReadLabel | None = None
    for turn in TURNS:
        lines = tuple(read(as_array(picture.rotate(turn, expand=True))))
        figures = figures_in(text for text, _ in lines)
        found_now = ReadLabel(lines=lines, figures=figures, turned_degrees=turn)
        if best is None or rank(found_now) > rank(best):
            best = found_now
    assert best is not None  # noqa: S101 (there are four turns)
    return best


def rank(read: ReadLabel) -> tuple[int, float]:
    """How good a turn is: figures of different kinds, then how sure the reader is in all."""
    kinds = {(figure.quantity, figure.kind) for figure in read.figures}
    return len(kinds), sum(len(text) * sure for text, sure in read.lines)


def as_array(picture: Any) -> Any:
    """The picture as an array, blue first, as the reader takes it."""
    import numpy as np

    return np.asarray(picture)[:, :, ::-1].copy()


def installed() -> bool:
    """Whether the extra `reader` is installed; nothing of it is loaded for that."""
    return find_spec("rapidocr") is not None


def installed_engine() -> Engine:
    """The reader of the extra `reader`; raises `BadSetting` where it is not installed."""
    try:
        rapidocr = import_module("rapidocr")
    except ImportError:
        raise lacking("reading a photo", "rapidocr onnxruntime", "reader") from None
    engine = rapidocr.RapidOCR(params={"Global.log_level": "error"})

    def lines(picture: Any) -> Sequence[Line]:
        result = engine(picture)
        if result is None or result.txts is None or result.boxes is None:
            return ()
        rows = zip(result.boxes, result.txts, result.scores, strict=True)
        found = [
            (float(min(point[1] for point in box)), text, score * upright(box)) for box, text, score in rows
        ]
        return [(str(text), float(sure)) for _, text, sure in sorted(found)]

    return lines


def upright(box: Sequence[Sequence[float]]) -> float:
    """One for a box that is wider than high, a half for one on its end: then another turn is right.

    >>> upright([[0, 0], [9, 0], [9, 2], [0, 2]]), upright([[0, 0], [2, 0], [2, 9], [0, 9]])
    (1.0, 0.5)
    """
    across, down = ([point[axis] for point in box] for axis in (0, 1))
    return 1.0 if max(across) - min(across) >= max(down) - min(down) else 0.5
