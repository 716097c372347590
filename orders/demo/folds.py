"""Folds in cloth: soft ridges along a bent line, steeper on one side than on the other."""

from dataclasses import dataclass

import numpy as np

from orders.demo.light import Field

Point = tuple[float, float]


@dataclass(frozen=True)
class Fold:
    """A ridge between two points in inches; `rise` below 0 is a groove, `bend` leaves the straight."""

    start: Point
    end: Point
    wide: float = 0.8
    rise: float = 0.16
    bend: float = 0.0


def press(relief: Field, fold: Fold, *, scale: float) -> None:
    """Add the fold to the relief, `scale` cells to an inch; only the cells near it are touched."""
    (x0, y0), (x1, y1) = ((x * scale, y * scale) for x, y in (fold.start, fold.end))
    long = max(1.0, float(np.hypot(x1 - x0, y1 - y0)))
    reach = int(fold.wide * scale * 4 + abs(fold.bend) * scale) + 2
    left, right = max(0, int(min(x0, x1)) - reach), min(relief.shape[1], int(max(x0, x1)) + reach)
    top, bottom = max(0, int(min(y0, y1)) - reach), min(relief.shape[0], int(max(y0, y1)) + reach)
    if left >= right or top >= bottom:
        return
    x = np.arange(left, right, dtype=np.float32) - np.float32(x0)
    y = (np.arange(top, bottom, dtype=np.float32) - np.float32(y0))[:, None]
    cos, sin = np.float32((x1 - x0) / long), np.float32((y1 - y0) / long)
    along = (x * cos + y * sin) / np.float32(long)
    aside = (y * cos - x * sin) / np.float32(scale) - np.float32(fold.bend) * 4 * along * (1 - along)
    width = np.where(aside < 0, np.float32(fold.wide * 0.55), np.float32(fold.wide * 1.35))
    taper = np.clip(1 - (2 * along - 1) ** 2, 0, 1) ** 1.4
    width = width * (0.55 + 0.6 * np.clip(along, 0, 1))
    relief[top:bottom, left:right] += np.float32(fold.rise) * taper * np.exp(-((aside / width) ** 2))


def wandering(rng: np.random.Generator, *, across: float, down: float, count: int) -> tuple[Fold, ...]:
    """Return long soft folds that run roughly one way over a cloth, as on a bed."""
    way = rng.uniform(0, np.pi)
    folds = []
    for _ in range(count):
        x, y = rng.uniform(-0.1, 1.1) * across, rng.uniform(-0.1, 1.1) * down
        angle, long = way + rng.normal(0, 0.45), rng.uniform(0.18, 0.6) * down
        end = (x + float(np.cos(angle)) * long, y + float(np.sin(angle)) * long)
        wide, rise = rng.uniform(0.5, 1.9), rng.uniform(0.1, 0.34)
        folds.append(Fold((x, y), end, wide=wide, rise=rise, bend=rng.normal(0, 1.6)))
    return tuple(folds)
