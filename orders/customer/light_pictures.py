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

ACROSS_TOP = 1040  # pixels: twice what the page gives it in CSS, so that it is sharp on a fine screen
TOP_BYTES = PHOTO_BYTES = 56_000
ALL_SMALL_BYTES, SEEN_AT_ONCE = 72_000, 28  # a browser fetches no more of them before she scrolls
LEAST_BYTES, MOST_BYTES = 2_200, 6_500  # of a small photo
QUALITIES = (80, 66, 50, 34)


def top(asked: Asked) -> bytes:
    """Return the picture that is asked about as one photo of all of it."""
    return light(quilt_print.top_of(asked.quilt, asked.view(), across=ACROSS_TOP), most=TOP_BYTES)


def photo(file: Path) -> bytes:
    """Return a rendition that is shown alone."""
    return light(_opened(file), most=PHOTO_BYTES)


def small(file: Path, *, among: int) -> bytes:
    """Return a rendition that is shown as one among so many: the more there are, the lighter each."""
    most = ALL_SMALL_BYTES // min(max(among, 1), SEEN_AT_ONCE)
    return light(_opened(file), most=min(max(most, LEAST_BYTES), MOST_BYTES))


def _opened(file: Path) -> Image.Image:
    from PIL import Image

    with Image.open(file, formats=["JPEG"]) as picture:
        return picture.convert("RGB")


def light(picture: Image.Image, *, most: int) -> bytes:
    """Return a picture as a WebP of at most so many bytes: worse in quality first, then with fewer pixels."""
    made = b""
    for quality in QUALITIES:
        made = _webp(picture, quality)
        if len(made) <= most:
            return made
    fewer = min(0.9, (most / len(made)) ** 0.5)
    wide, high = (max(1, int(side * fewer)) for side in picture.size)
    return light(picture.resize((wide, high)), most=most)


def _webp(picture: Image.Image, quality: int) -> bytes:
    out = io.BytesIO()
    picture.save(out, "WEBP", quality=quality, method=4)
    return out.getvalue()
