"""Find the shirt in its picture: graph cuts from a seed in the middle (Rother and others, GrabCut, 2004)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.problems import BadInput

from .convert import Array, difference, srgb_to_lab
from .look import Outline
from .picture import Mask, Pixels, checked_image, shrunk, vision

Point = tuple[float, float]
Pixel = tuple[int, int]
Seeds = NDArray[np.uint8]

_SIDE = 208  # pixels of the longer side that the search works on
_ROUNDS = 4
_SEED = 7
_SURELY_NOT, _SURELY, _HARDLY, _LIKELY = 0, 1, 2, 3  # how OpenCV counts them
_TAP = 0.03  # radius of a tap, in longer sides of the picture
_ALIKE = (20, 9, 9)  # steps of 8-bit CIELAB within which what touches a tap is one with it

_SAME, _APART = 2.5, 9.0  # CIEDE2000 across the outline: one color to the eye, and clearly two


def find_shirt(image: Any, *, shirt: Sequence[Point] = (), other: Sequence[Point] = ()) -> Outline:
    """Separate the garment from what it lies on.

    `shirt` and `other` are points of the picture that a person tapped: this is the shirt, this is not.
    The confidence, 0 to 1, is low where shirt and surroundings look alike.
    """
    pixels = checked_image(image)
    small = shrunk(pixels, _SIDE)
    scale = small.shape[1] / pixels.shape[1], small.shape[0] / pixels.shape[0]
    yes, no = _scaled(shirt, scale, "shirt", small), _scaled(other, scale, "other", small)
    seeds = _tapped(_seeds(small.shape[:2]), small, yes, no)
    found = _tidied(_cut_out(small, seeds), yes)
    mask, polygon = _at_full_size(found, pixels.shape[:2])
    return Outline(mask, polygon, _confidence(small, found))


def _scaled(points: Sequence[Point], scale: Point, field: str, small: Pixels) -> list[Pixel]:
    height, width = small.shape[:2]
    taps = [(int(x * scale[0]), int(y * scale[1])) for x, y in points]
    if any(not (0 <= x < width and 0 <= y < height) for x, y in taps):
        raise BadInput(field, "must lie within the picture.")
    return taps


def _seeds(size: tuple[int, ...]) -> Seeds:
    """Say of each pixel what it is before any color was looked at: people put the shirt in the middle."""
    height, width = size
    seeds = np.full((height, width), _HARDLY, np.uint8)
    seeds[_blob(size, 0.36)] = _LIKELY
    seeds[_blob(size, 0.12)] = _SURELY
    rim = max(2, round(0.02 * max(size)))
    inner = np.zeros((height, width), bool)
    inner[rim:-rim, rim:-rim] = True
    seeds[~inner] = _SURELY_NOT
    return seeds


def _tapped(seeds: Seeds, small: Pixels, yes: list[Pixel], no: list[Pixel]) -> Seeds:
    """Put what a person tapped into the seeds: the spot for sure, what is one with it by color as likely."""
    cv2 = vision()
    smooth = cv2.cvtColor(cv2.GaussianBlur(small, (0, 0), 1.2), cv2.COLOR_RGB2LAB)
    radius = max(2, round(_TAP * max(seeds.shape)))
    for points, spot, around in ((yes, _SURELY, _LIKELY), (no, _SURELY_NOT, _HARDLY)):
        for point in points:
            grown = np.zeros((seeds.shape[0] + 2, seeds.shape[1] + 2), np.uint8)
            flags = 8 | cv2.FLOODFILL_MASK_ONLY | cv2.FLOODFILL_FIXED_RANGE | (1 << 8)
            cv2.floodFill(smooth, grown, point, 0, _ALIKE, _ALIKE, flags)
            seeds[grown[1:-1, 1:-1] > 0] = around
            cv2.circle(seeds, point, radius, spot, -1)
    return seeds


def _blob(size: tuple[int, ...], reach: float) -> Mask:
    """Return a rounded rectangle in the middle; `reach` is its half side as a share of the picture's."""
    y, x = np.ogrid[: size[0], : size[1]]
    down = np.abs((y + 0.5) / size[0] - 0.5) / reach
    over = np.abs((x + 0.5) / size[1] - 0.5) / reach
    return np.asarray(down**2.5 + over**2.5 < 1)


