"""Swatches: a piece of quilting cotton that fills the picture, in a slight wave of light."""

from collections.abc import Callable

import numpy as np
from PIL import Image

from orders.demo.folds import Fold, press
from orders.demo.light import CELL, Field, Sun, clouds, columned, enlarged, patch, photographed, shade
from orders.demo.looks import SwatchLook
from orders.demo.pen import OVERSIZE, Pen, around, rgb, rounded, turned

SIDE = 900
INCH = 150.0
Sprig = Callable[[Pen], None]


def swatch(look: SwatchLook, *, seed: int) -> Image.Image:
    """Draw a cloth from the shelf, 900 by 900 pixels, six inches wide."""
    rng = np.random.default_rng(seed)
    cloth = confetti(rng, look) if look.pattern == "confetti" else two_colored(rng, look)
    threads = patch("weave", rng, (SIDE, SIDE)) * np.float32(0.022) + patch(
        "knit", rng, (SIDE, SIDE)
    ) * np.float32(0.012)
    sun = Sun.somewhere(rng)
    light = enlarged(shade(waves(rng), inch=INCH, sun=sun, depth=0.5), (SIDE, SIDE)) + threads
    sheen = np.clip(light - np.float32(0.8), 0, 0.4) * np.float32(22)
    return photographed(cloth * light + sheen, rng)


def two_colored(rng: np.random.Generator, look: SwatchLook) -> Field:
    """Return the accent laid over the ground where the pattern has it."""
    share = PATTERNS[look.pattern](rng)
    ground = columned(rgb(look.ground))
    return ground + share * (columned(rgb(look.accent)) - ground)


def confetti(rng: np.random.Generator, look: SwatchLook) -> Field:
    """Return scraps of many colors strewn over the ground: a print for those who ask for it."""
    cloth = columned(rgb(look.ground))
    for color in (look.accent, *CONFETTI):
        cover = scraps(rng)
        cloth = cloth + cover * (columned(rgb(color)) - cloth)
    return cloth


def scraps(rng: np.random.Generator) -> Field:
    sheet = Image.new("RGBA", (SIDE * OVERSIZE, SIDE * OVERSIZE), (0, 0, 0, 0))
    for _ in range(60):
        at = rng.uniform(0, SIDE * OVERSIZE, 2)
        crosses(Pen(sheet, ("#FFFFFF",), place=placed(at, rng.uniform(0, 360), 0.8), scale=0.8))
    return np.asarray(sheet.getchannel("A").reduce(OVERSIZE), dtype=np.float32) / np.float32(255)


def waves(rng: np.random.Generator) -> Field:
    """Return the height of a cloth that was unfolded and smoothed by hand."""
    small = SIDE // CELL
    relief = clouds(rng, (small, small), lump=(90, 70)) * np.float32(0.11)
    x = rng.uniform(1.5, 4.5)
    press(relief, Fold((x, -1.5), (x + rng.normal(0, 0.5), 7.5), wide=0.12, rise=0.02), scale=INCH / CELL)
    start = (rng.uniform(-1, 1), rng.uniform(3, 5))
    press(
        relief,
        Fold(start, (rng.uniform(4, 7), rng.uniform(4.5, 8)), wide=0.5, rise=0.1, bend=0.3),
        scale=INCH / CELL,
    )
    return relief


def solid(rng: np.random.Generator) -> Field:
    return np.zeros((SIDE, SIDE), dtype=np.float32)


def mottled(rng: np.random.Generator) -> Field:
    """Return the clouds of a hand-dyed cloth, in blots with darker rims."""
    size = SIDE, SIDE
    blots = clouds(rng, size, lump=(120, 110)) * 0.5 + clouds(rng, size, lump=(46, 40)) * 0.4
    blots += clouds(rng, size, lump=(14, 13)) * 0.18
    rims = np.exp(-((blots / 0.06) ** 2)) * 0.1
    return np.clip(0.26 + blots * 0.24 + rims, 0, 0.75).astype(np.float32)


def stripe(rng: np.random.Generator) -> Field:
    x = np.arange(SIDE, dtype=np.float32) / np.float32(INCH) + np.float32(rng.uniform(0, 1))
    y = np.arange(SIDE, dtype=np.float32)[:, None] / np.float32(INCH)
    across = x + y * np.float32(rng.uniform(-0.02, 0.02))
    wide = rng.choice([0.5, 0.75])
    fat = np.abs(across / wide % 1 - 0.5) < 0.14
    thin = np.abs((across / wide + 0.5) % 1 - 0.5) < 0.03
    return (np.maximum(fat, thin * 0.8) * 0.92).astype(np.float32)


def small_print(rng: np.random.Generator) -> Field:
    """Return one small sprig scattered in rows, each row moved by half, each sprig turned its own way."""
    sheet = Image.new("RGBA", (SIDE * OVERSIZE, SIDE * OVERSIZE), (0, 0, 0, 0))
    sprig = SPRIGS[int(rng.integers(len(SPRIGS)))]
    step = rng.uniform(0.5, 0.72) * INCH * OVERSIZE
    rows = int(SIDE * OVERSIZE / step) + 2
    for row in range(-1, rows):
        for column in range(-1, rows):
            at = np.array([(column + row % 2 * 0.5) * step, row * step * 0.86]) + rng.normal(
                0, step * 0.03, 2
            )
            angle = rng.uniform(0, 360)
            scale = step / 190
            sprig(Pen(sheet, ("#FFFFFF",), place=placed(at, angle, scale), scale=scale))
    cover = np.asarray(sheet.getchannel("A").reduce(OVERSIZE), dtype=np.float32) / np.float32(255)
    return cover * np.float32(0.9)


def placed(at: np.ndarray, angle: float, scale: float) -> Callable[[np.ndarray], np.ndarray]:
    return lambda points: turned(points * scale, angle) + at


def dots(pen: Pen) -> None:
    pen.disc(0, 0, 26)


def leaves(pen: Pen) -> None:
    for turn in (0, 130, 230):
        pen.fill(turned(rounded([(0, 0), (26, -14), (56, 0), (26, 14)]), turn))
    pen.disc(0, 0, 8)


def stars(pen: Pen) -> None:
    pen.fill([around(0, 0, 44 if tip % 2 == 0 else 18, start=tip * 36)[0] for tip in range(10)])


def crosses(pen: Pen) -> None:
    pen.line([(-34, 0), (34, 0)], 13)
    pen.line([(0, -34), (0, 34)], 13)


def blossoms(pen: Pen) -> None:
    for turn in range(0, 360, 72):
        x, y = around(0, 0, 26, start=turn)[0]
        pen.disc(x, y, 16)
    pen.ring(0, 0, 10, width=6, color=-1)


CONFETTI = ("#F2B705", "#2A9D8F", "#3D348B", "#F18701", "#5BB450")
SPRIGS: tuple[Sprig, ...] = (dots, leaves, stars, crosses, blossoms)
PATTERNS: dict[str, Callable[[np.random.Generator], Field]] = {
    "solid": solid,
    "mottled": mottled,
    "print": small_print,
    "stripe": stripe,
}
