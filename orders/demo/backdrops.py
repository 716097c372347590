"""What a garment lies on while it is photographed: a cutting mat, a bed, a wooden floor."""

from collections.abc import Callable

import numpy as np
from PIL import Image, ImageDraw

from orders.demo.folds import press, wandering
from orders.demo.letters import write
from orders.demo.light import CELL, Field, Sun, clouds, columned, enlarged, patch, shade
from orders.demo.pen import OVERSIZE, RGB, Pen, Place, rgb, turned

MATS = ("#66786E", "#5B6F65", "#717E76")
SHEETS = ("#DAD5CB", "#D3D6D8", "#D9CFC0", "#C8CFC9", "#E2DED6")
BOARDS = ("#B08A5E", "#9A7450", "#C2A178", "#8A6646")
BOARD_WIDE = 4.2

Size = tuple[int, int]


def backdrop(kind: str, size: Size, *, inch: float, sun: Sun, rng: np.random.Generator) -> Field:
    """Return the empty table as three planes of color."""
    return BACKDROPS[kind](size, inch, sun, rng)


def tinted(color: RGB, light: Field) -> Field:
    return light * columned(color)


def cells(size: Size) -> Size:
    return size[0] // CELL, size[1] // CELL


def mat(size: Size, inch: float, sun: Sun, rng: np.random.Generator) -> Field:
    wear = clouds(rng, cells(size), lump=(60, 60)) * 0.018 + clouds(rng, cells(size), lump=(9, 9)) * 0.008
    light = enlarged((1 + wear), size) + patch("film", rng, size) * np.float32(0.010)
    ground = tinted(rgb(str(rng.choice(MATS))), light)
    lines = np.asarray(mat_lines(size, inch, rng), dtype=np.float32) / 255
    ground += lines * np.float32(0.52) * (columned((222, 226, 205)) - ground)
    return ground


def mat_lines(size: Size, inch: float, rng: np.random.Generator) -> Image.Image:
    """Return the printed grid of a mat, one line an inch, and a few old cuts."""
    canvas = Image.new("L", (size[0] * OVERSIZE, size[1] * OVERSIZE), 0)
    draw = ImageDraw.Draw(canvas)
    across = size[0] / inch
    down = size[1] / inch
    start_x, start_y = rng.uniform(0.2, 0.8, 2)
    lean = rng.uniform(-0.9, 0.9)
    middle = (size[0] * OVERSIZE / 2, size[1] * OVERSIZE / 2)

    def placed(points: object) -> np.ndarray:
        return turned(np.asarray(points, dtype=float) * inch * OVERSIZE, lean, about=middle)

    def rule(one: tuple[float, float], other: tuple[float, float], ink: int, width: int) -> None:
        draw.line([tuple(p) for p in placed([one, other]).tolist()], fill=ink, width=width)

    for half in range(-4, int(2 * max(across, down)) + 6):
        x, y, whole = start_x + half / 2, start_y + half / 2, half % 2 == 0
        ink, width = (40, 2) if not whole else (205, 4) if half % 10 == 0 else (125, 3)
        rule((x, -2), (x, down + 2), ink, width)
        rule((-2, y), (across + 2, y), ink, width)
    rule((start_x - 2, start_y - 2), (start_x - 2 + down + 4, start_y + down + 2), 70, 3)
    mat_numbers(canvas, placed, start=(start_x, start_y), inch=inch)
    for x, y, long, angle in rng.uniform((0, 0, 1, -0.3), (across, down, 7, 0.3), (9, 4)).tolist():
        upright = rng.random() < 0.5
        rule((x, y), (x + (angle if upright else long), y + (long if upright else angle)), 26, 2)
    return canvas.reduce(OVERSIZE)


def mat_numbers(canvas: Image.Image, placed: Place, *, start: tuple[float, float], inch: float) -> None:
    """Number the inches down the left side of the mat."""
    left = max(0, round((start[0] - 0.6) * inch * OVERSIZE))
    strip = Image.new("RGBA", (round(1.8 * inch * OVERSIZE), canvas.size[1]), (0, 0, 0, 0))
    pen = Pen(strip, ("#FFFFFF",), place=lambda points: placed(points) - (left, 0), scale=inch * OVERSIZE)
    for whole in range(1, int(canvas.size[1] / inch / OVERSIZE) + 1):
        write(pen, str(whole), box=(start[0] + 0.08, start[1] + whole - 0.5, 0.52, 0.42), fat=0.8)
    canvas.paste(200, (left, 0), strip.getchannel("A"))


def bed(size: Size, inch: float, sun: Sun, rng: np.random.Generator) -> Field:
    small = cells(size)
    lump = inch / CELL
    relief = clouds(rng, small, lump=(lump * 8, lump * 6)) * np.float32(0.2)
    for fold in wandering(rng, across=size[0] / inch, down=size[1] / inch, count=26):
        press(relief, fold, scale=lump)
    light = enlarged(shade(relief, inch=inch, sun=sun, depth=0.7), size) * np.float32(0.97)
    light = light + patch("weave", rng, size) * np.float32(0.016)
    return tinted(rgb(str(rng.choice(SHEETS))), light)


def floor(size: Size, inch: float, sun: Sun, rng: np.random.Generator) -> Field:
    tone = rgb(str(rng.choice(BOARDS)))
    count = int(size[0] / inch / BOARD_WIDE) + 2
    first = rng.uniform(-1, 0) * BOARD_WIDE * inch
    column = (np.arange(size[0]) - first) / (BOARD_WIDE * inch)
    board = np.clip(column.astype(int), 0, count)
    light = np.empty((size[1], size[0]), dtype=np.float32)
    ends = rng.uniform(0.05, 0.95, count + 1) * size[1]
    for number in range(int(board.min()), int(board.max()) + 1):
        strip = np.flatnonzero(board == number)
        light[:, strip[0] : strip[-1] + 1] = plank((len(strip), size[1]), inch, ends[number], rng)
    gap = np.abs(column - np.round(column)) * BOARD_WIDE * inch
    light *= (1 - 0.62 * np.exp(-((gap / 1.7) ** 2)) + 0.05 * np.exp(-(((gap - 5) / 2.5) ** 2))).astype(
        np.float32
    )
    return tinted(tone, light)


def plank(size: Size, inch: float, end: float, rng: np.random.Generator) -> Field:
    """Return the light on one board and its neighbor below, with growth rings cut lengthwise."""
    small = max(2, size[0] // CELL), size[1] // CELL
    x = np.linspace(-1, 1, small[0], dtype=np.float32)
    y = np.linspace(0, size[1] / inch / 14, small[1], dtype=np.float32)[:, None]
    heart, bow = rng.uniform(-1.2, 1.2), rng.uniform(0.5, 1.6)
    rings = (x - heart) ** 2 * bow + y * rng.choice([-1, 1]) + clouds(rng, small, lump=(30, 50)) * 0.13
    lines = (np.sin(rings * rng.uniform(20, 30)) + 0.5 * np.sin(rings * 57)) * 0.028
    light = enlarged((1 + lines).astype(np.float32), size) + patch("wood", rng, size) * np.float32(0.03)
    above, below = rng.uniform(0.9, 1.07, 2)
    rows = np.arange(size[1], dtype=np.float32)[:, None]
    joint = 1 - 0.55 * np.exp(-(((rows - end) / 1.8) ** 2))
    return (light * np.where(rows < end, above, below) * joint).astype(np.float32)


BACKDROPS: dict[str, Callable[[Size, float, Sun, np.random.Generator], Field]] = {
    "mat": mat,
    "bed": bed,
    "floor": floor,
}
