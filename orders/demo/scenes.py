"""Two photographs with many things in them: the pile as it came in its bag, and blocks up on the wall."""

from collections.abc import Sequence

import numpy as np
from PIL import Image, ImageDraw

from orders.demo.backdrops import backdrop
from orders.demo.folds import Fold, press
from orders.demo.garments import Line
from orders.demo.layers import dome, in_cells
from orders.demo.light import (
    CELL,
    Field,
    Sun,
    clouds,
    columned,
    enlarged,
    patch,
    photographed,
    shade,
    shadow,
    soft,
)
from orders.demo.pen import OVERSIZE, rgb, rounded
from orders.demo.table import SIZE, Table, dashed, pairs

CANVAS_CLOTH = "#D9CDB4"
WALL_SIZE = (1600, 1200)
WALL = (226, 222, 212)
BAG_INCH = 62.0


class Heap:
    """Things laid on each other: one sheet of color and one of light, both grown thing by thing."""

    def __init__(self, table: Table, *, sun: Sun, rng: np.random.Generator) -> None:
        self.table, self.sun, self.rng = table, sun, rng
        self.light = np.ones((SIZE[1] // CELL, SIZE[0] // CELL), dtype=np.float32)
        self.color = Image.new("RGBA", (SIZE[0] * OVERSIZE, SIZE[1] * OVERSIZE), (0, 0, 0, 0))
        self.draw = ImageDraw.Draw(self.color)

    def lay(self, shape: Line, color: str, *, folds: Sequence[Fold], thick: float) -> None:
        """Put one thing on top, with its own folds and its shadow on all that lies below."""
        scale = self.table.inch / CELL
        mask = in_cells([shape], self.table)
        relief = clouds(self.rng, (mask.shape[1], mask.shape[0]), lump=(scale * 3, scale * 2)) * np.float32(
            0.06
        )
        relief += dome(mask, scale * 0.4) * np.float32(thick)
        for fold in folds:
            ends = self.table.place(np.array([fold.start, fold.end])) / self.table.inch
            start, end = ((x, y) for x, y in ends.tolist())
            press(relief, Fold(start, end, wide=fold.wide, rise=fold.rise, bend=fold.bend), scale=scale)
        self.light *= shadow(mask, inch=self.table.inch, sun=self.sun, lift=thick * 1.3)
        self.light += mask * (shade(relief, inch=self.table.inch, sun=self.sun) - self.light)
        self.draw.polygon(pairs(self.table.twice(shape)), fill=(*rgb(color), 255))

    def rule(self, line: Line, ink: tuple[int, int, int], *, wide: float) -> None:
        self.draw.line(
            pairs(self.table.twice(line)), fill=ink, width=max(2, round(wide * self.table.inch * OVERSIZE))
        )


def bag_photo(colors: Sequence[str], *, seed: int) -> Image.Image:
    """Draw a canvas bag on the floor with folded shirts of these colors slipping out of its mouth."""
    rng = np.random.default_rng(seed)
    sun = Sun.somewhere(rng)
    table = Table(BAG_INCH, float(rng.normal(0, 2)), (0.0, 5.0))
    heap = Heap(table, sun=sun, rng=rng)
    handle(heap, 1)
    for number, color in enumerate(colors):
        bundle(heap, color, share=number / max(1, len(colors) - 1), rng=rng)
    bag(heap, rng)
    scene = backdrop("floor", SIZE, inch=table.inch, sun=sun, rng=rng)
    sheet = np.moveaxis(np.asarray(heap.color.convert("RGBa").reduce(OVERSIZE), dtype=np.float32), 2, 0)
    scene *= 1 - sheet[3] / np.float32(255)
    threads = patch("knit", rng, SIZE) * np.float32(0.022)
    scene += sheet[:3] * (1 + threads) + threads * sheet[3] * np.float32(0.08)
    scene *= enlarged(heap.light, SIZE)
    return photographed(scene, rng)


def bundle(heap: Heap, color: str, *, share: float, rng: np.random.Generator) -> None:
    """Lay one folded shirt: a soft block with two or three layers showing at its lower edge."""
    wide, tall = rng.uniform(4.4, 5.4), rng.uniform(3.3, 4.1)
    x = rng.uniform(-2.4, 2.4)
    y = -6.2 + share * 6.6 + rng.uniform(-0.4, 0.4)
    turn = np.radians(rng.normal(0, 9))
    spin = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])

    def lain(points: Sequence[tuple[float, float]]) -> Line:
        return np.asarray(points) @ spin + (x, y)

    corners = [
        (-wide, -tall),
        (0, -tall - 0.15),
        (wide, -tall),
        (wide + 0.1, 0),
        (wide, tall),
        (0, tall + 0.2),
        (-wide, tall),
        (-wide - 0.1, 0),
    ]
    edge = softened(corners)
    ends = lain([(-wide * 0.8, rng.uniform(-1, 1)), (wide * 0.8, rng.uniform(-2, 2))]).tolist()
    sleeve = lain([(-wide * 0.5, -tall), (-wide * 0.3, tall)]).tolist()
    folds = [
        Fold(tuple(ends[0]), tuple(ends[1]), wide=0.5, rise=0.2, bend=0.4),
        Fold(tuple(sleeve[0]), tuple(sleeve[1]), wide=0.3, rise=0.14),
    ]
    heap.lay(lain(edge.tolist()), color, folds=folds, thick=0.42)
    shade_of = tuple(round(part * 0.72) for part in rgb(color))
    for step in (0.28, 0.52):
        line = rounded(
            [(-wide * 0.95, tall - step), (0, tall + 0.1 - step), (wide * 0.95, tall - step)], closed=False
        )
        heap.rule(lain(line.tolist()), (shade_of[0], shade_of[1], shade_of[2]), wide=0.05)


