"""Heather knits: two yarns so finely mixed that a person sees their mean."""

from __future__ import annotations

import numpy as np

from .convert import Array, linear_to_oklab
from .picture import Mask, vision

_FINE = 5  # pixels across within which yarns mix
_BLEND, _ALONG = 7, 9
_LEAST_STIR = (
    0.025  # OKLab distance from the mean nearby; plain cloth with folds and a phone's noise has less
)
_MOST_LEFT = 0.30  # of it after blending both ways: flecks fall to a fifth, checks stay
_MOST_LEFT_ALONG = 0.55  # of it after blending one way: stripes stay along themselves


def is_heather(linear: Array, shirt: Mask) -> bool:
    """Say whether fine flecks cover most of the shirt and vanish when looked at from further off."""
    cv2 = vision()
    inner = cv2.erode(shirt.astype(np.uint8), np.ones((_BLEND, _BLEND), np.uint8)) > 0
    if not inner.any():
        return False

    def typical(picture: Array) -> float:
        return float(np.median(stir(linear_to_oklab(picture), _FINE)[inner]))

    whole = typical(linear)
    if whole < _LEAST_STIR:
        return False
    ways = (((_FINE, _FINE), _MOST_LEFT), ((_ALONG, 1), _MOST_LEFT_ALONG), ((1, _ALONG), _MOST_LEFT_ALONG))
    return all(typical(cv2.blur(linear, reach)) < most * whole for reach, most in ways)


def blended(linear: Array, shirt: Mask) -> Array:
    """Return the shirt with each pixel the linear-light mean of the shirt around it."""
    cv2 = vision()
    weight = cv2.blur(shirt.astype(np.float64), (_BLEND, _BLEND))
    mean = cv2.blur(linear * shirt[..., None], (_BLEND, _BLEND)) / np.maximum(weight, 1e-9)[..., None]
    return np.asarray(np.where(shirt[..., None], mean, linear))


def stir(oklab: Array, reach: int) -> Array:
    """Return how far colors lie from the mean of the square of `reach` pixels around them, in OKLab."""
    cv2 = vision()
    mean = cv2.blur(oklab, (reach, reach))
    spread = cv2.blur(oklab**2, (reach, reach)) - mean**2
    return np.asarray(np.sqrt(np.maximum(spread.sum(axis=-1), 0)))
