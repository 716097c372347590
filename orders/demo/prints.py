"""Prints on shirts: pictures, words and numbers put together, inked, and bent a little by the cloth."""

import numpy as np
from PIL import Image

from orders.demo.letters import length_of, write
from orders.demo.light import Field, patch
from orders.demo.looks import ShirtLook
from orders.demo.motifs import MOTIFS
from orders.demo.pen import Pen, Points, rgb

Rect = tuple[float, float, float, float]
BENDS = 9.0
NET = 12
"""Pixels between the knots of the net that bends a print."""


def draw_print(pen: Pen, look: ShirtLook, rect: Rect) -> None:
    """Fill the rectangle (left, top, right, bottom in the pen's units) with what the shirt says."""
    left, top, right, bottom = rect
    wide, tall = right - left, bottom - top
    if look.motif:
        middle_top, middle_bottom = top, bottom
        if look.words:
            middle_top += min(tall * 0.27, wide * 0.28)
            write(pen, look.words[0], box=(left, top, wide, min(tall * 0.25, wide * 0.26)), arch=0.45)
        foot = [*look.words[1:], *([look.number] if look.number else [])]
        if foot:
            middle_bottom -= tall * 0.12 * len(foot)
            lines(pen, foot, (left + wide * 0.1, middle_bottom + tall * 0.02, right - wide * 0.1, bottom))
        picture(pen, look, (left, middle_top, right, middle_bottom))
    elif look.number:
        head = tall * 0.24 if look.words else 0
        if look.words:
            write(pen, look.words[0], box=(left, top, wide, head * 0.92))
        write(pen, look.number, box=(left, top + head, wide, tall - head), fat=1.45)
    elif look.words:
        lines(pen, look.words, rect)


def palette(look: ShirtLook) -> tuple[str, ...]:
    """Return three inks for a picture; those that are missing are the first one, thinned with the cloth."""
    thin = tuple(mixed(look.colors[0], look.ground, share) for share in (0.62, 0.36))
    return (*look.colors, *thin[min(2, len(look.colors) - 1) :])


def mixed(ink: str, cloth: str, share: float) -> str:
    parts = (round(a * share + b * (1 - share)) for a, b in zip(rgb(ink), rgb(cloth), strict=True))
    return "#" + "".join(f"{part:02X}" for part in parts)


def lines(pen: Pen, words: tuple[str, ...] | list[str], rect: Rect) -> None:
    """Write the words under each other, the first larger when there are many."""
    left, top, right, bottom = rect
    shares = [1.7 if row == 0 and len(words) > 2 else 1.0 for row in range(len(words))]
    unit = (bottom - top) / sum(shares)
    for text, share in zip(words, shares, strict=True):
        along = max(length_of(other) for other, same in zip(words, shares, strict=True) if same == share)
        write(pen, text, box=(left, top, right - left, unit * share * 0.9), along=along)
        top += unit * share


def picture(pen: Pen, look: ShirtLook, rect: Rect) -> None:
    """Draw the motif as large as the rectangle lets it be, stretched by a tenth at most."""
    left, top, right, bottom = rect
    side = min(right - left, bottom - top)
    wide, tall = min(right - left, side * 1.1), min(bottom - top, side * 1.1)
    corner = np.array([(left + right - wide) / 2, (top + bottom - tall) / 2])
    outer = pen.place

    def place(points: Points) -> np.ndarray:
        return outer(np.asarray(points, dtype=float) * (wide / 100, tall / 100) + corner)

    draw = MOTIFS[look.motif or ""]
    draw(Pen(pen.canvas, palette(look), place=place, scale=pen.scale * side / 100))


def bent(ink: Image.Image, relief: Field, *, inch: float) -> Field:
    """Return the ink as planes of color and cover (0 to 255), pushed aside where the cloth slopes."""
    wide, tall = ink.size
    columns, rows = ([*range(0, side, NET), side] for side in (wide, tall))
    down, right = (np.asarray(slope)[::NET, ::NET] * (inch * BENDS) for slope in np.gradient(relief))

    def source(row: int, column: int) -> tuple[float, float]:
        at = min(row, down.shape[0] - 1), min(column, down.shape[1] - 1)
        return columns[column] + float(right[at]), rows[row] + float(down[at])

    net = [
        (
            (columns[x], rows[y], columns[x + 1], rows[y + 1]),
            (*source(y, x), *source(y + 1, x), *source(y + 1, x + 1), *source(y, x + 1)),
        )
        for y in range(len(rows) - 1)
        for x in range(len(columns) - 1)
    ]
    moved = ink.transform(ink.size, Image.Transform.MESH, net, Image.Resampling.BILINEAR)
    return np.moveaxis(np.asarray(moved.convert("RGBa"), dtype=np.float32), 2, 0)


def worn(size: tuple[int, int], rng: np.random.Generator) -> Field:
    """Return how much of the ink is still there: the weave shows through, more on an old shirt."""
    age = rng.uniform(0, 1) ** 2
    fine = patch("film", rng, size) + np.float32(0.6) * patch("knit", rng, size)
    return np.clip(np.float32(1.22 - age * 0.26) + fine * np.float32(0.03 + age * 0.10), 0.25, 0.97)