def _cut_out(small: Pixels, seeds: Seeds) -> Mask:
    if not (seeds == _SURELY).any() or not small.std(axis=(0, 1)).any():
        return np.isin(seeds, (_SURELY, _LIKELY))
    cv2 = vision()
    cv2.setRNGSeed(_SEED)
    marks = seeds.copy()
    lab = np.ascontiguousarray(cv2.cvtColor(small, cv2.COLOR_RGB2LAB))
    shirt, rest = np.zeros((1, 65)), np.zeros((1, 65))
    cv2.grabCut(lab, marks, None, rest, shirt, _ROUNDS, cv2.GC_INIT_WITH_MASK)
    return np.isin(marks, (_SURELY, _LIKELY))


def _tidied(found: Mask, yes: list[Pixel]) -> Mask:
    """Keep the largest piece and those that were tapped, close gaps and fill holes."""
    cv2 = vision()

    def disc(side: int) -> Any:
        return cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (side, side))

    opened = cv2.morphologyEx(found.astype(np.uint8), cv2.MORPH_OPEN, disc(5))
    count, pieces, sizes, _ = cv2.connectedComponentsWithStats(opened)
    if count < 2:
        return found
    kept = {1 + int(np.argmax(sizes[1:, cv2.CC_STAT_AREA]))} | {int(pieces[y, x]) for x, y in yes} - {0}
    closed = cv2.morphologyEx(np.isin(pieces, list(kept)).astype(np.uint8), cv2.MORPH_CLOSE, disc(9))
    contours, _ = cv2.findContours(closed, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    filled = np.zeros_like(closed)
    cv2.drawContours(filled, contours, -1, 1, -1)
    return np.asarray(filled > 0)


def _at_full_size(found: Mask, size: tuple[int, ...]) -> tuple[Mask, tuple[Point, ...]]:
    """Return the mask and the longest outline in pixels of the whole picture."""
    cv2 = vision()
    height, width = size
    mask = cv2.resize(found.astype(np.uint8) * 255, (width, height), interpolation=cv2.INTER_LINEAR) > 127
    contours, _ = cv2.findContours(found.astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    if not contours:
        return mask, ()
    outer = cv2.approxPolyDP(max(contours, key=cv2.contourArea), 0.8, True)[:, 0]
    scale = width / found.shape[1], height / found.shape[0]
    return mask, tuple((float((x + 0.5) * scale[0]), float((y + 0.5) * scale[1])) for x, y in outer)


def _confidence(small: Pixels, found: Mask) -> float:
    """Say how sure the outline is: a sensible size, and colors that differ across it nearly all round."""
    share = float(found.mean())
    if not 0.02 < share < 0.98:
        return 0.0
    inside, outside = _across(small, found)
    told = np.clip((difference(inside, outside) - _SAME) / (_APART - _SAME), 0, 1)
    # A print that was taken for the shirt is smaller than one.
    size = np.interp(share, (0.04, 0.14, 0.85, 0.98), (0.1, 1, 1, 0.2))
    return float(np.clip(told.mean() ** 2 * size, 0, 1))


def _across(small: Pixels, found: Mask) -> tuple[Array, Array]:
    """Return the CIELAB colors just inside and just outside the outline, pair by pair."""
    cv2 = vision()
    lab = cv2.blur(srgb_to_lab(small), (5, 5))
    depth = cv2.distanceTransform(found.astype(np.uint8), cv2.DIST_L2, 5)
    height = cv2.distanceTransform((~found).astype(np.uint8), cv2.DIST_L2, 5)
    slope_y, slope_x = np.gradient(cv2.GaussianBlur(depth - height, (0, 0), 1.5))
    y, x = np.nonzero(found & (depth < 1.5))
    length = np.maximum(np.hypot(slope_y[y, x], slope_x[y, x]), 1e-6)
    way_y, way_x = slope_y[y, x] / length, slope_x[y, x] / length

    def at(steps: float) -> Array:
        to_y = np.clip(np.rint(y + steps * way_y), 0, small.shape[0] - 1).astype(int)
        to_x = np.clip(np.rint(x + steps * way_x), 0, small.shape[1] - 1).astype(int)
        return np.asarray(lab[to_y, to_x])

    return at(4), at(-4)
