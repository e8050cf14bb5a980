"""A photo for the tests."""

from __future__ import annotations

import io

from midframe.photos import clean


def picture():
    """A small grey photo as the store keeps it."""
    import PIL.Image

    held = io.BytesIO()
    PIL.Image.new("RGB", (64, 48), "grey").save(held, "JPEG")
    return clean(held.getvalue())
