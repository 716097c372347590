"""Shade on the ground of a shirt: folds, a light from one side, a hard shadow; found and divided out."""

from __future__ import annotations

from typing import Any

import numpy as np

from .convert import Array, linear_to_oklab
from .picture import Mask, vision

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
_SAME_TINT, _NOISE = (
    0.035,
    0.006,
)  # chroma over lightness, OKLab: within this two colors are one cloth in more or less light
_SHADE = (0.78, 1.22)  # of lightness
_REACHES = (0.012, 0.04, 0.15)  # of the longer side: shade is taken from as near by as the ground is seen
_LEAST_PART = 0.12  # share of the ground that a shadow must leave or take to be one


def ground_like(oklab: Array, ground: Array, shirt: Mask) -> Mask:
    """Return the pixels that are the ground color in more or less light."""
    lightness = np.maximum(oklab[..., 0], 1e-6)
    tint = oklab[..., 1:] / lightness[..., None] - ground[1:] / max(ground[0], 1e-6)
    ratio = lightness / max(ground[0], 1e-6)
    # The tint of a dark pixel is noise, so it may differ more.
    near = np.hypot(tint[..., 0], tint[..., 1]) < _SAME_TINT + _NOISE / lightness
    return np.asarray(shirt & near & (ratio > _SHADE[0]) & (ratio < _SHADE[1]))


def flattened(linear: Array, ground: Array, shirt: Mask) -> Array:
    """Return the picture with the shade that lies on its ground divided out."""
    like = ground_like(linear_to_oklab(linear), ground, shirt)
    if like.sum() < 40:
        return linear
    level = np.log(np.maximum(linear @ _LUMINANCE, 1e-5))
    middle = float(np.median(level[like]))
    shade = _spread(np.where(like, level - middle, 0.0), like)
    return np.asarray(linear * np.exp(-shade)[..., None])


def _spread(values: Array, known: Mask) -> Array:
    """Return the values smoothed, and carried from where they are known to where they are not."""
    side = max(values.shape)
    spread, weight = np.zeros_like(values), np.zeros_like(values)
    for reach in _REACHES:
        here = _softened(known.astype(np.float32), reach * side)
        mean = _softened(values.astype(np.float32), reach * side) / np.maximum(here, 1e-9)
        near = 1.0 if reach == _REACHES[-1] else np.clip(here * 4 - 0.6, 0, 1)
        trust = near * (1 - weight)
        spread += trust * np.where(here > 1e-6, mean, 0.0)
        weight += trust
    return spread


def _softened(values: Any, sigma: float) -> Any:
    """Return the values blurred as by a bell: three boxes, as quick for a wide one as for a narrow."""
    cv2 = vision()
    width = 2 * round(max(0.8, sigma)) + 1
    for _ in range(3):
        values = cv2.blur(values, (width, width))
    return values


def lit(linear: Array) -> Mask:
    """Return which ground pixels lie in the light: all, unless a hard shadow parts them in two."""
    level = np.log(np.maximum(linear @ _LUMINANCE, 1e-5))
    cuts = np.quantile(level, np.linspace(0.1, 0.9, 41))
    best, cut = 0.0, -np.inf
    whole = float(level.var()) + 1e-12
    for at in cuts:
        above = level > at
        share = float(above.mean())
        if not _LEAST_PART < share < 1 - _LEAST_PART:
            continue
        step = float(level[above].mean() - level[~above].mean())
        parted = share * (1 - share) * step**2 / whole
        if step > 0.3 and parted > best:
            best, cut = parted, float(at)
    return level > cut if best > 0.8 else np.ones(len(level), bool)
