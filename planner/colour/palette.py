"""The palette of a shirt: its ground and its print colors, with their shares."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from planner.problems import BadInput

from .clusters import Labels
from .convert import Array, lab_to_linear, linear_to_lab, linear_to_oklab
from .heather import blended, is_heather, stir
from .hills import hills
from .light import Light, light_of_neutral, light_of_scene
from .look import Neutral, Outline, Palette, Swatch
from .picture import Mask, Pixels, checked_image, linear_light, shrunk, shrunk_mask, vision
from .shade import flattened, lit

HARDLY_TOLD = "The shirt can hardly be told from what it lies on: tap it, or lay it on another color."
DARK = "The shirt is nearly black here, so its color is a guess: take the photo in more light."
NO_NEUTRAL = "No white or gray was tapped, so the color depends on the light of the photo."
HEATHER = "Two yarns are mixed in this cloth; their mean is given."

_WORKING_SIDE = 960  # pixels of the longer side of the picture
_SIDE = 160  # pixels of the longer side of the shirt
_LEAST_SHARE = 0.012  # below this a color is noise or a thin outline
_CALM = 0.03  # OKLab: where colors differ more nearby, as on the rim of a print, a pixel has little say
_ON_THE_WAY = 0.035  # OKLab distance from the straight line between two colors
_HALF_SURE = 0.5
_SCENE_SIDE = 100
_NEARLY_BLACK = 12.0  # CIELAB lightness
_BLACK_ON_WHAT = 20.0  # the same where nobody says what is shirt and what is table


@dataclass(frozen=True)
class _View:
    """The shirt's part of a picture in linear light, and which pixels are shirt."""

    linear: Array
    shirt: Mask


def read_palette(
    image: Any, *, outline: Outline | None = None, crop: Any = None, neutral: Neutral | None = None
) -> Palette:
    """Return ground and print colors (CIELAB, D65) with their shares of the garment.

    The garment is what `outline` holds, within `crop` (left, top, width, height in pixels) if given; with
    neither, the middle 80 % both ways. `neutral` is a spot that a person says is white or gray; without it
    the light is judged from what lies around the outline, and the confidence is lower.
    """
    pixels = checked_image(image)
    shirt = _shirt(pixels, outline, crop)
    smaller = shrunk(pixels, _WORKING_SIDE)
    if neutral is not None:
        light = light_of_neutral(pixels, neutral)
    elif outline is not None:
        scene = linear_light(smaller, _SCENE_SIDE)
        light = light_of_scene(scene, shrunk_mask(np.asarray(outline.mask, dtype=bool), scene.shape[:2]))
    else:
        light = Light()
    view = _view(smaller, shrunk_mask(shirt, smaller.shape[:2]))
    ground, prints, notes = _colors(_View(view.linear * light.gain, view.shirt))
    sure = light.sureness(lab_to_linear(ground.lab)) * (1.0 if outline is None else outline.confidence)
    if outline is not None and outline.confidence < _HALF_SURE:
        notes += (HARDLY_TOLD,)
    if neutral is None:
        notes += (NO_NEUTRAL,)
    if ground.lab[0] < (_BLACK_ON_WHAT if outline is None else _NEARLY_BLACK):
        notes += (DARK,)
        sure *= _HALF_SURE
    return Palette(ground, prints, sure, notes)


def _shirt(image: Pixels, outline: Outline | None, crop: Any) -> Mask:
    """Return which pixels of the whole picture are looked at."""
    height, width = image.shape[:2]
    if outline is not None and outline.mask.shape != (height, width):
        raise BadInput("outline", "belongs to a picture of another size.")
    if crop is None and outline is not None:
        mask = np.asarray(outline.mask, dtype=bool)
    else:
        left, top, right, bottom = _sides(crop, width, height)
        mask = np.zeros((height, width), bool)
        mask[top:bottom, left:right] = True
        if outline is not None:
            mask &= outline.mask
    if not mask.any():
        raise BadInput("crop" if crop is not None else "outline", "holds nothing of the shirt.")
    return mask


def _sides(crop: Any, width: int, height: int) -> tuple[int, int, int, int]:
    if crop is None:
        return width // 10, height // 10, width - width // 10, height - height // 10
    left, top, across, down = (
        (crop.x, crop.y, crop.width, crop.height) if hasattr(crop, "width") else tuple(crop)
    )
    right, bottom = min(width, round(left + across)), min(height, round(top + down))
    return max(0, round(left)), max(0, round(top)), right, bottom


def _view(image: Pixels, shirt: Mask) -> _View:
    rows, columns = np.flatnonzero(shirt.any(axis=1)), np.flatnonzero(shirt.any(axis=0))
    box = slice(rows[0], rows[-1] + 1), slice(columns[0], columns[-1] + 1)
    linear = linear_light(np.ascontiguousarray(image[box]), _SIDE)
    return _View(linear, shrunk_mask(shirt[box], linear.shape[:2]))


