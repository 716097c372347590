"""A sheet of paper or a bank card laid on a shirt, by which its print can be measured on the photograph."""

from __future__ import annotations

import numpy as np
from PIL import Image, ImageDraw

from orders.demo.garments import Rect
from orders.demo.light import CELL, Field, Sun, columned, enlarged, shadow
from orders.demo.pen import OVERSIZE, turned
from orders.demo.table import SIZE, Table

# Letter paper lying across, and a card by ISO/IEC 7810 ID-1, in inches.
THINGS = {"letter": (11.0, 8.5), "card": (85.6 / 25.4, 53.98 / 25.4)}
COLORS = {"letter": (244, 243, 238), "card": (52, 74, 112)}
BELOW = 0.9

Corners = tuple[tuple[float, float], ...]


def lay_known(
    scene: Field, kind: str, *, rect: Rect, table: Table, sun: Sun, rng: np.random.Generator
) -> Corners:
    """Lay it below the print, a little askew; return its corners in pixels, clockwise."""
    wide, high = THINGS[kind]
    middle = np.array([(rect[0] + rect[2]) / 2 + rng.uniform(-0.5, 0.5), rect[3] + BELOW + high / 2])
    half = np.array([(-wide, -high), (wide, -high), (wide, high), (-wide, high)]) / 2
    points = table.place(turned(half, float(rng.uniform(-4, 4))) + middle)
    mask = _mask(points)
    scene *= enlarged(shadow(_in_small(mask), inch=table.inch, sun=sun, lift=0.08), SIZE)
    share = np.asarray(mask, dtype=np.float32) / np.float32(255)
    scene += share * (columned(COLORS[kind]) * np.float32(0.97) - scene)
    return tuple((float(x), float(y)) for x, y in points)


def _mask(points: np.ndarray) -> Image.Image:
    canvas = Image.new("L", (SIZE[0] * OVERSIZE, SIZE[1] * OVERSIZE), 0)
    ImageDraw.Draw(canvas).polygon([tuple(point) for point in (points * OVERSIZE).tolist()], fill=255)
    return canvas.reduce(OVERSIZE)


def _in_small(mask: Image.Image) -> Field:
    return np.asarray(mask.reduce(CELL), dtype=np.float32) / np.float32(255)
