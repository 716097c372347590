"""A pen that draws filled shapes and strokes wherever its place says, on a canvas twice the final size."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw

OVERSIZE = 2
CUT = -1
CLEAR = (0, 0, 0, 0)

Points = Sequence[tuple[float, float]] | NDArray[np.float64]
RGB = tuple[int, int, int]
Place = Callable[[NDArray[np.float64]], NDArray[np.float64]]


class Pen:
    """Draws in its own units; `place` turns them into pixels of the canvas, `scale` is pixels to a unit.

    Colors are numbers into `colors`, going round when there are fewer; CUT takes away what was drawn.
    """

    def __init__(self, canvas: Image.Image, colors: Sequence[str], *, place: Place, scale: float) -> None:
        self.canvas = canvas
        self.draw = ImageDraw.Draw(canvas)
        self.colors = [(*rgb(color), 255) for color in colors]
        self.place = place
        self.scale = scale

    def ink(self, color: int) -> tuple[int, int, int, int]:
        return CLEAR if color == CUT else self.colors[color % len(self.colors)]

    def pixels(self, points: Points) -> list[tuple[float, float]]:
        return [(x, y) for x, y in self.place(np.asarray(points, dtype=float)).tolist()]

    def fill(self, points: Points, color: int = 0) -> None:
        self.draw.polygon(self.pixels(points), fill=self.ink(color))

    def blob(self, points: Points, color: int = 0) -> None:
        self.fill(rounded(points), color)

    def line(self, points: Points, width: float, color: int = 0) -> None:
        for piece in stroked(np.asarray(points, dtype=float), width / 2):
            self.fill(piece, color)

    def cord(self, points: Points, width: float, color: int = 0) -> None:
        """Draw a stroke with round ends."""
        self.line(points, width, color)
        for x, y in (points[0], points[-1]):
            self.disc(x, y, width / 2, color)

    def disc(self, x: float, y: float, radius: float, color: int = 0) -> None:
        self.fill(around(x, y, radius), color)

    def ring(self, x: float, y: float, radius: float, *, width: float, color: int = 0) -> None:
        edge = around(x, y, radius + width / 2)
        hole = around(x, y, max(0.1, radius - width / 2))
        self.fill(np.concatenate([edge, edge[:1], hole[::-1], hole[-1:]]), color)


def rgb(color: str) -> RGB:
    return int(color[1:3], 16), int(color[3:5], 16), int(color[5:7], 16)


def stroked(line: NDArray[np.float64], half: float) -> NDArray[np.float64]:
    """Return a four-cornered piece for each stretch of a line, meeting the next at the outer corner."""
    steps = np.diff(line, axis=0)
    long = np.maximum(np.hypot(steps[:, 0], steps[:, 1]), 1e-9)
    way = steps / long[:, None]
    bend = np.abs(np.arccos(np.clip((way[:-1] * way[1:]).sum(axis=1), -1, 1)))
    more = half * np.where(bend < 1.7, np.tan(np.minimum(bend, 1.7) / 2), 0.25)
    start = line[:-1] - way * np.concatenate([[0.0], more])[:, None]
    end = line[1:] + way * np.concatenate([more, [0.0]])[:, None]
    side = np.stack([-way[:, 1], way[:, 0]], axis=1) * half
    return np.stack([start + side, end + side, end - side, start - side], axis=1)


def around(x: float, y: float, radius: float, *, start: float = 0, end: float = 360) -> NDArray[np.float64]:
    """Return points on an arc, in degrees clockwise from three o'clock."""
    turns = np.radians(np.linspace(start, end, 49))
    return np.stack([x + radius * np.cos(turns), y + radius * np.sin(turns)], axis=1)


def oval(x: float, y: float, radius: float, *, flat: float, start: float = 0, end: float = 360) -> Points:
    """Return points on an arc seen from the side: a circle pressed flat."""
    return np.multiply(around(0, 0, radius, start=start, end=end), (1, flat)) + np.array([x, y])


def rounded(points: Points, *, closed: bool = True, steps: int = 10) -> NDArray[np.float64]:
    """Return a smooth curve through the points (Catmull–Rom)."""
    p = np.asarray(points, dtype=float)
    if closed:
        before, here, after, later = np.roll(p, 1, axis=0), p, np.roll(p, -1, axis=0), np.roll(p, -2, axis=0)
    else:
        padded = np.concatenate([2 * p[:1] - p[1:2], p, 2 * p[-1:] - p[-2:-1]])
        before, here, after, later = padded[:-3], padded[1:-2], padded[2:-1], padded[3:]
    t = np.linspace(0, 1, steps, endpoint=False)[None, :, None]
    a, b, c, d = (q[:, None, :] for q in (before, here, after, later))
    curve = 0.5 * (
        2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3
    ).reshape(-1, 2)
    return curve if closed else np.concatenate([curve, p[-1:]])


def turned(points: Points, degrees: float, *, about: tuple[float, float] = (0, 0)) -> NDArray[np.float64]:
    """Return the points turned clockwise on the picture."""
    angle = np.radians(degrees)
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return (np.asarray(points, dtype=float) - about) @ turn + about


def mirrored(points: Points, *, about: float = 50) -> NDArray[np.float64]:
    """Return the points seen in a mirror that stands upright at `about`."""
    p = np.asarray(points, dtype=float)
    return np.stack([2 * about - p[:, 0], p[:, 1]], axis=1)
