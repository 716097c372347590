"""Drawn photographs of garments: one call draws one picture, the same for the same look and seed."""

import numpy as np
from PIL import Image

from orders.demo import tailored
from orders.demo.backdrops import backdrop
from orders.demo.garments import Garment, Rect, knit_top
from orders.demo.known_sizes import lay_known
from orders.demo.layers import cloth_of, relief_of, silhouette, without_corners
from orders.demo.light import CELL, Field, Sun, enlarged, photographed, shade, shadow
from orders.demo.looks import Box, Drawn, ShirtLook
from orders.demo.pen import OVERSIZE, Pen
from orders.demo.prints import bent, draw_print, worn
from orders.demo.sewing import details
from orders.demo.table import SIZE, Table, spread, wobble

TAILORED = {"dress shirt": tailored.dress_shirt, "robe": tailored.robe, "apron": tailored.apron}
SMALL_PRINT = 4.5
MARGIN = 1.1
PLAIN_PANEL = 12.0


def shirt_photo(look: ShirtLook, *, seed: int) -> Drawn:
    """Draw a garment lying on a table, 1500 by 2000 pixels."""
    rng = np.random.default_rng(seed)
    garment = garment_for(look, rng)
    table = spread(garment, rng)
    wobble(garment, rng)
    sun = Sun.somewhere(rng)
    cover = without_corners(silhouette(garment.parts, table), table)
    relief = relief_of(garment, table, rng)
    cloth = cloth_of(look, garment, table, relief, rng=rng, box=frame(cover))
    rect = print_rect(look, garment) if look.is_printed else None
    print_box = ink_on(cloth, relief, look, rect=rect, table=table, rng=rng) if rect else None
    light = enlarged(shade(relief, inch=table.inch, sun=sun), SIZE) * details(garment, table)
    scene = backdrop(look.ground_on, SIZE, inch=table.inch, sun=sun, rng=rng)
    scene *= enlarged(shadow(in_small(cover), inch=table.inch, sun=sun), SIZE)
    lay(scene, cloth, light, cover=cover)
    known: tuple[tuple[float, float], ...] = ()
    if look.beside and rect:
        askew = np.random.default_rng([seed, 7])
        known = lay_known(scene, look.beside, rect=rect, table=table, sun=sun, rng=askew)
    outline = tuple((round(x), round(y)) for x, y in table.place(garment.whole).tolist())
    panel = table.box(panel_rect(garment, rect))
    return Drawn(photographed(scene, rng), print_box, panel, outline, table.inch, known)


def panel_of(look: ShirtLook, *, seed: int) -> Box:
    """Return where the panel will lie on the picture, in pixels, without drawing it."""
    rng = np.random.default_rng(seed)
    garment = garment_for(look, rng)
    table = spread(garment, rng)
    wobble(garment, rng)
    return table.box(panel_rect(garment, print_rect(look, garment) if look.is_printed else None))


def garment_for(look: ShirtLook, rng: np.random.Generator) -> Garment:
    if look.kind in TAILORED:
        return TAILORED[look.kind](look.side, rng)
    return knit_top(look.kind, look.side, rng)


def print_rect(look: ShirtLook, garment: Garment) -> Rect:
    """Return where the print lies in inches: centered below the collar, or on the left chest if small."""
    left, _, right, bottom = garment.cloth
    share = min(1.0, (right - left - 0.4) / look.print_wide, (bottom - garment.top - 0.3) / look.print_tall)
    wide, tall = look.print_wide * share, look.print_tall * share
    on_the_chest = wide <= SMALL_PRINT < right - left - 8 and look.side == "front"
    middle = right * 0.45 if on_the_chest else 0.0
    return middle - wide / 2, garment.top, middle + wide / 2, garment.top + tall


def panel_rect(garment: Garment, rect: Rect | None) -> Rect:
    """Return the cloth that would be cut: a square with an inch or so round the print, or of plain cloth."""
    left, top, right, bottom = garment.cloth
    if rect is None:
        half = min(PLAIN_PANEL, right - left) / 2
        rect = (-half + MARGIN, top + MARGIN, half - MARGIN, min(bottom, top + 2 * half) - MARGIN)
    side = max(rect[2] - rect[0], rect[3] - rect[1]) + 2 * MARGIN
    from_left = inside((rect[0] + rect[2] - side) / 2, side, within=(left, right))
    from_top = inside((rect[1] + rect[3] - side) / 2, side, within=(top, bottom))
    return from_left, from_top, min(right, from_left + side), min(bottom, from_top + side)


def inside(start: float, long: float, *, within: tuple[float, float]) -> float:
    """Return where a stretch starts when it is moved as little as may be to lie within two ends."""
    return max(within[0], min(start, within[1] - long))


def ink_on(
    cloth: Field, relief: Field, look: ShirtLook, *, rect: Rect, table: Table, rng: np.random.Generator
) -> Box | None:
    """Print on the cloth and return the box that holds all ink."""
    left, top, right, bottom = table.box((rect[0] - 0.5, rect[1] - 0.5, rect[2] + 0.5, rect[3] + 0.5))
    size = right - left, bottom - top
    canvas = Image.new("RGBA", (size[0] * OVERSIZE, size[1] * OVERSIZE), (0, 0, 0, 0))

    def place(points: np.ndarray) -> np.ndarray:
        return table.twice(points) - np.array([left, top]) * OVERSIZE

    draw_print(Pen(canvas, look.colors, place=place, scale=table.inch * OVERSIZE), look, rect)
    lumps = enlarged(relief[top // CELL : bottom // CELL + 1, left // CELL : right // CELL + 1], size)
    ink = bent(canvas.reduce(OVERSIZE), lumps, inch=table.inch)
    cover = ink[3]
    part = cloth[:, top:bottom, left:right]
    share = worn(size, rng)
    part *= 1 - share * cover / np.float32(255)
    part += share * ink[:3]
    rows, columns = np.flatnonzero(cover.max(axis=1) > 8), np.flatnonzero(cover.max(axis=0) > 8)
    return left + int(columns[0]), top + int(rows[0]), left + int(columns[-1]) + 1, top + int(rows[-1]) + 1


def lay(scene: Field, cloth: Field, light: Field, *, cover: Image.Image) -> None:
    """Put the cloth under the light and on the table."""
    left, top, right, bottom = frame(cover)
    share = np.asarray(cover.crop((left, top, right, bottom)), dtype=np.float32) * np.float32(1 / 255)
    part = scene[:, top:bottom, left:right]
    shown = lit(cloth[:, top:bottom, left:right], light[top:bottom, left:right])
    shown -= part
    shown *= share
    part += shown


def lit(cloth: Field, light: Field) -> Field:
    """Return the cloth under the light; dark cloth keeps some sheen on its ridges, as a camera sees it."""
    sheen = np.clip(light - np.float32(0.72), 0, 0.5) * np.float32(34)
    kept = np.minimum(light, np.float32(1.3)) * np.float32(0.965) - sheen * np.float32(1 / 255)
    cloth *= kept
    cloth += sheen
    return cloth


def frame(cover: Image.Image) -> Box:
    return cover.getbbox() or (0, 0, 0, 0)


def in_small(cover: Image.Image) -> Field:
    return np.asarray(cover.reduce(CELL), dtype=np.float32) / np.float32(255)
