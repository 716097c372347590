"""From a flat place to its picture: through a lens of known focal length, or by any flat view at all.

A view turns its parameters into 3 x 3 matrices from plane points (inches) to picture points (pixels).
Parameters come in a batch, one row each, so that a whole table of derivatives is one call.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[Any]


class View(Protocol):
    """A way from the plane to the picture."""

    def starts(self, plane: Array, seen: Array) -> list[Array]:
        """Return first guesses of its parameters from four plane points and where they are seen."""

    def matrices(self, how: Array) -> Array:
        """Return a matrix for each row of parameters."""

    def surprise(self, how: Array) -> Array:
        """Return how far each row lies from what was known before, in standard deviations."""


@dataclass(frozen=True)
class Lens:
    """A camera: how it is turned (3), where the plane lies (3), and its lens (3), which is nearly known.

    `focal` and `middle` in pixels; the trusts are standard deviations as shares of the focal length.
    """

    focal: float
    middle: tuple[float, float]
    focal_trust: float
    middle_trust: float

    def starts(self, plane: Array, seen: Array) -> list[Array]:
        """Begin straight above, and at the tilt that the four points show by themselves."""
        ray = (seen - np.array(self.middle)) / self.focal
        scale, roll, aside = likeness(plane, ray)
        above = np.array([0.0, 0.0, roll, *aside, np.log(1 / scale), 0.0, 0.0, 0.0])
        flat = homography(plane, ray)
        if flat[2, 2] * np.linalg.det(flat) <= 0:
            return [above]
        flat = np.sign(flat[2, 2]) * flat / np.sqrt(np.prod(np.linalg.norm(flat[:, :2], axis=0)))
        left, _, right = np.linalg.svd(flat[:, :2], full_matrices=False)
        turn = left @ right
        turn = np.column_stack([turn, np.cross(turn[:, 0], turn[:, 1])])
        place = flat[:, 2]
        tilted = np.array([*turned_by(turn), *(place[:2] / place[2]), np.log(place[2]), 0.0, 0.0, 0.0])
        return [tilted, above]

    def matrices(self, how: Array) -> Array:
        """Turn, move away, and look through the lens."""
        far = np.exp(how[:, 5])
        aside = np.stack([how[:, 3], how[:, 4], np.ones(len(how))], axis=-1)
        pose = np.concatenate([rotations(how[:, :3])[:, :, :2], (far[:, None] * aside)[:, :, None]], axis=2)
        lens = np.zeros((len(how), 3, 3))
        lens[:, 0, 0] = lens[:, 1, 1] = self.focal * np.exp(how[:, 6])
        lens[:, 0, 2] = self.middle[0] + self.focal * how[:, 7]
        lens[:, 1, 2] = self.middle[1] + self.focal * how[:, 8]
        lens[:, 2, 2] = 1
        return np.asarray(lens @ pose)

    def surprise(self, how: Array) -> Array:
        """The focal length and the middle of the picture are known only about."""
        trust = np.array([self.focal_trust, self.middle_trust, self.middle_trust])
        return np.asarray(how[:, 6:9] / trust)


@dataclass(frozen=True)
class AnyView:
    """A view of a plane by a camera of which nothing is known: a homography, with eight parameters."""

    middle: tuple[float, float]
    span: float

    def starts(self, plane: Array, seen: Array) -> list[Array]:
        """Four points say it all."""
        flat = homography(plane, (seen - np.array(self.middle)) / self.span)
        return [(flat / flat[2, 2]).ravel()[:8]]

    def matrices(self, how: Array) -> Array:
        """Write the eight numbers as a matrix."""
        flat = np.concatenate([how, np.ones((len(how), 1))], axis=1).reshape(-1, 3, 3)
        to_pixels = np.array([[self.span, 0, self.middle[0]], [0, self.span, self.middle[1]], [0, 0, 1]])
        return np.asarray(to_pixels @ flat)

    def surprise(self, how: Array) -> Array:
        """Nothing was known before."""
        return np.zeros((len(how), 0))


def seen_through(matrices: Array, points: Array) -> Array:
    """Return where points (batch, n, 2) go by the matrices (batch, 3, 3)."""
    made = np.concatenate([points, np.ones((*points.shape[:2], 1))], axis=2)
    made = made @ matrices.transpose(0, 2, 1)
    return np.asarray(made[:, :, :2] / made[:, :, 2:])


def homography(plane: Array, seen: Array) -> Array:
    """Return the matrix that takes four points of the plane exactly to where they are seen."""
    rows = []
    for (x, y), (u, v) in zip(plane, seen, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y, -u])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y, -v])
    return np.asarray(np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3))


def likeness(plane: Array, seen: Array) -> tuple[float, float, Array]:
    """Return scale, roll and shift that take the plane's points nearest to where they are seen."""
    a, b = plane @ np.array([1, 1j]), seen @ np.array([1, 1j])
    grown = np.vdot(a - a.mean(), b - b.mean()) / np.vdot(a - a.mean(), a - a.mean())
    shift = b.mean() - grown * a.mean()
    return float(abs(grown)), float(np.angle(grown)), np.array([shift.real, shift.imag])


def rotations(vectors: Array) -> Array:
    """Return the rotation of each vector: its length the angle, its direction the axis (Rodrigues)."""
    angle = np.linalg.norm(vectors, axis=1)
    safe = np.where(angle < 1e-12, 1.0, angle)
    x, y, z = (vectors / safe[:, None]).T
    zero = np.zeros_like(x)
    cross = np.stack([zero, -z, y, z, zero, -x, -y, x, zero], axis=-1).reshape(-1, 3, 3)
    sin, cos = np.sin(angle)[:, None, None], np.cos(angle)[:, None, None]
    return np.asarray(np.eye(3) + sin * cross + (1 - cos) * (cross @ cross))


def turned_by(turn: Array) -> Array:
    """Return the vector of a rotation."""
    cos = np.clip((np.trace(turn) - 1) / 2, -1.0, 1.0)
    angle = np.arccos(cos)
    axis = np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
    size = np.linalg.norm(axis)
    if size > 1e-9:
        return np.asarray(axis / size * angle)
    if cos > 0:
        return np.zeros(3)
    values, vectors = np.linalg.eigh((turn + turn.T) / 2)
    return np.asarray(vectors[:, np.argmax(values)] * np.pi)