def softened(corners: Sequence[tuple[float, float]]) -> Line:
    """Return the outline with its corners rounded as in folded cloth."""
    points = np.asarray(corners, dtype=float)
    before, after = np.roll(points, 1, axis=0), np.roll(points, -1, axis=0)
    return np.stack(
        [
            points * 0.86 + before * 0.14,
            points * 0.97 + (before + after) * 0.015,
            points * 0.86 + after * 0.14,
        ],
        axis=1,
    ).reshape(-1, 2)


def bag(heap: Heap, rng: np.random.Generator) -> None:
    """Lay the bag over the lower part of the pile: its mouth sags open at the top."""
    mouth = rounded([(-8.2, 0.4), (-4, 1.4), (0, 1.8), (4, 1.3), (8.2, 0.2)], closed=False)
    foot = [(8.6, 8), (8.3, 16.4), (7.9, 16.9), (0, 17.1), (-7.9, 16.9), (-8.3, 16.4), (-8.6, 8)]
    shape = np.concatenate([mouth, foot])
    folds = []
    for x in np.linspace(-6.4, 6.4, 7).tolist():
        start, end = (x + rng.normal(0, 0.6), 2.2), (x * 0.85 + rng.normal(0, 1.2), rng.uniform(8, 16))
        rise, bend = rng.uniform(0.08, 0.24), rng.normal(0, 0.5)
        folds.append(Fold(start, end, wide=rng.uniform(0.5, 1.1), rise=rise, bend=bend))
    heap.lay(shape, CANVAS_CLOTH, folds=folds, thick=0.5)
    for lift in (1.05, 1.2):
        for one, other in dashed(np.add(mouth, (0, lift))):
            heap.rule(np.array([one, other]), (168, 152, 122), wide=0.05)
    handle(heap, -1)


def handle(heap: Heap, way: int) -> None:
    """Lay a strap: the far one stands up behind the pile, the near one falls over the bag."""
    top = -10.4 if way > 0 else 8.2
    outer = rounded(
        [(-4.4, 2.6), (-4.6, (top + 2.6) / 2), (-2.6, top), (2.6, top), (4.6, (top + 2.6) / 2), (4.4, 2.6)],
        closed=False,
    )
    inner = outer * (0.76, 1)
    inner[:, 1] = 2.6 + (outer[:, 1] - 2.6) * 0.88
    heap.lay(np.concatenate([outer, inner[::-1]]), "#B9825A", folds=(), thick=0.18)


