"""The color of a shirt as its photo tells it: about right, for a person to correct."""

from __future__ import annotations

from typing import Any

import numpy as np
from PIL import Image

from orders.models import Photo

SEEN = 256  # pixels of the longer side that are looked at
MIDDLE = {"x": 35, "y": 35, "width": 30, "height": 30}


def middle_color(photo: Photo, box: dict[str, Any] | None = None) -> str:
    """Return the mean color, #rrggbb, of a box of the photo given in per cent, or of its middle.

    The mean is taken in linear light (sRGB decoded by IEC 61966-2-1), as light itself mixes. Empty
    when the file is not there.
    """
    try:
        with Image.open(photo.file, formats=["JPEG"]) as image:
            image.draft("RGB", (SEEN, SEEN))
            small = image.convert("RGB")
    except OSError:
        return ""
    small.thumbnail((SEEN, SEEN))
    part = small.crop(_pixels(box or MIDDLE, small.width, small.height))
    light = _to_light(np.asarray(part, dtype=np.float64) / 255)
    mean = _to_screen(light.reshape(-1, 3).mean(axis=0))
    return "#" + "".join(f"{round(float(channel) * 255):02x}" for channel in mean)


def _pixels(box: dict[str, Any], width: int, height: int) -> tuple[int, int, int, int]:
    left, top = int(box["x"]) * width // 100, int(box["y"]) * height // 100
    right = max(left + 1, (int(box["x"]) + int(box["width"])) * width // 100)
    bottom = max(top + 1, (int(box["y"]) + int(box["height"])) * height // 100)
    return left, top, min(right, width), min(bottom, height)


def _to_light(screen: Any) -> Any:
    return np.where(screen <= 0.04045, screen / 12.92, ((screen + 0.055) / 1.055) ** 2.4)


def _to_screen(light: Any) -> Any:
    return np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
