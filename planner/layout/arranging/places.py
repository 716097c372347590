"""How places lie to one another: beside, across a corner, two away, in one line, in one quarter."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planner.units import Rect

from .board import Board
from .terms import Array

BESIDE, CORNER, TWO_AWAY = 8, 3, 1
LINES = 41  # so that uneven light costs about two fifths of like colors side by side


def nearness(board: Board) -> Array:
    """Return how near any two places are: 8 side by side, 3 across a corner, 1 two away, else 0.

    Side by side means half the shorter side or more in common; with less they meet at a corner.
    """
    beside, corner = touching(board.grown)
    two_away = (beside.astype(int) @ beside.astype(int) > 0) & ~beside & ~corner
    near: Array = BESIDE * beside + CORNER * corner + TWO_AWAY * (two_away & _in_line(board.grown))
    np.fill_diagonal(near, 0)
    return near


def touching(places: Sequence[Rect]) -> tuple[Array, Array]:
    """Return which places lie side by side, and which meet at a corner only."""
    left, top, right, bottom = _edges(places)
    wide = np.minimum(right[:, None], right) - np.maximum(left[:, None], left)
    high = np.minimum(bottom[:, None], bottom) - np.maximum(top[:, None], top)
    shorter_wide = np.minimum((right - left)[:, None], right - left)
    shorter_high = np.minimum((bottom - top)[:, None], bottom - top)
    beside = ((wide == 0) & (2 * high >= shorter_high)) | ((high == 0) & (2 * wide >= shorter_wide))
    meets = ((wide == 0) & (high >= 0)) | ((high == 0) & (wide >= 0))
    return beside, meets & ~beside


def lines(board: Board) -> Array:
    """Return how much any two places weigh in the same row, the same column and the same quarter.

    With l the lightness of a block less the mean, Σ l·l·lines is the sum over rows, columns and
    quarters of (sum of l)² / how many they hold; uneven places count by their size.
    """
    left, top, right, bottom = _edges(board.grown)
    wide, high = (right - left) / (right.max() - left.min()), (bottom - top) / (bottom.max() - top.min())
    in_row = _overlap(top, bottom) / np.median(bottom - top) * np.sqrt(np.outer(wide, wide))
    in_column = _overlap(left, right) / np.median(right - left) * np.sqrt(np.outer(high, high))
    share = quarters(board.grown)
    area = wide * high
    in_quarter = share @ share.T * np.sqrt(np.outer(area, area)) * 4
    return np.asarray(np.rint(LINES * (in_row + in_column + in_quarter)).astype(np.int64))


def quarters(places: Sequence[Rect]) -> Array:
    """Return the share of each place that lies in each quarter of the quilt."""
    left, top, right, bottom = _edges(places)
    middle_x, middle_y = (left.min() + right.max()) / 2, (top.min() + bottom.max()) / 2
    west = np.clip((middle_x - left) / (right - left), 0, 1)
    north = np.clip((middle_y - top) / (bottom - top), 0, 1)
    return np.stack([west * north, (1 - west) * north, west * (1 - north), (1 - west) * (1 - north)], axis=1)


def centers(places: Sequence[Rect]) -> tuple[Array, Array]:
    """Return the middles of places as shares of the width and the height they cover together."""
    left, top, right, bottom = _edges(places)
    x = ((left + right) / 2 - left.min()) / (right.max() - left.min())
    y = ((top + bottom) / 2 - top.min()) / (bottom.max() - top.min())
    return x, y


def in_corner(places: Sequence[Rect]) -> Array:
    """Say which places are corners of the quilt."""
    left, top, right, bottom = _edges(places)
    side = (left == left.min()) | (right == right.max())
    end = (top == top.min()) | (bottom == bottom.max())
    return np.asarray(side & end)


def at_the_top(places: Sequence[Rect]) -> Array:
    """Say which places lie along the top edge."""
    top = _edges(places)[1]
    return np.asarray(top == top.min())


def _edges(places: Sequence[Rect]) -> tuple[Array, Array, Array, Array]:
    rows = np.array([(at.x, at.y, at.right, at.bottom) for at in places], dtype=np.int64)
    return rows[:, 0], rows[:, 1], rows[:, 2], rows[:, 3]


def _overlap(start: Array, end: Array) -> Array:
    return np.asarray(np.maximum(0, np.minimum(end[:, None], end) - np.maximum(start[:, None], start)))


def _in_line(places: Sequence[Rect]) -> Array:
    left, top, right, bottom = _edges(places)
    return np.asarray((_overlap(left, right) > 0) | (_overlap(top, bottom) > 0))
