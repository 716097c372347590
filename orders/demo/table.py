"""Garments put on the table: where an inch of cloth lies in the picture, and lines that waver a little."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from orders.demo.garments import Garment, Line, Rect
from orders.demo.looks import Box
from orders.demo.pen import OVERSIZE, turned

SIZE = (1500, 2000)
FILLS = 0.93
"""The share of the picture that a garment takes, across or down."""


@dataclass(frozen=True)
class Table:
    """How inches of a garment become pixels of its picture."""

    inch: float
    lean: float
    middle: tuple[float, float]

    def place(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        return turned(points - self.middle, self.lean) * self.inch + (SIZE[0] / 2, SIZE[1] / 2)

    def twice(self, points: NDArray[np.float64]) -> NDArray[np.float64]:
        return self.place(points) * OVERSIZE

    def box(self, rect: Rect) -> Box:
        """Return the upright box of pixels round a rectangle in inches."""
        corners = self.place(np.array([(x, y) for x in rect[::2] for y in rect[1::2]]))
        low, high = np.floor(corners.min(axis=0)), np.ceil(corners.max(axis=0))
        return int(low[0]), int(low[1]), int(high[0]), int(high[1])


def spread(garment: Garment, rng: np.random.Generator) -> Table:
    """Lay the garment in the middle of the picture, nearly straight, as large as it may be."""
    points = np.concatenate(garment.parts)
    low, high = points.min(axis=0), points.max(axis=0)
    inch = min(SIZE[0] * FILLS / (high[0] - low[0]), SIZE[1] * FILLS / (high[1] - low[1]))
    middle = (low + high) / 2 + rng.uniform(-0.4, 0.4, 2)
    return Table(
        float(inch * rng.uniform(0.93, 1.0)), float(rng.normal(0, 1.3)), (float(middle[0]), float(middle[1]))
    )


def wobble(garment: Garment, rng: np.random.Generator) -> None:
    """Move every line a little, neighbors alike, so that no edge is straight."""
    ways = [(rng.uniform(0.14, 1.1, 2) * rng.choice([-1, 1], 2), rng.uniform(0, 6.3, 2)) for _ in range(6)]

    def moved(line: Line) -> Line:
        line = drawn_out(line)
        for way, phase in ways:
            line = (
                line + np.sin(line @ way + phase[0])[:, None] * np.array([0.04, 0.03]) / np.hypot(*way) ** 0.6
            )
        return line

    garment.whole = moved(garment.whole)
    for name in ("parts", "sleeves", "dark", "trims", "tags", "seams", "stitches", "raised"):
        setattr(garment, name, [moved(line) for line in getattr(garment, name)])
    garment.bands = [(moved(one), moved(other)) for one, other in garment.bands]


def drawn_out(line: Line, step: float = 0.5) -> Line:
    """Return the line with points at most a step apart."""
    pieces = [
        np.linspace(one, other, max(1, int(np.hypot(*(other - one)) / step)), endpoint=False)
        for one, other in pairwise(line)
    ]
    return np.concatenate([*pieces, line[-1:]])


def pairs(points: NDArray[np.float64]) -> list[tuple[float, float]]:
    return [(x, y) for x, y in points.tolist()]


def evenly(line: Line, count: int) -> Line:
    """Return so many points along the line, the same way apart."""
    way = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    at = np.linspace(0, way[-1], max(2, count))
    return np.stack([np.interp(at, way, line[:, 0]), np.interp(at, way, line[:, 1])], axis=1)


def dashed(line: Line, *, long: float = 0.13, gap: float = 0.08) -> Iterable[tuple[Line, Line]]:
    total = float(np.hypot(*np.diff(line, axis=0).T).sum())
    points = evenly(line, 2 * max(1, round(total / (long + gap))))
    ends = points + np.diff(points, axis=0, append=points[-1:]) * (2 * long / (long + gap) - 1)
    return zip(points[:-1:2], ends[1::2], strict=False)
