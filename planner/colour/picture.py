"""A picture as the color work needs it: checked, small, in linear light."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.problems import BadInput

from .convert import Array, srgb_to_linear

Pixels = NDArray[np.uint8]
Mask = NDArray[np.bool_]

_LEAST_SIDE = 8
_TO_LINEAR = srgb_to_linear(np.arange(256, dtype=np.uint8)).astype(np.float32)


def vision() -> Any:
    """Return OpenCV, brought in when first needed, on one thread so that it gives the same answer always."""
    import cv2

    cv2.setNumThreads(1)
    return cv2


def checked_image(image: Any) -> Pixels:
    """Return the picture if it is height × width × 3 of whole numbers 0 to 255; else say what it is."""
    pixels = np.asarray(image)
    if pixels.ndim != 3 or pixels.shape[2] != 3 or pixels.dtype != np.uint8:
        raise BadInput("image", "must be height × width × 3 whole numbers from 0 to 255, in sRGB.")
    if min(pixels.shape[:2]) < _LEAST_SIDE:
        raise BadInput("image", f"must be at least {_LEAST_SIDE} pixels wide and high.")
    return np.ascontiguousarray(pixels)


def shrunk(image: Pixels, side: int) -> Pixels:
    """Return the picture with its longer side at most `side` pixels, each the mean of those it covers."""
    height, width = small_size(image.shape[:2], side)
    if (height, width) == image.shape[:2]:
        return image
    cv2 = vision()
    thinned = _thinned(image, side)
    return np.asarray(cv2.resize(thinned, (width, height), interpolation=cv2.INTER_AREA))


def _thinned(whole: Any, side: int) -> Any:
    """Leave out rows and columns of a very large picture; two each way still meet in a pixel."""
    step = max(1, max(whole.shape[:2]) // (2 * side))
    return np.ascontiguousarray(whole[::step, ::step])


def small_size(shape: tuple[int, ...], side: int) -> tuple[int, int]:
    scale = min(1.0, side / max(shape))
    return max(1, round(shape[0] * scale)), max(1, round(shape[1] * scale))


def linear_light(image: Pixels, side: int) -> Array:
    """Return the picture in linear light, shrunk there: a mean of coded values would darken its edges."""
    height, width = small_size(image.shape[:2], side)
    # Half of the way goes in coded values, which is quick and no darker where neighbors are alike.
    nearer = shrunk(image, 4 * side)
    linear = _TO_LINEAR[nearer]
    if (height, width) != linear.shape[:2]:
        cv2 = vision()
        linear = cv2.resize(linear, (width, height), interpolation=cv2.INTER_AREA)
    return np.asarray(linear, dtype=np.float64)


def shrunk_mask(mask: Mask, size: tuple[int, int]) -> Mask:
    """Return the mask at height × width, true where most of what a pixel covers is."""
    if mask.shape == size:
        return np.asarray(mask, dtype=bool)
    cv2 = vision()
    thinned = _thinned(mask, max(size)).astype(np.uint8) * 255
    return np.asarray(cv2.resize(thinned, size[::-1], interpolation=cv2.INTER_AREA) > 127)
