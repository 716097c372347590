"""The color of a shirt as its photo tells it: about right, for a person to correct."""

from __future__ import annotations

from typing import Any

import numpy as np
from PIL import Image

from orders.models import Photo

SEEN = 256  # pixels of the longer side that are looked at
MIDDLE = {"x": 30, "y": 30, "width": 40, "height": 45}


def middle_color(photo: Photo, box: dict[str, Any] | None = None) -> str:
    """Return the middle color, #rrggbb, of a box of the photo given in per cent, or of its center.

    It is the median of each channel: a print that covers less than half of the cloth does not tint
    it, as a mean would. Empty when the file is not there.
    """
    try:
        with Image.open(photo.file, formats=["JPEG"]) as image:
            image.draft("RGB", (SEEN, SEEN))
            small = image.convert("RGB")
    except OSError:
        return ""
    small.thumbnail((SEEN, SEEN))
    part = small.crop(_pixels(box or MIDDLE, small.width, small.height))
    pixels = np.asarray(part).reshape(-1, 3)
    return "#" + "".join(f"{int(channel):02x}" for channel in np.median(pixels, axis=0))


def _pixels(box: dict[str, Any], width: int, height: int) -> tuple[int, int, int, int]:
    left, top = int(box["x"]) * width // 100, int(box["y"]) * height // 100
    right = max(left + 1, (int(box["x"]) + int(box["width"])) * width // 100)
    bottom = max(top + 1, (int(box["y"]) + int(box["height"])) * height // 100)
    return left, top, min(right, width), min(bottom, height)
