"""Shade on the ground of a shirt: folds, a light from one side, a hard shadow; found and divided out."""

from __future__ import annotations

import numpy as np

from .convert import Array, linear_to_oklab
from .picture import Mask, vision

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
_SAME_TINT = 0.05  # chroma over lightness, OKLab: within this two colors are one cloth in more or less light
_SHADE = (0.78, 1.22)  # of lightness
_LEAST_PART = 0.12  # share of the ground that a shadow must leave or take to be one


def ground_like(oklab: Array, ground: Array, shirt: Mask) -> Mask:
    """Return the pixels that are the ground color in more or less light."""
    lightness = np.maximum(oklab[..., 0], 1e-6)
    tint = oklab[..., 1:] / lightness[..., None] - ground[1:] / max(ground[0], 1e-6)
    ratio = lightness / max(ground[0], 1e-6)
    # The tint of a dark pixel is noise, so it may differ more.
    near = np.hypot(tint[..., 0], tint[..., 1]) < _SAME_TINT + 0.012 / lightness
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
    cv2 = vision()
    side = max(values.shape)
    spread, weight = np.zeros_like(values), np.full_like(values, 1e-9)
    for reach in (0.012, 0.04, 0.15):
        sigma = max(0.8, reach * side)
        here = cv2.GaussianBlur(known.astype(np.float64), (0, 0), sigma)
        mean = cv2.GaussianBlur(values, (0, 0), sigma) / np.maximum(here, 1e-9)
        trust = (
            np.clip(here * 4 - 0.6, 0, 1) * (1 - np.minimum(weight, 1))
            if reach < 0.15
            else 1 - np.minimum(weight, 1)
        )
        spread += trust * np.where(here > 1e-6, mean, 0.0)
        weight += trust
    return spread


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
