"""Made-up pictures with light in them: a pale sheet or a mat's lines on a mottled cloth, blurred, with grain.

SIMULATION: drawn by the program from a seed; no photograph was taken. Only the part round the thing of
known size is drawn, which is all that is looked at.
"""

from __future__ import annotations

import numpy as np

from tests.planner.measure.pictures import Picture

WIDE, HIGH, ROUND = 4000, 3000, 24
CLOTH, PALE, GRAIN, BLUR = 118.0, 222.0, 3.0, 0.55


def drawn(made: Picture, rng: np.random.Generator, *, line: float | None = None) -> np.ndarray:
    """Return gray levels: the thing of known size filled, or as lines so many pixels wide."""
    light = np.full((HIGH, WIDE), CLOTH, dtype=np.float32)
    corners = made.reference_px
    left, top = np.maximum(np.floor(corners.min(axis=0) - ROUND).astype(int), 0)
    right, foot = np.minimum(np.ceil(corners.max(axis=0) + ROUND).astype(int), [WIDE, HIGH])
    x = np.arange(left, right, dtype=np.float32)[None]
    y = np.arange(top, foot, dtype=np.float32)[:, None]
    sides = [_distance(x, y, corners[at], corners[(at + 1) % 4]) for at in range(4)]
    inside = np.minimum.reduce(sides)
    if line is None:
        share = _soft(inside)
    else:
        share = np.maximum.reduce([_soft(line / 2 - abs(side)) for side in sides])
    part = light[top:foot, left:right]
    part += _mottled(part.shape, rng)
    part += (PALE - part) * share
    part += rng.normal(0, GRAIN, part.shape).astype(np.float32)
    return np.clip(light, 0, 255)


def _distance(x: np.ndarray, y: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Return how far each pixel lies to the inner side of the line through two corners."""
    across = np.array([-(b - a)[1], (b - a)[0]]) / np.hypot(*(b - a))
    return x * across[0] + y * across[1] - across @ a


def _soft(inside: np.ndarray) -> np.ndarray:
    return 1 / (1 + np.exp(-np.clip(inside / BLUR, -30, 30)))


def _mottled(shape: tuple[int, int], rng: np.random.Generator) -> np.ndarray:
    patches = rng.uniform(-20, 20, (shape[0] // 40 + 2, shape[1] // 40 + 2)).astype(np.float32)
    return np.kron(patches, np.ones((40, 40), dtype=np.float32))[: shape[0], : shape[1]]
