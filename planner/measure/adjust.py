"""The best agreement of all eight taps: where the camera was, and how large the print is, at once.

A print's own right angles tell as much about the camera's tilt as the card does, so both are fitted
together: least squares by Levenberg and Marquardt's rule, from the textbook definition.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .camera import View, seen_through
from .shapes import Shape

Array = NDArray[Any]

MOST_STEPS = 40
ENOUGH = 1e-10
GOOD_ENOUGH = 20.0  # a misfit at which another start is not worth its time
NUDGE = 1e-6


@dataclass(frozen=True)
class Taps:
    """What was tapped, in pixels, clockwise: the reference's corners, the print's; how each scatter."""

    reference: Array
    print_: Array
    sigma: float
    reference_sigma: float

    @property
    def scatter(self) -> Array:
        """The standard deviation of each corner, as a column."""
        return np.repeat([[self.reference_sigma], [self.sigma]], 4, axis=0)


@dataclass(frozen=True)
class Agreement:
    """A fit: how it was seen, the print's sides in inches, their covariance, and what is left over."""

    matrix: Array
    corners: Array
    sides: Array
    covariance: Array
    misfit: float
    spare: int
    plane: Array

    @property
    def unevenness(self) -> float:
        """Half of what opposite sides differ by, the larger of the two, in inches."""
        each = np.linalg.norm(np.roll(self.corners, -1, axis=0) - self.corners, axis=1)
        return float(max(abs(each[0] - each[2]), abs(each[1] - each[3])) / 2)


def agree(plane: Array, taps: Taps, view: View, shape: Shape) -> Agreement | None:
    """Return the best agreement of a view and a shape with the taps, or None where none is in sight."""
    best: tuple[Array, float] | None = None
    with np.errstate(all="ignore"), suppress(np.linalg.LinAlgError):
        for start in view.starts(plane, taps.reference):
            on_plane = seen_through(np.linalg.inv(view.matrices(start[None])), taps.print_[None])[0]
            first = np.concatenate([start, shape.start(on_plane)])
            if np.isfinite(first).all():
                settled = _settled(first, plane, taps, view=view, shape=shape)
                best = settled if best is None or settled[1] < best[1] else best
                if best[1] < GOOD_ENOUGH:
                    break
        if best is not None and np.isfinite(best[1]):
            return _told(*best, plane, taps, view=view, shape=shape)
    return None


def _left_over(how: Array, plane: Array, taps: Taps, *, view: View, shape: Shape) -> Array:
    """Return what taps and knowledge lie off, in standard deviations, for each row of parameters."""
    seeing, shaped = how[:, : -shape.count], how[:, -shape.count :]
    known = np.broadcast_to(plane, (len(how), 4, 2))
    at = seen_through(view.matrices(seeing), np.concatenate([known, shape.points(shaped)], axis=1))
    off = (at - np.concatenate([taps.reference, taps.print_])) / taps.scatter
    return np.concatenate([off.reshape(len(how), -1), view.surprise(seeing)], axis=1)


def _slopes(how: Array, plane: Array, taps: Taps, *, view: View, shape: Shape) -> Array:
    nudges = np.eye(len(how)) * NUDGE * np.maximum(1.0, abs(how))
    both = np.concatenate([how + nudges, how - nudges])
    off = _left_over(both, plane, taps, view=view, shape=shape)
    return np.asarray(((off[: len(how)] - off[len(how) :]) / (2 * nudges.sum(axis=1)[:, None])).T)


def _settled(start: Array, plane: Array, taps: Taps, *, view: View, shape: Shape) -> tuple[Array, float]:
    """Go down to the least misfit, a bold step where it helps, a careful one where it does not."""
    how, care = start, 1e-3
    off = _left_over(how[None], plane, taps, view=view, shape=shape)[0]
    for _ in range(MOST_STEPS):
        slope = _slopes(how, plane, taps, view=view, shape=shape)
        if not np.isfinite(slope).all():
            break
        square = slope.T @ slope
        step = np.linalg.solve(square + care * np.diag(square.diagonal() + 1e-12), -slope.T @ off)
        tried = _left_over((how + step)[None], plane, taps, view=view, shape=shape)[0]
        gain = off @ off - tried @ tried
        if np.isfinite(gain) and gain >= 0:
            how, off, care = how + step, tried, max(care / 10, 1e-15)
            if gain <= ENOUGH * (1e-9 + off @ off):
                break
        else:
            care *= 10
            if care > 1e12:
                break
    return how, float(off @ off)


def _told(how: Array, misfit: float, plane: Array, taps: Taps, *, view: View, shape: Shape) -> Agreement:
    slope = _slopes(how, plane, taps, view=view, shape=shape)
    spread = np.linalg.pinv(slope.T @ slope)
    shaped = how[-shape.count :]
    nudges = np.eye(shape.count) * NUDGE * np.maximum(1.0, abs(shaped))
    ahead, behind = shape.sides(shaped + nudges), shape.sides(shaped - nudges)
    by_side = ((ahead - behind) / (2 * nudges.sum(axis=1)[:, None])).T
    covariance = by_side @ spread[-shape.count :, -shape.count :] @ by_side.T
    return Agreement(
        matrix=view.matrices(how[None, : -shape.count])[0],
        corners=shape.points(shaped[None])[0],
        sides=shape.sides(shaped[None])[0],
        covariance=covariance,
        misfit=misfit,
        spare=slope.shape[0] - slope.shape[1],
        plane=plane,
    )
