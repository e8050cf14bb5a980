"""Bytes that claim to be a picture, really decoded: upright, in sRGB, as plain red, green, blue."""

from __future__ import annotations

import contextlib
import io
from typing import TYPE_CHECKING

from midframe.faults import BadPhoto, TooLarge

if TYPE_CHECKING:
    from PIL.Image import Image

FORMATS = ("JPEG", "PNG", "WEBP")

HEIF_BRANDS = frozenset(
    {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"avif", b"avis"}
)
"""Brands of the container that many phones write by default (from memory)."""

TAKEN = "right: a JPEG, PNG or WebP file"


def decode(data: bytes, most_pixels: int) -> Image:
    """The picture, upright, in sRGB, in mode RGB, transparency laid on white, without anything attached.

    Raises `BadPhoto` for what cannot be decoded to the last pixel, `TooLarge` before decoding too many.
    """
    import PIL.Image

    refuse_by_sight(data)
    try:
        with PIL.Image.open(io.BytesIO(data), formats=FORMATS) as opened:
            check_size(opened.size, most_pixels)
            opened.load()
            return plain(upright(opened))
    except (BadPhoto, TooLarge):
        raise
    except PIL.UnidentifiedImageError as trouble:
        raise BadPhoto(f"photo: found a file that is no picture; {TAKEN}") from trouble
    except (PIL.Image.DecompressionBombError, PIL.Image.DecompressionBombWarning) as trouble:
        raise TooLarge(f"photo: found too many pixels; right: at most {most_pixels:,}") from trouble
    except Exception as trouble:
        # Whatever a decoder trips over in hostile bytes is a fault of those bytes.
        raise BadPhoto(
            f"photo: found a broken picture ({trouble}); right: the whole file, as the camera wrote it"
        ) from trouble


def refuse_by_sight(data: bytes) -> None:
    """Tell an empty file, and the container of many phones, by name."""
    if not data:
        raise BadPhoto(f"photo: found an empty file; {TAKEN}")
    if data[4:8] == b"ftyp" and data[8:12] in HEIF_BRANDS:
        raise BadPhoto(
            "photo: found a HEIF picture (.heic, .avif), which is not decoded here; "
            f"{TAKEN}. Set the camera to JPEG, or share the photo as JPEG, and send it again"
        )


def check_size(size: tuple[int, int], most_pixels: int) -> None:
    """Refuse more pixels than are decoded."""
    if size[0] * size[1] > most_pixels:
        raise TooLarge(
            f"photo: found {size[0]} × {size[1]} pixels; right: at most {most_pixels:,} pixels in all. "
            "Take it at a lower resolution"
        )


def upright(image: Image) -> Image:
    """The picture turned as its orientation tag says; a tag that cannot be read turns nothing."""
    from PIL import ImageOps

    try:
        return ImageOps.exif_transpose(image)
    except Exception:  # the pixels are whole, only what is attached is broken
        return image


def plain(image: Image) -> Image:
    """The picture in sRGB and mode RGB."""
    image = eight_bits(image)
    profile = image.info.get("icc_profile")
    if "A" in image.getbands() or "transparency" in image.info:
        image = on_white(image)
    return in_srgb(image, profile) if profile else image.convert("RGB")


def eight_bits(image: Image) -> Image:
    """Sixteen bits of grey brought down to eight; the conversion of the library would cut off at 255."""
    if not image.mode.startswith("I"):
        return image
    return image.convert("I").point(lambda value: value / 257).convert("L")


def on_white(image: Image) -> Image:
    """What is transparent laid on white paper."""
    import PIL.Image

    layer = image.convert("RGBA")
    ground = PIL.Image.new("RGBA", layer.size, "white")
    return PIL.Image.alpha_composite(ground, layer).convert("RGB")


def in_srgb(image: Image, profile: bytes) -> Image:
    """The picture with its colours moved from its own profile to sRGB; a broken profile is ignored."""
    from PIL import ImageCms

    with contextlib.suppress(ImageCms.PyCMSError, OSError, ValueError):
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        moved = ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode="RGB")
        if moved is not None:
            return moved
    return image.convert("RGB")
