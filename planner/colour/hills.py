"""The colors of a heap of pixels: each hill of their density in OKLab is one color.

Hills hardly change when a picture is turned or scaled; the centers of k-means jump.
"""

from __future__ import annotations

from itertools import product

import numpy as np

from .clusters import LIGHTNESS, Labels
from .convert import Array

_CELL = 0.016  # side of a cell of the lattice, in (0.55 L, a, b)
_ROUND = 1.1  # cells: the bell that each pixel is spread over
_APART = 0.06  # tops nearer than this are one color
_SADDLE = 0.9  # so are two with hardly any lower ground between them
_RIM = 5
_NEIGHBORS = tuple(step for step in product((-1, 0, 1), repeat=3) if step > (0, 0, 0))


def hills(oklab: Array, weights: Array) -> tuple[Labels, Array]:
    """Return which color each pixel is of, and the tops in (0.55 L, a, b); `weights` is each pixel's say."""
    points = oklab * (LIGHTNESS, 1.0, 1.0)
    low = (np.floor(points.min(axis=0) / _CELL) - _RIM) * _CELL
    at = (points - low) / _CELL
    shape = tuple(int(size) for size in np.ceil(at.max(axis=0)) + _RIM + 1)
    density = _density(at, weights, shape)
    cells = np.ravel_multi_index(tuple(np.rint(at).astype(np.int64).T), shape)
    top = _tops(density)
    tops = np.unique(top[cells])
    owner = _joined(density, top, tops)
    kept, labels = np.unique(owner[np.searchsorted(tops, top[cells])], return_inverse=True)
    return labels.reshape(-1), _places(tops[kept], shape) + low


def _density(at: Array, weights: Array, shape: tuple[int, ...]) -> Array:
    """Return the pixels' weight on the lattice, each spread over the cells around it."""
    base = np.floor(at).astype(np.int64)
    after = at - base
    parts = np.stack([1 - after, after])
    first = np.ravel_multi_index(tuple(base.T), shape)
    strides = shape[1] * shape[2], shape[2], 1
    density = np.zeros(int(np.prod(shape)))
    for i, j, k in product((0, 1), repeat=3):
        cells = first + i * strides[0] + j * strides[1] + k * strides[2]
        share = weights * parts[i, :, 0] * parts[j, :, 1] * parts[k, :, 2]
        density += np.bincount(cells, share, density.size)
    density = density.reshape(shape)
    reach = np.arange(-3, 4)
    bell = np.exp(-0.5 * (reach / _ROUND) ** 2)
    for axis in range(3):
        density = sum(
            w * np.roll(density, int(r), axis=axis) for r, w in zip(reach, bell / bell.sum(), strict=True)
        )
    return density


def _tops(density: Array) -> Labels:
    """Return for each cell the top that going uphill leads to."""
    best, to = density.copy(), np.arange(density.size).reshape(density.shape)
    own = to.copy()
    for step in _NEIGHBORS:
        for way in (step, tuple(-each for each in step)):
            there = np.roll(density, way, axis=(0, 1, 2))
            higher = there > best
            best = np.where(higher, there, best)
            to = np.where(higher, np.roll(own, way, axis=(0, 1, 2)), to)
    leads = to.reshape(-1)
    while True:
        further = leads[leads]
        if (further == leads).all():
            return np.asarray(leads)
        leads = further


def _joined(density: Array, top: Labels, tops: Labels) -> Labels:
    """Return for each top the one it is joined to: first across high saddles, then to tops close by."""
    saddle = _saddles(density, top, tops)
    height, place = density.reshape(-1)[tops], _places(tops, density.shape)
    owner = np.arange(len(tops))
    for close in (False, True):
        for one in np.argsort(height, kind="stable"):
            higher = np.flatnonzero((owner == np.arange(len(tops))) & (height > height[one]))
            if owner[one] != one or not len(higher):
                continue
            if close:
                likeness = _APART - np.linalg.norm(place[higher] - place[one], axis=1)
            else:
                likeness = saddle[one, higher] / height[one] - _SADDLE
            if likeness.max() > 0:
                into = higher[int(np.argmax(likeness))]
                owner[owner == one] = into
                saddle[into] = saddle[:, into] = np.maximum(saddle[into], saddle[one])
    return owner


def _saddles(density: Array, top: Labels, tops: Labels) -> Array:
    """Return the highest way from each hill to each other: the lower of two cells that touch."""
    number = np.full(density.size, -1)
    number[tops] = np.arange(len(tops))
    hill = number[top].reshape(density.shape)
    count = len(tops)
    pairs, ways = [], []
    for step in _NEIGHBORS:
        other, there = np.roll(hill, step, axis=(0, 1, 2)), np.roll(density, step, axis=(0, 1, 2))
        meet = (other != hill) & (other >= 0) & (hill >= 0)
        pairs.append(hill[meet] * count + other[meet])
        ways.append(np.minimum(density, there)[meet])
    pair, way = np.concatenate(pairs), np.concatenate(ways)
    order = np.argsort(way, kind="stable")
    highest = np.zeros(count * count)
    highest[pair[order]] = way[order]
    square = highest.reshape(count, count)
    return np.maximum(square, square.T)


def _places(cells: Labels, shape: tuple[int, ...]) -> Array:
    return np.asarray(np.stack(np.unravel_index(cells, shape), axis=1) * _CELL, dtype=np.float64)
