"""How much cloth lies round a print, from the same picture."""

from __future__ import annotations

import numpy as np

from planner.units import INCH, Sides

from .adjust import Agreement, Array
from .camera import seen_through
from .corners import Points, corners
from .edges import Edges
from .photo import looked_at, taps_of, views
from .reference import Reference


def measure_cloth(
    reference: Reference,
    reference_px: Points,
    print_px: Points,
    cloth_px: Points,
    *,
    focal_px: float | None = None,
    click_sigma_px: float = 1.5,
    middle_px: tuple[float, float] | None = None,
    edges: Edges | None = None,
) -> Sides:
    """Return the cloth beyond the print on its four sides, in ticks, rounded down.

    `cloth_px` are the corners of what may be cut, drawn about square with the print; where it is
    drawn askew, the part that is certainly inside counts. Else as `measure`.
    """
    taps = taps_of(reference_px, print_px, sigma=click_sigma_px)
    seen = looked_at(reference, taps, views(taps, focal_px, middle_px), edges)
    tapped = corners("cloth_px", cloth_px, sigma=click_sigma_px)
    on_plane = seen_through(np.linalg.inv(seen.fit.matrix)[None], tapped[None])[0]
    return _beyond(_beside_the_print(on_plane, seen.fit), seen.fit.sides)


def _beside_the_print(points: Array, fit: Agreement) -> Array:
    """Return points as seen from the middle of the print, along and down its sides."""
    across = fit.corners[1] + fit.corners[2] - fit.corners[0] - fit.corners[3]
    across = across / np.hypot(*across)
    down = np.array([-across[1], across[0]])
    return np.asarray((points - fit.corners.mean(axis=0)) @ np.column_stack([across, down]))


def _beyond(cloth: Array, sides: Array) -> Sides:
    wide, high = sides / 2
    by_x, by_y = np.sort(cloth[:, 0]), np.sort(cloth[:, 1])
    top, right, bottom, left = (-high - by_y[1], by_x[2] - wide, by_y[2] - high, -wide - by_x[1])
    return Sides(*(max(0, int(np.floor(each * INCH + 0.01))) for each in (top, right, bottom, left)))
