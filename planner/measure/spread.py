"""How far off two sides may be together."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

SHARE = 0.94  # of pictures with both sides inside; either side by itself then is 97 times in 100
_AT, _WEIGHT = np.polynomial.legendre.leggauss(48)


def plus_minus(covariance: NDArray[Any], *, share: float = SHARE) -> float:
    """Return the least distance that both errors keep within, `share` of the time (bivariate normal)."""
    first, second = math.sqrt(max(covariance[0, 0], 0.0)), math.sqrt(max(covariance[1, 1], 0.0))
    widest = max(first, second)
    if not widest:
        return 0.0
    bound = covariance[0, 1] / (first * second) if first and second else 0.0
    together = min(max(float(bound), -0.9999), 0.9999)
    least, most = 1.5 * widest, 3.0 * widest
    for _ in range(40):
        middle = (least + most) / 2
        if _both_within(middle / max(first, 1e-300), middle / max(second, 1e-300), together) < share:
            least = middle
        else:
            most = middle
    return most


def _both_within(a: float, b: float, together: float) -> float:
    """The chance that |x| < a and |y| < b, for standard normals x and y of correlation `together`."""
    reach = min(a, 9.0)
    x = _AT * reach
    rest = math.sqrt(1 - together**2)
    inside = [_normal((b - together * each) / rest) - _normal((-b - together * each) / rest) for each in x]
    density = np.exp(-(x**2) / 2) / math.sqrt(2 * math.pi)
    return float(reach * (_WEIGHT * density * np.array(inside)).sum())


def _normal(x: float) -> float:
    return (1 + math.erf(x / math.sqrt(2))) / 2
