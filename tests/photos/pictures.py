"""Pictures made for the tests: with metadata planted, turned, wide in colour, seen at an angle."""

from __future__ import annotations

import io
import random

from PIL import Image, ImageCms, ImageDraw, PngImagePlugin

SECRET = b"TAKEN-AT-HOME-7731"
"""Planted into every place where a file can carry a note."""


def scene(width=320, height=240, seed=1):
    """A picture with flat fields, lines and noise: each corner has a colour of its own."""
    image = Image.new("RGB", (width, height), (120, 120, 110))
    draw = ImageDraw.Draw(image)
    half = (width // 2, height // 2)
    draw.rectangle((0, 0, half[0], half[1]), (200, 40, 40))
    draw.rectangle((half[0], 0, width, half[1]), (40, 200, 40))
    draw.rectangle((0, half[1], half[0], height), (40, 40, 200))
    rng = random.Random(seed)
    for _ in range(200):
        x, y = rng.randrange(half[0], width), rng.randrange(half[1], height)
        draw.point((x, y), tuple(rng.randrange(256) for _ in range(3)))
    return image


def saved(image, kind="JPEG", **options):
    """The bytes of a picture in a format."""
    target = io.BytesIO()
    image.save(target, format=kind, **options)
    return target.getvalue()


def exif(orientation=1):
    """EXIF with a place, a maker, a comment."""
    tags = Image.Exif()
    tags[0x0112] = orientation
    tags[0x010F] = SECRET.decode()
    tags[0x9286] = SECRET
    tags.get_ifd(0x8825)[1] = "N"
    return tags.tobytes()


def laden(kind="JPEG", image=None, orientation=1):
    """A file with metadata in every place its format has."""
    image = image or scene()
    if kind == "PNG":
        notes = PngImagePlugin.PngInfo()
        notes.add_text("Comment", SECRET.decode())
        notes.add_itxt("Place", SECRET.decode(), zip=True)
        return saved(image, kind, exif=exif(orientation), pnginfo=notes, icc_profile=srgb())
    if kind == "WEBP":
        return saved(image, kind, exif=exif(orientation), xmp=SECRET, icc_profile=srgb(), lossless=True)
    return saved(
        image, kind, exif=exif(orientation), comment=SECRET, xmp=SECRET, icc_profile=srgb(), quality=95
    )


def srgb():
    """The bytes of a colour profile."""
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()


def opened(data):
    """The decoded picture."""
    image = Image.open(io.BytesIO(data))
    image.load()
    return image
