"""The colors of a heap of pixels: k-means in OKLab from seeds that are always the same."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .convert import Array

LIGHTNESS = 0.55  # folds and shade move lightness most, so it counts for less
_GRAIN = 0.012  # width of a bin
_COARSE = 0.05
_MOST, _ROUNDS = 9, 12
_APART = 0.07  # centers nearer than this are one color
_LEAST_SEED = 0.004

Labels = NDArray[np.intp]


def cluster(oklab: Array, *, apart: float = _APART) -> tuple[Labels, Array]:
    """Return which cluster each pixel is of, and the centers in (0.55 L, a, b)."""
    points = oklab * (LIGHTNESS, 1.0, 1.0)
    spots, weights, back = _binned(points)
    centers = _seeds(spots, weights, apart)
    for _ in range(_ROUNDS):
        centers = _means(spots, weights, nearest(spots, centers), len(centers))
    centers = _merged(spots, weights, centers, apart)
    return nearest(spots, centers)[back], centers


def nearest(points: Array, centers: Array) -> Labels:
    """Return the center that each point is nearest to."""
    squares = (centers**2).sum(axis=1) - 2 * points @ centers.T
    return np.asarray(squares.argmin(axis=1))


def _binned(points: Array) -> tuple[Array, Array, Labels]:
    """Return the mean and the number of pixels of each bin, and the bin of each pixel."""
    back = _numbered(np.rint(points / _GRAIN))
    weights = np.bincount(back).astype(np.float64)
    spots = np.stack([np.bincount(back, points[:, axis]) for axis in range(3)], axis=1) / weights[:, None]
    return spots, weights, back


def _numbered(cells: Array) -> Labels:
    """Return a number for each row, equal rows the same, without gaps."""
    whole = cells.astype(np.int64) + 512
    codes = (whole[:, 0] * 1024 + whole[:, 1]) * 1024 + whole[:, 2]
    return np.asarray(np.unique(codes, return_inverse=True)[1])


def _seeds(spots: Array, weights: Array, apart: float) -> Array:
    """Return the heaviest coarse cell, then again and again the one furthest from all that were taken."""
    cell = _numbered(np.rint(spots / _COARSE))
    heavy = np.bincount(cell, weights)
    sums = [np.bincount(cell, weights * spots[:, axis]) for axis in range(3)]
    middle = np.stack(sums, axis=1) / heavy[:, None]
    worth = heavy >= _LEAST_SEED * weights.sum()
    taken = [int(np.argmax(heavy))]
    away = np.linalg.norm(middle - middle[taken[0]], axis=1)
    while len(taken) < _MOST:
        further = np.where(worth, away, -1.0)
        next_ = int(np.argmax(further))
        if further[next_] < apart:
            break
        taken.append(next_)
        away = np.minimum(away, np.linalg.norm(middle - middle[next_], axis=1))
    return np.asarray(middle[taken])


def _means(spots: Array, weights: Array, labels: Labels, count: int) -> Array:
    """Return the mean of each cluster; one that has nothing is left out."""
    held = np.bincount(labels, weights, count)
    sums = np.stack([np.bincount(labels, weights * spots[:, axis], count) for axis in range(3)], axis=1)
    return np.asarray(sums[held > 0] / held[held > 0][:, None])


def _merged(spots: Array, weights: Array, centers: Array, apart: float) -> Array:
    """Join the two nearest centers while they are nearer than `apart`."""
    while len(centers) > 1:
        away = np.linalg.norm(centers[:, None] - centers[None], axis=-1) + 9 * np.eye(len(centers))
        one, other = np.unravel_index(int(away.argmin()), away.shape)
        if away[one, other] >= apart:
            break
        held = np.bincount(nearest(spots, centers), weights, len(centers))
        both = max(held[one] + held[other], 1e-9)
        joint = (centers[one] * held[one] + centers[other] * held[other]) / both
        centers = np.concatenate([np.delete(centers, [one, other], axis=0), joint[None]])
    return centers
