"""Pictures for her own page, light enough for a phone far away: each a WebP within a number of bytes.

A page and its fonts leave some 75 KB of the 150 for what is seen of it first: one picture of the quilt,
or one photo of it in work, or a dozen small photos of shirts.
"""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING

from orders.quilt import quilt_print
from orders.yes.asked_picture import Asked

if TYPE_CHECKING:
    from PIL import Image

# Pixels: twice what the page gives them in CSS, so that each is sharp on a screen of two pixels to one.
ACROSS_TOP = 1040
SMALL = 320  # a photo of which a dozen are seen at once
TOP_BYTES, PHOTO_BYTES, SMALL_BYTES = 56_000, 56_000, 5_600
QUALITIES = (82, 74, 64, 52, 40, 28)
SMALLER = 0.8  # what is too heavy at its worst is drawn with fewer pixels


def top(asked: Asked) -> bytes:
    """Return the picture that is asked about as one photo of all of it."""
    return light(quilt_print.top_of(asked.quilt, asked.view(), across=ACROSS_TOP), most=TOP_BYTES)


def photo(file: Path, size: int) -> bytes:
    """Return a rendition of a photo in few bytes, by how large it is shown."""
    from PIL import Image

    with Image.open(file, formats=["JPEG"]) as picture:
        return light(picture.convert("RGB"), most=SMALL_BYTES if size <= SMALL else PHOTO_BYTES)


def light(picture: Image.Image, *, most: int) -> bytes:
    """Return a picture as a WebP of at most so many bytes, in the best quality that keeps to them."""
    for quality in QUALITIES:
        made = _webp(picture, quality)
        if len(made) <= most:
            return made
    wide, high = (max(1, round(side * SMALLER)) for side in picture.size)
    return light(picture.resize((wide, high)), most=most)


def _webp(picture: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    picture.save(out, "WEBP", quality=quality, method=4)
    return out.getvalue()