def _colors(view: _View) -> tuple[Swatch, tuple[Swatch, ...], tuple[str, ...]]:
    """Return the ground, the prints with the largest first, and notes."""
    cv2 = vision()
    inner = cv2.erode(view.shirt.astype(np.uint8), np.ones((3, 3), np.uint8)) > 0
    inner = inner if inner.sum() > 60 else view.shirt
    notes: tuple[str, ...] = ()
    if is_heather(view.linear, view.shirt):
        view, notes = _View(blended(view.linear, view.shirt), view.shirt), (HEATHER,)
    labels, ground = _grouped(view.linear, inner)
    flat = view.linear
    for _ in range(2):
        middle = np.median(linear_to_oklab(flat)[inner][labels == ground], axis=0)
        flat = flattened(flat, middle, inner)
        labels, ground = _grouped(flat, inner)
    shares = _shares(labels, inner, view.shirt)
    cloth = view.linear[inner][labels == ground]
    bright = lit(cloth)
    reference = np.median(cloth[bright], axis=0)
    level = float(np.median(reference / np.maximum(np.median(flat[inner][labels == ground], axis=0), 1e-6)))
    prints = [
        (shares[each], np.median(flat[inner][labels == each], axis=0) * level)
        for each in range(len(shares))
        if each != ground and shares[each] >= _LEAST_SHARE
    ]
    whole = shares[ground] + sum(share for share, _ in prints)
    swatches = sorted((_swatch(color, share / whole) for share, color in prints), key=_by_size)
    return _swatch(reference, shares[ground] / whole), tuple(swatches), notes


def _by_size(swatch: Swatch) -> tuple[float, float]:
    return -swatch.share, swatch.lab[0]


def _swatch(linear: Array, share: float) -> Swatch:
    lightness, a, b = linear_to_lab(np.clip(linear, 0, 1))
    return Swatch((float(lightness), float(a), float(b)), float(min(share, 1.0)))


def _grouped(linear: Array, inner: Mask) -> tuple[Labels, int]:
    """Return the color group of each shirt pixel, and which of them is the ground."""
    cv2 = vision()
    oklab = linear_to_oklab(linear)
    labels, centers = hills(oklab[inner], 1 / (1 + (stir(oklab, 3)[inner] / _CALM) ** 2))
    labels = _without_seams(labels, centers, inner)
    rim = inner & ~(cv2.erode(inner.astype(np.uint8), np.ones((7, 7), np.uint8), borderValue=0) > 0)
    count = len(centers)
    area = np.bincount(labels, minlength=count) / len(labels)
    outer = labels[rim[inner]]
    edge = np.bincount(outer, minlength=count) / max(1, len(outer))
    return labels, int(np.argmax(area + edge))


def _without_seams(labels: Labels, centers: Array, inner: Mask) -> Labels:
    """Give thin lines of a color between two others, as the rim of a print is, to the nearer one."""
    cv2 = vision()
    spread = np.full(inner.shape, -1, np.int16)
    spread[inner] = labels
    area = np.bincount(labels, minlength=len(centers))
    kept = [
        cv2.erode((spread == each).astype(np.uint8), np.ones((5, 5), np.uint8)).sum() > 0.06 * area[each]
        for each in range(len(centers))
    ]
    moved = labels.copy()
    for thin in np.flatnonzero(~np.array(kept)):
        ends = _ends(centers, int(thin), [each for each in range(len(centers)) if kept[each]])
        if ends is not None:
            moved[labels == thin] = ends
    return moved


def _ends(centers: Array, thin: int, others: list[int]) -> int | None:
    """Return the nearer of two other centers that this one lies between, or None."""
    for one in others:
        for other in others:
            way = centers[other] - centers[one]
            length = float(way @ way)
            at = float((centers[thin] - centers[one]) @ way) / length if length else 0.0
            off = float(np.linalg.norm(centers[one] + at * way - centers[thin]))
            if one != other and 0.1 < at <= 0.5 and off < _ON_THE_WAY:
                return one
    return None


def _shares(labels: Labels, inner: Mask, shirt: Mask) -> Array:
    """Return each cluster's share of the whole shirt; a pixel of its rim counts as the nearest inside."""
    cv2 = vision()
    _, places = cv2.distanceTransformWithLabels(
        (~inner).astype(np.uint8), cv2.DIST_L2, 5, labelType=cv2.DIST_LABEL_PIXEL
    )
    of_place = np.zeros(int(places.max()) + 1, dtype=np.intp)
    of_place[places[inner]] = labels
    counted = np.bincount(of_place[places[shirt]], minlength=int(labels.max()) + 1)
    return np.asarray(counted / shirt.sum())
