"""Swatches whose colors, shares and repeats are known: simulated, no photographs."""

from __future__ import annotations

import numpy as np

SIDE = 600


def solid(color):
    return np.full((SIDE, SIDE, 3), color, dtype=np.uint8)


def stripes(one, other, period):
    """Return upright stripes of equal width, `period` pixels from one to the next of its color."""
    picture = solid(one)
    picture[:, (np.arange(SIDE) // (period / 2)).astype(int) % 2 == 1] = other
    return picture


def dots(ground, color, *, step, radius):
    """Return a square lattice of dots."""
    y, x = np.mgrid[:SIDE, :SIDE]
    near = np.hypot((x % step) - step / 2, (y % step) - step / 2) < radius
    return np.where(near[..., None], np.array(color), np.array(ground)).astype(np.uint8)


def clouds(color, *, lump, depth, seed=3):
    """Return shades of one color that run into one another, lumps of so many pixels."""
    rng = np.random.default_rng(seed)
    waves = np.fft.rfft2(rng.normal(size=(SIDE, SIDE)))
    away = np.hypot(np.fft.fftfreq(SIDE)[:, None], np.fft.rfftfreq(SIDE)[None, :])
    field = np.fft.irfft2(waves * np.exp(-((away * lump) ** 2)), s=(SIDE, SIDE))
    field /= field.std()
    shade = 1 + depth * np.clip(field, -2, 2)[..., None]
    return np.clip(np.array(color) * shade, 0, 255).astype(np.uint8)


def patches(colors, size):
    """Return squares of many colors, each in its turn."""
    y, x = np.mgrid[:SIDE, :SIDE] // size
    return np.array(colors, dtype=np.uint8)[(x + 3 * y) % len(colors)]


def in_light(picture, *, gain=(1.0, 1.0, 1.0), slope=0.0):
    """Return the picture under a colored light that falls off from left to right."""
    linear = np.where(picture <= 10, picture / 255 / 12.92, ((picture / 255 + 0.055) / 1.055) ** 2.4)
    light = 1 - slope * np.linspace(0, 1, picture.shape[1])[None, :, None]
    coded = linear * gain * light
    srgb = np.where(coded <= 0.0031308, coded * 12.92, 1.055 * np.maximum(coded, 1e-9) ** (1 / 2.4) - 0.055)
    return np.clip(np.rint(srgb * 255), 0, 255).astype(np.uint8)
