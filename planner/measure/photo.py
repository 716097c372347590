"""A print's size from its picture and one thing of known size beside it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.problems import BadInput
from planner.units import INCH

from .adjust import Agreement, Taps, agree
from .camera import AnyView, Lens, View, likeness
from .corners import Points, corners
from .edges import Edges
from .reference import Measured, Reference
from .shapes import Four, Rectangle, Shape
from .spread import plus_minus

Array = NDArray[Any]
Views = tuple[tuple[View, str], ...]

# Our own judgment: a lens's focal length as a phone writes it down, and where it looks, as shares of it.
FOCAL_TRUST, MIDDLE_TRUST = 0.03, 0.01
# A camera that wrote nothing down: 0.6 of the picture's diagonal is a phone's 26 mm, give or take a third.
USUAL_FOCAL, USUAL_TRUST = 0.6, 0.35
# Where only the focal length is told, the middle of a 4 to 3 picture of that lens, upright or not.
USUAL_MIDDLE, USUAL_MIDDLE_TRUST = 0.583, 0.1
# Misfit by taps to spare that taps as good as said come to once in 10,000 (chi-square).
IMPLAUSIBLE = {0: np.inf, 2: 18.42, 3: 21.11, 5: 25.74}
TAPPED_BY_NOBODY = 1e-6


@dataclass(frozen=True)
class Sighting:
    """A fit, and in words what it rests on."""

    fit: Agreement
    words: str


def measure(
    reference: Reference,
    reference_px: Points,
    print_px: Points,
    *,
    focal_px: float | None = None,
    click_sigma_px: float = 1.5,
    middle_px: tuple[float, float] | None = None,
    edges: Edges | None = None,
) -> Measured:
    """Return the size of a flat print from its four corners and those of a reference in one picture.

    Points are pixels, x right, y down: the reference's corners in any order, the print's from its top
    left round; its first side is its width. `focal_px` is the lens's focal length, `middle_px` the
    middle of the whole picture. Ticks, to the nearest; the plus-or-minus is rounded up. When each tap
    is off by `click_sigma_px` (standard deviation, across and down), a side lies within it 97 times
    in 100 and both sides 94 times. `edges` of the reference that were found in the picture count instead
    of its taps, as long as they agree with them.
    """
    taps = taps_of(reference_px, print_px, sigma=click_sigma_px)
    seen = looked_at(reference, taps, views(taps, focal_px, middle_px), edges)
    width, height = (round(side * INCH) for side in seen.fit.sides)
    off = plus_minus(seen.fit.covariance) + seen.fit.unevenness
    return Measured(width, height, int(np.ceil(off * INCH)), f"{reference.kind}, {seen.words}")


def looked_at(reference: Reference, taps: Taps, ways: Views, edges: Edges | None) -> Sighting:
    """Return what the taps show, sharper where edges of the reference were found that agree with them.

    An edge that is another one, of the table or of a fold, does not fit a sheet seen by any camera.
    """
    tapped = sighted(reference, taps, ways)
    if edges is None:
        return tapped
    with suppress(BadInput):
        known = corners("reference_px", edges.corners, sigma=edges.scatter)
        edged = sighted(reference, replace(taps, reference=known, reference_sigma=edges.scatter), ways)
        if edged.words == tapped.words:
            return replace(edged, words=f"its edges found, {edged.words}")
    return tapped


def taps_of(reference_px: Points, print_px: Points, *, sigma: float) -> Taps:
    """Return the taps in order, or refuse them."""
    if not sigma > 0:
        raise BadInput("click_sigma_px", "must be more than 0.")
    return Taps(
        corners("reference_px", reference_px, sigma=sigma),
        corners("print_px", print_px, sigma=sigma),
        float(sigma),
        float(sigma),
    )


def views(taps: Taps, focal: float | None, middle: tuple[float, float] | None) -> Views:
    """Return the ways of looking that may hold, the one that knows most first."""
    if focal is not None and not focal > 0:
        raise BadInput("focal_px", "must be more than 0.")
    seen = np.concatenate([taps.reference, taps.print_])
    x, y = seen.mean(axis=0)
    any_view = AnyView((float(x), float(y)), float(np.ptp(seen, axis=0).max()))
    if focal is not None:
        return (_lens(focal, middle, seen), "lens known"), (any_view, "lens does not agree")
    if middle is not None:
        usual = Lens(USUAL_FOCAL * 2 * float(np.hypot(*middle)), middle, USUAL_TRUST, MIDDLE_TRUST)
        return (usual, "lens not known"), (any_view, "lens does not agree")
    return ((any_view, "lens not known"),)


def _lens(focal: float, middle: tuple[float, float] | None, seen: Array) -> Lens:
    if middle is not None:
        return Lens(focal, middle, FOCAL_TRUST, MIDDLE_TRUST)
    usual = 0.0 if seen.min() < 0 else USUAL_MIDDLE * focal
    return Lens(focal, (usual, usual), FOCAL_TRUST, USUAL_MIDDLE_TRUST)


def sighted(reference: Reference, taps: Taps, ways: Views) -> Sighting:
    """Return the first plausible fit: a square print before an uneven one, a lens before none."""
    shapes: tuple[tuple[Shape, str], ...] = ((Rectangle(), ""), (Four(), ", print not square"))
    for shape, uneven in shapes:
        for view, words in ways:
            for fit in _fits(reference, taps, view, shape):
                if fit.misfit <= IMPLAUSIBLE[fit.spare]:
                    return Sighting(_without_doubt(fit, taps, shape), words + uneven)
    raise BadInput("print_px", "the corners do not lie on one flat cloth; tap them again.")


def _fits(reference: Reference, taps: Taps, view: View, shape: Shape) -> Iterator[Agreement]:
    """Yield the fits with the reference lying either way, the likelier one first."""
    wide, high = reference.size.width / INCH, reference.size.height / INCH
    lying = [_flat(*sides) for sides in dict.fromkeys([(wide, high), (high, wide)])]
    for plane in sorted(lying, key=lambda each: _unlikeness(each, taps.reference)):
        fit = agree(plane, taps, view, shape)
        if fit is not None:
            yield fit


def _flat(wide: float, high: float) -> Array:
    return np.array([[-wide, -high], [wide, -high], [wide, high], [-wide, high]]) / 2


def _unlikeness(plane: Array, seen: Array) -> float:
    scale, roll, shift = likeness(plane, seen)
    turn = scale * np.array([[np.cos(roll), -np.sin(roll)], [np.sin(roll), np.cos(roll)]])
    return float(((plane @ turn.T + shift - seen) ** 2).sum())


def _without_doubt(fit: Agreement, taps: Taps, shape: Shape) -> Agreement:
    """Taps that agree to a hair need no help from what is known of cameras; their sides stand as seen."""
    x, y = taps.reference.mean(axis=0)
    plain = agree(fit.plane, taps, AnyView((float(x), float(y)), float(np.ptp(taps.reference))), shape)
    if plain is None or plain.misfit > TAPPED_BY_NOBODY or isinstance(shape, Four):
        return fit
    return replace(fit, matrix=plain.matrix, corners=plain.corners, sides=plain.sides)
