"""What a cloth looks like, from the photo of its swatch."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from planner.problems import BadInput

from .beside import COLORED
from .clusters import LIGHTNESS, cluster, nearest
from .convert import Array, linear_to_lab, linear_to_oklab
from .evening import unevenness, without_slope, without_waves_and_weave
from .light import light_of_neutral
from .look import FabricLook, Neutral, Palette, Swatch
from .picture import Mask, Pixels, checked_image, linear_light
from .repeat import motif_spacing

NO_NEUTRAL = "No white or gray was tapped, so the color depends on the light of the photo."
HALF_SURE = 0.5

EVEN = np.array([LIGHTNESS, 1.0, 1.0])
SIDE = 192  # pixels of the longer side of the swatch
EDGE = 0.1  # of each side is left off: pinked edges, a table, a ruler laid along it
FULLY_BUSY = 0.12  # OKLab from the mean color
LEAST_SHARE, COLOR_SHARE, HUE_SHARE = 0.012, 0.015, 0.03
PRINT_SHARE = 0.1  # of a sparse print's own area, from which one of its colors is counted
SAME_SHADE, SAME_COLOR = 0.03, 0.075  # OKLab, lightness at 0.55: two shades, two colors
HUES_APART = 30.0  # degrees
CALM_BUSY = 0.75
EVEN_LIGHT, EVEN_TINT = 0.0089, 0.007
FILLED = 0.16  # of the pixels lie between two colors that run into one another
SHARP = 0.06  # OKLab to a neighbor: the edge of a print, whose pixels are a mix and no color of the cloth
LEAST_FLAT = 0.15
FEW_COLORS = 4  # the ground and one to three colors on it


def describe_fabric(
    image: Any, *, neutral: Neutral | None = None, px_per_inch: float | None = None
) -> FabricLook:
    """Describe a swatch that fills its photo but for a tenth at each edge.

    `value` is the mean lightness (OKLab), `busy` the mean distance from the mean color, 0.12 of OKLab
    being 1; both 0 to 1. `hues` counts groups of hue 30° apart. Kinds: solid (one even color), mottled
    (one hue in shades that run into one another), blender (a print of one to three colors on its
    ground, three hues at most), multi. `scale` is the distance from motif to motif in inches, the
    lines of a lattice or the usual gap of scattered ones; None for a solid and without `px_per_inch`.
    Light that lies unevenly is taken off first.
    """
    pixels = checked_image(image)
    if px_per_inch is not None and not px_per_inch > 0:
        raise BadInput("px_per_inch", "must be above 0.")
    gain = light_of_neutral(pixels, neutral).gain if neutral is not None else (1.0, 1.0, 1.0)
    swatch = _without_edges(pixels)
    linear = linear_light(swatch, SIDE) * gain
    seen = _seen(linear)
    light, tint = unevenness(linear)
    kind = _kind(seen, is_even=light < EVEN_LIGHT and tint < EVEN_TINT)
    scale = None
    if px_per_inch is not None and kind != "solid":
        spacing = motif_spacing(seen.pattern) * max(swatch.shape[:2]) / max(seen.oklab.shape[:2])
        scale = round(spacing / px_per_inch, 2)
    return FabricLook(
        palette=_palette(seen, is_sure=neutral is not None),
        value=float(np.clip(seen.mean[0], 0, 1)),
        busy=seen.busy,
        hues=seen.hues,
        kind=kind,
        scale=scale,
    )


def _seen(linear: Array) -> _Seen:
    """Look at a swatch in even light; without a print, waves of the cloth and its weave are no pattern."""
    seen = _Seen.of(without_slope(linear))
    if seen.colors == 1:
        return _Seen.of(without_waves_and_weave(linear))
    return seen


@dataclass(frozen=True)
class _Seen:
    """A swatch in OKLab; its shades, the largest first, with share and middle (linear light, OKLab)."""

    oklab: Array
    flat: Array
    shares: Array
    linear: Array
    middles: Array

    @classmethod
    def of(cls, linear: Array) -> _Seen:
        oklab = linear_to_oklab(linear)
        pixels = oklab.reshape(-1, 3)
        is_flat = _is_flat(oklab)
        flat, light = oklab[is_flat], linear[is_flat]
        found, _ = cluster(flat, apart=SAME_SHADE)
        colors = np.array([np.median(light[found == each], axis=0) for each in np.unique(found)])
        middles = linear_to_oklab(colors)
        counts = np.bincount(nearest(pixels * EVEN, middles * EVEN), minlength=len(middles))
        order = np.argsort(-counts, kind="stable")
        return cls(oklab, flat, counts[order] / counts.sum(), colors[order], middles[order])

    @property
    def mean(self) -> Array:
        return np.asarray(self.oklab.reshape(-1, 3).mean(axis=0))

    @property
    def busy(self) -> float:
        away = np.linalg.norm(self.oklab.reshape(-1, 3) - self.mean, axis=1).mean()
        return float(min(1.0, away / FULLY_BUSY))

    @property
    def hues(self) -> int:
        """Groups of hue among the shades that have one."""
        of_print = max(LEAST_SHARE, PRINT_SHARE * float(1 - self.shares[0]))
        has_hue = np.hypot(self.middles[:, 1], self.middles[:, 2]) >= COLORED
        shown = has_hue & (self.shares >= min(HUE_SHARE, of_print))
        angles = np.sort(np.degrees(np.arctan2(self.middles[shown, 2], self.middles[shown, 1])) % 360)
        if len(angles) < 2:
            return len(angles)
        gaps = np.diff(np.concatenate([angles, [angles[0] + 360]]))
        return max(1, int((gaps > HUES_APART).sum()))

    @cached_property
    def groups(self) -> tuple[Array, ...]:
        """The unmixed pixels by the colors a person would count, lightness at 0.55, the most first."""
        found, _ = cluster(self.flat, apart=SAME_COLOR)
        points = self.flat * EVEN
        groups = [points[found == each] for each in np.unique(found)]
        seen = [group for group in groups if len(group) >= COLOR_SHARE * len(points)]
        return tuple(sorted(seen, key=len, reverse=True))

    @property
    def colors(self) -> int:
        return len(self.groups)

    @property
    def pattern(self) -> Array:
        """What repeats: where each color of a print lies, whatever light is on it; else the shades."""
        if self.colors == 1:
            return self.oklab
        middles = np.array([np.median(group, axis=0) for group in self.groups])
        whose = nearest(self.oklab.reshape(-1, 3) * EVEN, middles)
        return np.asarray(np.eye(len(middles))[whose].reshape(*self.oklab.shape[:2], -1))

    @property
    def runs_over(self) -> bool:
        """Say whether the two largest colors run into one another."""
        if self.colors == 1:
            return True
        one, other = (np.median(group, axis=0) for group in self.groups[:2])
        both = np.concatenate(self.groups[:2]) - one
        along = both @ (other - one) / ((other - one) @ (other - one))
        return bool(((along > 0.3) & (along < 0.7)).mean() > FILLED)


def _kind(seen: _Seen, *, is_even: bool) -> str:
    if seen.colors == 1 and is_even:
        return "solid"
    if seen.hues <= 1 and seen.busy < CALM_BUSY and seen.runs_over:
        return "mottled"
    return "blender" if seen.colors <= FEW_COLORS and seen.hues <= 3 else "multi"


def _is_flat(oklab: Array) -> Mask:
    """Say which pixels are no mix of two colors: those where no color goes over into another.

    Over an edge the picture goes on in one direction; in the middle of a line it turns back.
    """
    near = np.pad(oklab, ((1, 1), (1, 1), (0, 0)), mode="edge")
    here = near[1:-1, 1:-1]
    down = ((near[2:, 1:-1] - here) * (here - near[:-2, 1:-1])).sum(axis=-1)
    across = ((near[1:-1, 2:] - here) * (here - near[1:-1, :-2])).sum(axis=-1)
    flat = np.maximum(down, across) < (SHARP / 2) ** 2
    return flat if flat.mean() >= LEAST_FLAT else np.ones_like(flat)


def _palette(seen: _Seen, *, is_sure: bool) -> Palette:
    held = seen.shares >= LEAST_SHARE
    shares = seen.shares[held] / seen.shares[held].sum()
    labs = linear_to_lab(seen.linear[held])
    swatches = [
        Swatch((float(np.clip(lab[0], 0, 100)), float(lab[1]), float(lab[2])), float(share))
        for lab, share in zip(labs, shares, strict=True)
    ]
    notes = () if is_sure else (NO_NEUTRAL,)
    return Palette(swatches[0], tuple(swatches[1:]), 1.0 if is_sure else HALF_SURE, notes)


def _without_edges(pixels: Pixels) -> Pixels:
    height, width = pixels.shape[:2]
    down, across = int(height * EDGE), int(width * EDGE)
    return pixels[down : height - down, across : width - across]
