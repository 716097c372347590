"""How far it is from one motif of a print to the next."""

from __future__ import annotations

import numpy as np

from .convert import Array

_RINGS = 24  # to a tenfold of distance
_NEARLY = 0.45  # of the strongest ring: the widest spacing that strong is taken, finer ones are its details


def motif_spacing(pattern: Array) -> float:
    """Return the distance from motif to motif in pixels, at most the side of the picture.

    It is where the power of the picture over rings of equal ratio is greatest: the repeat of a stripe
    or a row of dots, the usual distance between scattered motifs, the size of a cloud.
    """
    side = min(pattern.shape[:2])
    power, cycles = _power(pattern)
    edges = np.geomspace(1.0, side / 2.0, int(_RINGS * np.log10(side / 2.0)) + 2)
    ring = np.digitize(cycles, edges) - 1
    inside = (ring >= 0) & (ring < len(edges) - 1)
    held = np.bincount(ring[inside], power[inside], len(edges) - 1)
    smooth = np.convolve(np.pad(held, 1, mode="edge"), (0.5, 1.0, 0.5), mode="valid")
    strongest = int(np.flatnonzero(smooth >= _NEARLY * smooth.max())[0])
    while strongest + 1 < len(smooth) and smooth[strongest + 1] > smooth[strongest]:
        strongest += 1
    near = inside & (np.abs(ring - strongest) <= 1)
    middle = float((cycles[near] * power[near]).sum() / max(power[near].sum(), 1e-12))
    return float(side / max(middle, 1.0))


def _power(pattern: Array) -> tuple[Array, Array]:
    """Return the power of each wave over all channels, and its cycles to the shorter side."""
    height, width = pattern.shape[:2]
    side = min(height, width)
    fade = np.hanning(height + 2)[1:-1, None] * np.hanning(width + 2)[None, 1:-1]
    middle = (pattern * fade[..., None]).sum(axis=(0, 1)) / fade.sum()
    waves = np.fft.rfft2((pattern - middle) * fade[..., None], axes=(0, 1))
    down = np.fft.fftfreq(height)[:, None] * side
    across = np.fft.rfftfreq(width)[None, :] * side
    return (np.abs(waves) ** 2).sum(axis=-1).ravel(), np.hypot(down, across).ravel()
