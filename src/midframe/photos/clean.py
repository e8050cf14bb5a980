"""A photo as the store keeps it: really decoded, upright, in sRGB, without metadata, in three sizes."""

from __future__ import annotations

import hashlib
import io
from typing import TYPE_CHECKING

import msgspec

from midframe.faults import BadPhoto
from midframe.photos.decode import decode
from midframe.photos.segments import PICTURE_ONLY, segments

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 50_000_000
"""Pixels that are decoded at most: a camera of 50 megapixels (common practice, no source)."""

FULL_PX = 4096
"""Longest side of the full picture; what is longer is shrunk (own choice)."""

MEDIUM_PX = 1600
"""Longest side of the picture on a page (own choice)."""

SMALL_PX = 320
"""Longest side of the thumbnail (own choice)."""

QUALITY = 85
"""JPEG quality of every size (own choice)."""


class CleanPhoto(msgspec.Struct, frozen=True, kw_only=True):
    """One photo in three sizes, each a JPEG that carries nothing but its pixels.

    `hash` is the SHA-256 of `full` in hexadecimal; `width` and `height` are those of `full` in pixels.
    """

    hash: str
    full: bytes
    medium: bytes
    small: bytes
    width: int
    height: int


def clean(data: bytes, *, most_pixels: int = MOST_PIXELS) -> CleanPhoto:
    """Decode a JPEG, PNG or WebP file and make the photo that is kept: the same bytes in, the same bytes out.

    Raises
    ------
    BadPhoto
        When the file is no picture, a broken one, or of another format.
    TooLarge
        When it has more pixels than `most_pixels`; told before anything is decoded.
    """
    return photo_of(decode(data, most_pixels))


def adopt(full: bytes, *, most_pixels: int = MOST_PIXELS) -> CleanPhoto:
    """Take a full picture made here earlier (an archive, a backup) byte for byte, so that its hash stays.

    Raises
    ------
    BadPhoto
        When it is no such picture: another format, a segment with metadata, bytes behind its end, broken.
    TooLarge
        When it has more pixels than `most_pixels`.
    """
    carried = segments(full)
    if foreign := [name for name in carried if name not in PICTURE_ONLY]:
        raise BadPhoto(
            f"photo: found a JPEG that carries {', '.join(foreign)}; right: a picture without metadata, "
            "as midframe writes it. Add it as a new photo instead"
        )
    image = decode(full, most_pixels)
    return sizes_of(image, full)


def photo_of(image: Image) -> CleanPhoto:
    """The kept photo of a decoded picture.

    The smaller sizes are made from the full JPEG, not from the picture: so they are the same
    when the full one is read back later.
    """
    full = encoded(fitted(image, FULL_PX))
    return sizes_of(decode(full, MOST_PIXELS), full)


def sizes_of(image: Image, full: bytes) -> CleanPhoto:
    """The photo of a full JPEG and its decoded picture."""
    return CleanPhoto(
        hash=hashlib.sha256(full).hexdigest(),
        full=full,
        medium=encoded(fitted(image, MEDIUM_PX)),
        small=encoded(fitted(image, SMALL_PX)),
        width=image.width,
        height=image.height,
    )


def fitted(image: Image, longest_px: int) -> Image:
    """The picture, shrunk where a side is longer than this; never enlarged."""
    import PIL.Image

    longest = max(image.size)
    if longest <= longest_px:
        return image
    width, height = (max(1, round(side * longest_px / longest)) for side in image.size)
    return image.resize((width, height), PIL.Image.Resampling.LANCZOS)


def encoded(image: Image) -> bytes:
    """The picture as a JPEG without metadata.

    Colour is kept at full resolution: blocks of 8 × 8 pixels then know nothing of their
    neighbours, which is what blacking out rests on.
    """
    import PIL.Image

    bare = PIL.Image.new("RGB", image.size)
    bare.paste(image)
    target = io.BytesIO()
    bare.save(target, format="JPEG", quality=QUALITY, subsampling=0, optimize=False, progressive=False)
    return target.getvalue()
