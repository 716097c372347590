"""Where places on a flat rectangle are seen in a picture, once its four corners are."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planner.units import Size

from .camera import homography, seen_through
from .corners import Points, corners


def seen_on(
    size: Size, corners_px: Points, places: Sequence[tuple[int, int]]
) -> tuple[tuple[float, float], ...]:
    """Return the picture points of places in ticks from a rectangle's top left corner, right and down.

    `corners_px` are its four corners in the picture, from its top left round.
    """
    seen = corners("corners_px", corners_px, sigma=1e-6)
    flat = np.array([[0, 0], [size.width, 0], [size.width, size.height], [0, size.height]], dtype=float)
    scale = float(max(size.width, size.height))
    way = homography(flat / scale, seen)
    at = seen_through(way[None], np.array([places], dtype=float) / scale)[0]
    return tuple((float(x), float(y)) for x, y in at)