def wall_photo(blocks: Sequence[Image.Image], *, across: int, seed: int) -> Image.Image:
    """Draw blocks pinned to a flannel wall, so many across, each a little out of true."""
    rng = np.random.default_rng(seed)
    sun = Sun.somewhere(rng)
    scene = columned(WALL) * (1 + patch("film", rng, WALL_SIZE) * np.float32(0.012)) * fuzz(rng)
    rows = -(-len(blocks) // across)
    step = min(WALL_SIZE[0] * 0.92 / across, WALL_SIZE[1] * 0.9 / rows)
    sheet = Image.new("RGBA", WALL_SIZE, (0, 0, 0, 0))
    for number, block in enumerate(blocks):
        row, column = divmod(number, across)
        x = WALL_SIZE[0] / 2 + (column - (across - 1) / 2) * step + rng.normal(0, 2)
        y = WALL_SIZE[1] / 2 + (row - (rows - 1) / 2) * step + rng.normal(0, 2)
        pinned(sheet, block, at=(x, y), side=round(step * 0.9), lean=float(rng.normal(0, 0.7)))
    planes = np.moveaxis(np.asarray(sheet.convert("RGBa"), dtype=np.float32), 2, 0)
    mask = np.asarray(sheet.getchannel("A").reduce(CELL), dtype=np.float32) / np.float32(255)
    scene *= enlarged(shadow(mask, inch=40, sun=sun, lift=0.12), WALL_SIZE)
    scene *= 1 - planes[3] / np.float32(255)
    relief = dome(mask, 3) * np.float32(0.08) + clouds(
        rng, (mask.shape[1], mask.shape[0]), lump=(30, 24)
    ) * np.float32(0.05)
    scene += planes[:3] * enlarged(shade(relief, inch=40, sun=sun, depth=0.7), WALL_SIZE)
    return photographed(scene, rng)


def fuzz(rng: np.random.Generator) -> Field:
    """Return the uneven nap of brushed flannel."""
    size = WALL_SIZE[0] // CELL, WALL_SIZE[1] // CELL
    nap = clouds(rng, size, lump=(5, 5)) * 0.012 + clouds(rng, size, lump=(60, 50)) * 0.02
    return enlarged(soft((1 + nap).astype(np.float32), 1), WALL_SIZE)


def pinned(
    sheet: Image.Image, block: Image.Image, *, at: tuple[float, float], side: int, lean: float
) -> None:
    """Paste one block, square, with a pin in each upper corner."""
    short = min(block.size)
    left, top = (block.width - short) // 2, (block.height - short) // 2
    square = (
        block.convert("RGB")
        .crop((left, top, left + short, top + short))
        .resize((side, side), Image.Resampling.LANCZOS)
    )
    whole = Image.new("RGBA", (side + 8, side + 8), (0, 0, 0, 0))
    whole.paste(square, (4, 4))
    draw = ImageDraw.Draw(whole)
    for x in (4 + side * 0.08, 4 + side * 0.92):
        y, r = 4 + side * 0.07, max(3.0, side * 0.016)
        draw.ellipse((x - r + 2, y - r + 3, x + r + 2, y + r + 3), fill=(40, 36, 30, 255))
        draw.ellipse((x - r, y - r, x + r, y + r), fill=(190, 62, 48, 255))
        draw.ellipse((x - r * 0.6, y - r * 0.6, x, y), fill=(240, 180, 168, 255))
    spun = whole.rotate(lean, resample=Image.Resampling.BICUBIC, expand=True)
    sheet.alpha_composite(
        spun, (max(0, round(at[0] - spun.width / 2)), max(0, round(at[1] - spun.height / 2)))
    )
