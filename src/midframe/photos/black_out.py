"""Covering a place of a photo for good: a serial number, a face. What was under it is in no size any more."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

from midframe.faults import BadSetting
from midframe.photos.clean import MOST_PIXELS, CleanPhoto, photo_of
from midframe.photos.decode import decode

if TYPE_CHECKING:
    from PIL.Image import Image

BLOCK_PX = 8
"""Side of the blocks in which a JPEG codes its pixels [itu-t81, clause A.1.1]."""

Point = tuple[float, float]
Area = tuple[float, float, float, float] | Sequence[Point]
"""A box (left, top, right, bottom) or a polygon, in pixels of the full picture from its upper left corner."""


def black_out(photo: CleanPhoto | bytes, areas: Sequence[Area]) -> CleanPhoto:
    """The photo with these areas filled with flat black, all sizes made anew from the covered picture.

    Each area is widened to whole blocks of the JPEG. Pixels around a place share their block with
    it, and the coding leaves traces of the one in the other; so the whole block goes.

    Parameters
    ----------
    photo
        A kept photo, or the bytes of its full picture.
    areas
        Boxes (left, top, right, bottom) or polygons ((x, y), …), in pixels of the full picture.

    Raises
    ------
    BadSetting
        When there is no area, or one that is empty or lies outside the picture.
    BadPhoto
        When the bytes are no picture.

    References
    ----------
    [itu-t81, clause A.1.1] for the blocks; widening to them: own construction.
    """
    if not areas:
        raise BadSetting("black out: found no area; right: at least one box or polygon")
    image = decode(photo if isinstance(photo, bytes) else photo.full, MOST_PIXELS)
    mask = mask_of(image.size, [polygon(area, index) for index, area in enumerate(areas)])
    image.paste((0, 0, 0), (0, 0), mask)
    return photo_of(image)


def polygon(area: Area, index: int) -> list[Point]:
    """An area as the corners of a polygon; raises `BadSetting` where it is none."""
    flat = [value for item in area for value in (item if isinstance(item, Sequence) else (item,))]
    if not all(math.isfinite(value) for value in flat):
        raise BadSetting(f"black out, area {index + 1}: found a coordinate that is no number")
    if len(area) == 4 and not isinstance(area[0], Sequence):
        left, top, right, bottom = flat
        if left >= right or top >= bottom:
            raise BadSetting(
                f"black out, area {index + 1}: found {left:g}, {top:g}, {right:g}, {bottom:g}; "
                "right: left before right, top before bottom"
            )
        return [(left, top), (right, top), (right, bottom), (left, bottom)]
    if len(flat) < 6 or len(flat) != 2 * len(area):
        raise BadSetting(
            f"black out, area {index + 1}: found {len(area)} corners; right: at least 3 of x and y"
        )
    return list(zip(flat[::2], flat[1::2], strict=True))


def mask_of(size: tuple[int, int], polygons: Sequence[Sequence[Point]]) -> Image:
    """White where a block of the JPEG is touched by an area, black elsewhere."""
    import PIL.Image
    from PIL import ImageDraw

    across, down = (math.ceil(side / BLOCK_PX) for side in size)
    whole = PIL.Image.new("L", (across * BLOCK_PX, down * BLOCK_PX))
    for index, corners in enumerate(polygons):
        one = PIL.Image.new("L", size)
        ImageDraw.Draw(one).polygon(
            [(min(max(x, -9e4), 9e4), min(max(y, -9e4), 9e4)) for x, y in corners], 255, 255
        )
        if one.getbbox() is None:
            raise BadSetting(
                f"black out, area {index + 1}: found a place outside the picture; "
                f"right: within {size[0]} × {size[1]} pixels"
            )
        whole.paste(255, (0, 0), one)
    blocks = whole.reduce(BLOCK_PX).point(lambda value: 255 if value else 0)
    return blocks.resize(whole.size, PIL.Image.Resampling.NEAREST).crop((0, 0, *size))
