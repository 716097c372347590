"""Our own block letters for prints: each a few strokes on a grid four wide and six high, with serifs."""

import numpy as np
from numpy.typing import NDArray

from orders.demo.pen import Pen

Stroke = list[tuple[float, float]]

SHAPES: dict[str, str] = {
    "A": "06 02 10 30 42 46|04 44",
    "B": "00 30 41 42 33 44 45 36 06 00|03 33",
    "C": "41 30 10 01 05 16 36 45",
    "D": "00 30 41 45 36 06 00",
    "E": "40 00 06 46|03 33",
    "F": "40 00 06|03 33",
    "G": "41 30 10 01 05 16 36 45 43 23",
    "H": "00 06|40 46|03 43",
    "I": "20 26",
    "J": "40 45 36 16 05 04",
    "K": "00 06|40 03 46",
    "L": "00 06 46",
    "M": "06 00 23 40 46",
    "N": "06 00 46 40",
    "O": "10 30 41 45 36 16 05 01 10",
    "P": "06 00 30 41 43 34 04",
    "Q": "10 30 41 45 36 16 05 01 10|24 46",
    "R": "06 00 30 41 42 33 03|23 46",
    "S": "41 30 10 01 02 13 33 44 45 36 16 05",
    "T": "00 40|20 26",
    "U": "00 05 16 36 45 40",
    "V": "00 26 40",
    "W": "00 16 23 36 40",
    "X": "00 46|40 06",
    "Y": "00 23 40|23 26",
    "Z": "00 40 06 46",
    "0": "10 30 41 45 36 16 05 01 10",
    "1": "11 20 26|16 36",
    "2": "01 10 30 41 42 05 06 46",
    "3": "01 10 30 41 42 33 44 45 36 16 05|13 33",
    "4": "36 30 04 44",
    "5": "40 00 02 32 43 45 36 16 05",
    "6": "41 30 10 01 05 16 36 45 44 33 03",
    "7": "00 40 41 16",
    "8": "13 02 01 10 30 41 42 33 44 45 36 16 05 04 13 33",
    "9": "05 16 36 45 41 30 10 01 02 13 43",
    "-": "13 33",
    ".": "26 26.2",
    "'": "20 21",
    " ": "",
}  # fmt: skip
NARROW = {"I": 1.4, "1": 3.2, " ": 2.4, ".": 1.0, "'": 1.0, "-": 3.4, "M": 5, "W": 5.4}
WIDTH, HEIGHT, GAP, SERIF = 4.0, 6.0, 2.75, 2.3


def strokes(letter: str) -> list[Stroke]:
    """Return the strokes of a letter, middle of each stroke, on its grid."""
    wide = NARROW.get(letter, WIDTH)
    lines = [
        [(float(point[0]), float(point[1:])) for point in line.split()]
        for line in SHAPES[letter].split("|")
        if line
    ]
    if letter in ("I", ".", "'"):
        return [[(x - 2 + wide / 2, y) for x, y in line] for line in lines]
    return [[(x * wide / WIDTH, y) for x, y in line] for line in lines]


def with_serifs(lines: list[Stroke]) -> list[Stroke]:
    """Add a short bar at each end of an upright stroke that stops at the foot or the head of the letter."""
    bars = []
    for line in lines:
        for (x, y), (near_x, near_y) in ((line[0], line[1]), (line[-1], line[-2])):
            if y in (0, HEIGHT) and abs(near_x - x) < 0.5 * abs(near_y - y):
                bars.append([(x - SERIF / 2, y), (x + SERIF / 2, y)])
    return lines + bars


def length_of(text: str) -> float:
    """Return how long a text is in units of the grid, between the middles of its outer strokes."""
    return sum(NARROW.get(letter, WIDTH) for letter in text) + GAP * max(0, len(text) - 1)


def write(
    pen: Pen,
    text: str,
    *,
    box: tuple[float, float, float, float],
    arch: float = 0,
    fat: float = 1.25,
    along: float = 0,
) -> None:
    """Write a text in the first color, with the second as its edge, filling the box; `arch` lifts its middle.

    `along` is the length of the longest text written to the same size.
    """
    left, top, wide, tall = box
    pad = fat * 0.75 + 0.45
    high = tall / (1 + arch)
    unit = min(high / (HEIGHT + 2 * pad), wide / (max(length_of(text), along) + 2 * pad))
    stretch = min(high / (HEIGHT + 2 * pad) / unit, 1.3)
    start = left + (wide - length_of(text) * unit) / 2
    lift = arch * high

    def on_the_box(points: NDArray[np.float64], x: float) -> NDArray[np.float64]:
        across = start + (points[:, 0] + x) * unit
        rise = lift * (2 * (across - left) / wide - 1) ** 2
        return np.stack([across, top + (points[:, 1] + pad) * unit * stretch + rise], axis=1)

    outlined = len(pen.colors) > 1 and unit * fat * pen.scale > 9
    for color, width in ((1, fat + 0.85), (0, fat)) if outlined else ((0, fat),):
        x = 0.0
        for letter in text:
            for line in strokes(letter) if letter == "T" else with_serifs(strokes(letter)):
                pen.line(on_the_box(fine(line), x), width * unit, color)
            x += NARROW.get(letter, WIDTH) + GAP


def fine(line: Stroke) -> NDArray[np.float64]:
    """Return the stroke with points between its corners, so that an arch bends it."""
    points = np.asarray(line, dtype=float)
    steps = np.linspace(points[:-1], points[1:], 4, endpoint=False, axis=1).reshape(-1, 2)
    return np.concatenate([steps, points[-1:]])
