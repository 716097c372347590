"""Light that lies unevenly on a swatch, taken off."""

from __future__ import annotations

import numpy as np

from .convert import Array, linear_to_oklab
from .picture import vision

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
_WAVE, _WEAVE = 0.1, 0.006  # of the longer side
_FINE_WAVE, _FINE_WEAVE = 0.04, 0.004


def without_slope(linear: Array) -> Array:
    """Divide out a slope or a wide bend of light: a quadratic of the log luminance, its mean kept."""
    height, width = linear.shape[:2]
    down, across = np.meshgrid(np.linspace(-1, 1, height), np.linspace(-1, 1, width), indexing="ij")
    level = _log_luminance(linear)
    bends = np.stack([down, across, down**2 - 1 / 3, across**2 - 1 / 3, down * across], axis=-1).reshape(
        -1, 5
    )
    fit, *_ = np.linalg.lstsq(bends, (level - level.mean()).ravel(), rcond=None)
    return np.asarray(linear / np.exp(bends @ fit).reshape(height, width, 1))


def without_waves_and_weave(linear: Array) -> Array:
    """Divide out what changes over a tenth of the picture, and blur what is as fine as threads."""
    return _between(linear, _WAVE, _WEAVE)


def unevenness(linear: Array) -> tuple[float, float]:
    """Return how far a cloth without a print is from one even color: in lightness and in tint.

    The first is the middle distance from the middle color, in OKLab over the lightness, of what is
    finer than folds: light moves lightness in proportion. The second is that of (a, b) over lightness at
    any width, which light does not move at all.
    """
    fine = linear_to_oklab(_between(linear, _FINE_WAVE, _FINE_WEAVE)).reshape(-1, 3)
    middle = np.median(fine, axis=0)
    # What is dark is noise in the camera before it is shade in the cloth.
    light = float(np.median(np.linalg.norm(fine - middle, axis=1))) / max(float(middle[0]), 0.4)
    whole = linear_to_oklab(_blurred(linear, _WEAVE)).reshape(-1, 3)
    tint = whole[:, 1:] / np.maximum(whole[:, :1], 0.2)
    return light, float(np.median(np.linalg.norm(tint - np.median(tint, axis=0), axis=1)))


def _between(linear: Array, wave: float, weave: float) -> Array:
    level = _log_luminance(linear)
    wide = vision().GaussianBlur(level, (0, 0), wave * max(linear.shape[:2]))
    return _blurred(linear / np.exp(wide - wide.mean())[..., None], weave)


def _blurred(linear: Array, width: float) -> Array:
    return np.asarray(vision().GaussianBlur(linear, (0, 0), width * max(linear.shape[:2])))


def _log_luminance(linear: Array) -> Array:
    return np.asarray(np.log(np.maximum(linear @ _LUMINANCE, 1e-4)))
