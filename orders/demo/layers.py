"""The large layers of a drawn photograph: silhouette, relief and cloth."""

from collections.abc import Iterable

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from orders.demo.folds import Fold, press
from orders.demo.garments import Garment, Line
from orders.demo.light import CELL, Field, clouds, columned, enlarged, patch, soft
from orders.demo.looks import Box, ShirtLook
from orders.demo.pen import OVERSIZE, rgb
from orders.demo.table import SIZE, Table, pairs

SMALL = (SIZE[0] // CELL, SIZE[1] // CELL)


def silhouette(shapes: Iterable[Line], table: Table) -> Image.Image:
    """Return where the shapes are, with smooth edges."""
    canvas = Image.new("L", (SIZE[0] * OVERSIZE, SIZE[1] * OVERSIZE), 0)
    draw = ImageDraw.Draw(canvas)
    for shape in shapes:
        draw.polygon(pairs(table.twice(shape)), fill=255)
    return canvas.reduce(OVERSIZE)


def without_corners(mask: Image.Image, table: Table) -> Image.Image:
    """Return the mask with its corners rubbed off: cloth has none."""
    blurred = mask.filter(ImageFilter.GaussianBlur(table.inch * 0.13))
    return blurred.point([min(255, max(0, round((value - 127) * 7 + 127))) for value in range(256)])


def in_cells(shapes: Iterable[Line], table: Table) -> Field:
    canvas = Image.new("L", SIZE, 0)
    draw = ImageDraw.Draw(canvas)
    for shape in shapes:
        draw.polygon(pairs(table.place(shape)), fill=255)
    return np.asarray(canvas.reduce(CELL), dtype=np.float32) / np.float32(255)


def relief_of(garment: Garment, table: Table, rng: np.random.Generator) -> Field:
    """Return the height of the cloth in inches, in cells."""
    scale = table.inch / CELL
    relief = clouds(rng, SMALL, lump=(scale * 4, scale * 5)) * np.float32(0.075)
    relief += clouds(rng, SMALL, lump=(scale * 1.3, scale * 1.6)) * np.float32(0.014)
    for fold in garment.folds:
        ends = table.place(np.array([fold.start, fold.end])) / table.inch
        start, end = ((x, y) for x, y in ends.tolist())
        press(relief, Fold(start, end, wide=fold.wide, rise=fold.rise, bend=fold.bend), scale=scale)
    relief += dome(in_cells(garment.parts, table), scale * 0.42) * np.float32(0.2)
    for part in garment.sleeves:
        relief += dome(in_cells([part], table), scale * 0.5) * np.float32(0.09)
    ribs = [np.concatenate([one, other[::-1]]) for one, other in garment.bands]
    relief += soft(in_cells(ribs, table), max(1, round(scale * 0.12))) * np.float32(0.05)
    for part in garment.raised:
        relief += soft(in_cells([part], table), 1) * np.float32(0.055)
    return relief


def dome(mask: Field, reach: float) -> Field:
    """Return a height of 0 at the mask's edge that rises to 1 inside."""
    rise = np.clip(soft(mask, max(1, round(reach))) * 1.5 - 0.5, 0, 1)
    return (rise * (2 - rise)).astype(np.float32)


def cloth_of(
    look: ShirtLook, garment: Garment, table: Table, relief: Field, *, rng: np.random.Generator, box: Box
) -> Field:
    """Return the colors of the cloth inside the box, without light, as three planes."""
    ground = columned(rgb(look.ground))
    cloth = np.zeros((3, SIZE[1], SIZE[0]), dtype=np.float32)
    left, top, right, bottom = box
    part = cloth[:, top:bottom, left:right]
    if look.cloth in ("stripe", "check"):
        share = woven(look, garment, table, relief)[top:bottom, left:right]
        part += ground + share * (second_color(look) - ground)
    else:
        kind, strength = ("heather", 0.043) if look.cloth == "heather" else ("knit", 0.02)
        texture = patch(kind, rng, SIZE)[top:bottom, left:right]
        part += ground + texture * (ground * np.float32(strength) + np.float32(strength * 22))
    if look.trim:
        tint(cloth, silhouette(garment.trims, table), rgb(look.trim))
    if garment.tags:
        tint(cloth, silhouette(garment.tags, table), (236, 232, 222))
    return cloth


def second_color(look: ShirtLook) -> Field:
    ground = columned(rgb(look.ground))
    if look.thread:
        return columned(rgb(look.thread))
    return ground * np.float32(0.62) + (np.float32(70) if ground.mean() < 90 else np.float32(0))


def woven(look: ShirtLook, garment: Garment, table: Table, relief: Field) -> Field:
    """Return how much of the second color shows in a stripe or check, which runs along each sleeve."""
    sway = enlarged(np.gradient(relief, axis=1) * np.float32(0.5), SIZE)
    share = bars(look.cloth, table, lean=table.lean, sway=sway)
    for turn, sleeve in zip((-1, 1), garment.sleeves, strict=False):
        on = np.asarray(silhouette([sleeve], table)) > 128
        inner = np.asarray(silhouette([garment.whole], table)) > 128
        on &= ~inner
        share[on] = bars(look.cloth, table, lean=table.lean + turn * 14, sway=sway)[on]
    return share


def bars(cloth: str, table: Table, *, lean: float, sway: Field) -> Field:
    angle = np.radians(lean)
    x = np.arange(SIZE[0], dtype=np.float32) / np.float32(table.inch)
    y = np.arange(SIZE[1], dtype=np.float32)[:, None] / np.float32(table.inch)
    across = x * np.float32(np.cos(angle)) + y * np.float32(np.sin(angle)) + sway
    down = y * np.float32(np.cos(angle)) - x * np.float32(np.sin(angle))
    if cloth == "stripe":
        return bar(across, 0.55, 0.16) * np.float32(0.85)
    return bar(across, 0.95, 0.34) * np.float32(0.42) + bar(down, 0.95, 0.34) * np.float32(0.42)


def bar(way: Field, apart: float, wide: float) -> Field:
    """Return 1 on bars so wide and so far apart, with an edge one thread soft."""
    off = np.abs(way / np.float32(apart) % 1 - np.float32(0.5)) * np.float32(apart)
    return np.clip((np.float32(wide / 2) - off) / np.float32(0.03) + np.float32(0.5), 0, 1)


def tint(cloth: Field, mask: Image.Image, color: tuple[int, int, int]) -> None:
    box = mask.getbbox()
    if box:
        left, top, right, bottom = box
        cover = np.asarray(mask.crop(box), dtype=np.float32) / np.float32(255)
        part = cloth[:, top:bottom, left:right]
        part += cover * (columned(color) - part)
