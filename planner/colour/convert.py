"""Color conversions and differences over arrays of shape (..., 3).

sRGB is IEC 61966-2-1; CIELAB is CIE 15 with the D65 two-degree white; CIEDE2000 follows Sharma,
Wu and Dalal, Color Res. Appl. 30 (2005) 21-30; OKLab follows B. Ottosson (2020); the contrast
ratio is that of WCAG 2.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_TO_XYZ = np.array(
    [
        [0.4123907992659595, 0.357584339383878, 0.1804807884018343],
        [0.21263900587151036, 0.715168678767756, 0.07219231536073371],
        [0.01933081871559185, 0.11919477979462599, 0.9505321522496607],
    ]
)
_WHITE = _TO_XYZ.sum(axis=1)
_TO_LMS = np.array(
    [
        [0.8190224379967030, 0.3619062600528904, -0.1288737815209879],
        [0.0329836539323885, 0.9292868615863434, 0.0361446663506424],
        [0.0481771893596242, 0.2642395317527308, 0.6335478284694309],
    ]
)
_LMS_TO_OKLAB = np.array(
    [
        [0.2104542683093140, 0.7936177747023054, -0.0040720430116193],
        [1.9779985324311684, -2.4285922420485799, 0.4505937096174110],
        [0.0259040424655478, 0.7827717124575296, -0.8086757549230774],
    ]
)


def srgb_to_lab(rgb: ArrayLike) -> Array:
    """Return CIELAB (D65) of sRGB given as integers 0..255 or floats 0..1."""
    return linear_to_lab(srgb_to_linear(rgb))


def srgb_to_oklab(rgb: ArrayLike) -> Array:
    """Return OKLab of sRGB given as integers 0..255 or floats 0..1."""
    return linear_to_oklab(srgb_to_linear(rgb))


def oklab_to_lab(oklab: ArrayLike) -> Array:
    """Return CIELAB (D65) of OKLab."""
    cones = (np.asarray(oklab, dtype=np.float64) @ np.linalg.inv(_LMS_TO_OKLAB).T) ** 3
    return _xyz_to_lab(cones @ np.linalg.inv(_TO_LMS).T)


def srgb_to_linear(rgb: ArrayLike) -> Array:
    """Return linear light, 0 to 1, of sRGB given as integers 0..255 or floats 0..1."""
    raw = np.asarray(rgb)
    unit = raw / 255.0 if np.issubdtype(raw.dtype, np.integer) else raw.astype(np.float64)
    return np.where(unit <= 0.04045, unit / 12.92, ((unit + 0.055) / 1.055) ** 2.4)


def linear_to_lab(linear: ArrayLike) -> Array:
    """Return CIELAB (D65) of linear light in the sRGB primaries."""
    return _xyz_to_lab(np.asarray(linear, dtype=np.float64) @ _TO_XYZ.T)


def linear_to_oklab(linear: ArrayLike) -> Array:
    """Return OKLab of linear light in the sRGB primaries."""
    return xyz_to_oklab(np.asarray(linear, dtype=np.float64) @ _TO_XYZ.T)


def lab_to_linear(lab: ArrayLike) -> Array:
    """Return linear light in the sRGB primaries of CIELAB (D65)."""
    return np.asarray(lab_to_xyz(lab) @ np.linalg.inv(_TO_XYZ).T)


def xyz_to_oklab(xyz: ArrayLike) -> Array:
    """Return OKLab of CIE XYZ relative to D65, white at Y = 1."""
    cones = np.cbrt(np.asarray(xyz, dtype=np.float64) @ _TO_LMS.T)
    return np.asarray(cones @ _LMS_TO_OKLAB.T)


def lab_to_oklab(lab: ArrayLike) -> Array:
    """Return OKLab of CIELAB (D65)."""
    return xyz_to_oklab(lab_to_xyz(lab))


def lab_to_xyz(lab: ArrayLike) -> Array:
    """Return CIE XYZ of CIELAB (D65), white at Y = 1."""
    lightness, a, b = np.moveaxis(np.asarray(lab, dtype=np.float64), -1, 0)
    middle = (lightness + 16) / 116
    f = np.stack([middle + a / 500, middle, middle - b / 200], axis=-1)
    return np.asarray(np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * _WHITE)


def lab_to_srgb(lab: ArrayLike) -> NDArray[np.uint8]:
    """Return sRGB of CIELAB (D65) as integers 0..255; what no screen shows is clipped channel by channel."""
    linear = np.clip(lab_to_xyz(lab) @ np.linalg.inv(_TO_XYZ).T, 0, 1)
    coded = np.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055)
    return np.asarray(np.rint(coded * 255), dtype=np.uint8)


def contrast_ratio(rgb_a: ArrayLike, rgb_b: ArrayLike) -> Any:
    """Return the WCAG 2 contrast ratio of two sRGB colors, 1 to 21."""
    weights = np.array([0.2126, 0.7152, 0.0722])
    a, b = srgb_to_linear(rgb_a) @ weights, srgb_to_linear(rgb_b) @ weights
    return (np.maximum(a, b) + 0.05) / (np.minimum(a, b) + 0.05)


def difference(lab_a: ArrayLike, lab_b: ArrayLike) -> Any:
    """Return the CIEDE2000 difference of two CIELAB colors (kL = kC = kH = 1)."""
    a, b = np.asarray(lab_a, dtype=np.float64), np.asarray(lab_b, dtype=np.float64)
    stretch = _blue_stretch((_chroma(a) + _chroma(b)) / 2)
    l1, c1, h1 = _prime(a, stretch)
    l2, c2, h2 = _prime(b, stretch)
    grey = c1 * c2 == 0
    turn = np.where(grey, 0.0, _turn(h1, h2))
    mean_hue = np.where(grey, h1 + h2, _mean_hue(h1, h2))
    mean_l, mean_c = (l1 + l2) / 2, (c1 + c2) / 2
    d_l = (l2 - l1) / _weight_l(mean_l)
    d_c = (c2 - c1) / (1 + 0.045 * mean_c)
    d_h = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn / 2)) / (1 + 0.015 * mean_c * _hue_tint(mean_hue))
    return np.sqrt(d_l**2 + d_c**2 + d_h**2 + _rotation(mean_hue, mean_c) * d_c * d_h)


def _xyz_to_lab(xyz: Array) -> Array:
    ratio = xyz / _WHITE
    edge = 6 / 29
    f = np.where(ratio > edge**3, np.cbrt(ratio), ratio / (3 * edge**2) + 4 / 29)
    lightness = 116 * f[..., 1] - 16
    return np.stack([lightness, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], axis=-1)


def _chroma(lab: Array) -> Array:
    return np.hypot(lab[..., 1], lab[..., 2])


def _blue_stretch(mean_chroma: Array) -> Array:
    seventh = mean_chroma**7
    return np.asarray(0.5 * (1 - np.sqrt(seventh / (seventh + 25.0**7))))


def _prime(lab: Array, stretch: Array) -> tuple[Array, Array, Array]:
    a = (1 + stretch) * lab[..., 1]
    hue = np.degrees(np.arctan2(lab[..., 2], a)) % 360
    return lab[..., 0], np.hypot(a, lab[..., 2]), hue


def _turn(h1: Array, h2: Array) -> Array:
    ahead = h2 - h1
    return np.where(ahead > 180, ahead - 360, np.where(ahead < -180, ahead + 360, ahead))


def _mean_hue(h1: Array, h2: Array) -> Array:
    apart, both = np.abs(h1 - h2), h1 + h2
    return np.where(apart <= 180, both / 2, np.where(both < 360, (both + 360) / 2, (both - 360) / 2))


def _weight_l(mean_l: Array) -> Array:
    off = (mean_l - 50) ** 2
    return 1 + 0.015 * off / np.sqrt(20 + off)


def _hue_tint(hue: Array) -> Array:
    def wave(factor: float, shift: float) -> Array:
        return np.asarray(np.cos(np.radians(factor * hue + shift)))

    return 1 - 0.17 * wave(1, -30) + 0.24 * wave(2, 0) + 0.32 * wave(3, 6) - 0.20 * wave(4, -63)


def _rotation(hue: Array, mean_c: Array) -> Array:
    bend = 30 * np.exp(-(((hue - 275) / 25) ** 2))
    seventh = mean_c**7
    return np.asarray(-2 * np.sqrt(seventh / (seventh + 25.0**7)) * np.sin(np.radians(2 * bend)))
