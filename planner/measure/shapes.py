"""What a print is taken for: a rectangle, or any four corners."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[Any]

SQUARE = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])


class Shape(Protocol):
    """What the print is taken for."""

    @property
    def count(self) -> int:
        """How many parameters it has."""

    def start(self, plane: Array) -> Array:
        """Return first parameters from four points of the plane."""

    def points(self, how: Array) -> Array:
        """Return the four corners (batch, 4, 2) of each row of parameters."""

    def sides(self, how: Array) -> Array:
        """Return width and height of each row."""


@dataclass(frozen=True)
class Rectangle:
    """A print with right angles: where its middle is (2), how it is turned, and its two sides."""

    count: int = 5

    def start(self, plane: Array) -> Array:
        """Average what was tapped."""
        across = (plane[1] + plane[2] - plane[0] - plane[3]) / 2
        down = (plane[2] + plane[3] - plane[0] - plane[1]) / 2
        sides = np.log([np.hypot(*across), np.hypot(*down)])
        return np.array([*plane.mean(axis=0), np.arctan2(across[1], across[0]), *sides])

    def points(self, how: Array) -> Array:
        """Turn and stretch the unit square."""
        cos, sin = np.cos(how[:, 2]), np.sin(how[:, 2])
        turn = np.stack([cos, sin, -sin, cos], axis=-1).reshape(-1, 2, 2)
        return np.asarray(how[:, None, :2] + (SQUARE * np.exp(how[:, None, 3:5])) @ turn)

    def sides(self, how: Array) -> Array:
        """Read the two sides."""
        return np.asarray(np.exp(how[:, 3:5]))


@dataclass(frozen=True)
class Four:
    """Any four corners; a side is the mean of the two that lie opposite."""

    count: int = 8

    def start(self, plane: Array) -> Array:
        """Take them as they are."""
        return plane.ravel()

    def points(self, how: Array) -> Array:
        """Give them back."""
        return how.reshape(-1, 4, 2)

    def sides(self, how: Array) -> Array:
        """Average opposite sides."""
        at = how.reshape(-1, 4, 2)
        each = np.linalg.norm(np.roll(at, -1, axis=1) - at, axis=2)
        return np.stack([(each[:, 0] + each[:, 2]) / 2, (each[:, 1] + each[:, 3]) / 2], axis=-1)
