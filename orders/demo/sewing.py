"""The small marks of sewing: seams, stitches, ribbing, buttons and insides that lie in shade."""

import numpy as np
from PIL import Image, ImageDraw

from orders.demo.garments import Garment, Line
from orders.demo.light import Field
from orders.demo.pen import OVERSIZE
from orders.demo.table import SIZE, Table, dashed, evenly, pairs

EVEN = 128
"""The gray of the detail layer that leaves the cloth as it is."""


def details(garment: Garment, table: Table) -> Field:
    """Return the light that seams, ribbing, stitches and shaded insides leave, 1 on plain cloth."""
    canvas = Image.new("L", (SIZE[0] * OVERSIZE, SIZE[1] * OVERSIZE), EVEN)
    draw = ImageDraw.Draw(canvas)
    unit = table.inch * OVERSIZE
    for shape in garment.dark:
        draw.polygon(pairs(table.twice(shape)), fill=86)
    for shape in garment.tags:
        draw.polygon(pairs(table.twice(shape)), fill=118)
    for one, other in garment.bands:
        ribbing(draw, table, one, other)
    for line in garment.seams:
        draw.line(pairs(table.twice(line)), fill=84, width=max(2, round(unit * 0.05)), joint="curve")
        draw.line(pairs(table.twice(line) + unit * 0.05), fill=138, width=max(1, round(unit * 0.03)))
    for line in garment.stitches:
        for one, other in dashed(line):
            pair = table.twice(np.array([one, other]))
            draw.line(pairs(pair + unit * 0.02), fill=98, width=max(2, round(unit * 0.045)))
            draw.line(pairs(pair), fill=146, width=max(1, round(unit * 0.025)))
    for x, y, radius in garment.buttons:
        button(draw, table, (x, y), radius)
    return np.asarray(canvas.reduce(OVERSIZE), dtype=np.float32) / np.float32(EVEN)


def ribbing(draw: ImageDraw.ImageDraw, table: Table, one: Line, other: Line) -> None:
    """Draw the ribs of a knit band, ten to an inch, and its two edges."""
    count = int(np.hypot(*np.diff(one, axis=0).T).sum() * 8)
    near, far = (table.twice(evenly(line, count)) for line in (one, other))
    for a, b in zip(near.tolist(), far.tolist(), strict=True):
        draw.line([tuple(a), tuple(b)], fill=110, width=max(2, round(table.inch * OVERSIZE * 0.04)))
    for line, ink in ((near, 90), (far, 84)):
        draw.line(pairs(line), fill=ink, width=max(2, round(table.inch * OVERSIZE * 0.045)), joint="curve")


def button(draw: ImageDraw.ImageDraw, table: Table, at: tuple[float, float], radius: float) -> None:
    x, y = table.twice(np.array([at]))[0].tolist()
    size = radius * table.inch * OVERSIZE
    for grow, shift, ink in ((1.2, 0.22, 70), (1.0, 0, 148), (0.72, 0, 130)):
        r, c = size * grow, size * shift
        draw.ellipse((x - r + c, y - r + c, x + r + c, y + r + c), fill=ink)
    for dx, dy in ((-1, -1), (1, -1), (-1, 1), (1, 1)):
        cx, cy, r = x + dx * size * 0.25, y + dy * size * 0.25, size * 0.13
        draw.ellipse((cx - r, cy - r, cx + r, cy + r), fill=60)
