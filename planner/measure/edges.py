"""The edges of a sheet or a card, found in the picture beside where its corners were tapped.

Along each side the steepest change of brightness is looked for within the reach of a tap; a straight
line is laid through where it lies, those that disagree are dropped (least trimmed squares, our own
short form), and neighboring lines are cut with each other. A card's rounded corners so become the
sharp ones its size is stated for.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .corners import Points, corners

Array = NDArray[Any]
Clearness = Callable[[Array], Array]

# Our own judgment, in pixels unless said.
MIDDLE_PART = 0.12  # of a side is left out at either end: rounded corners, a finger, a shadow
LEAST_SIDE = 30.0
STEP = 0.5
MARGIN = 5.0  # beyond the reach, for what is compared across an edge
REACH = 4.5  # times the scatter of a tap
FAINT = 6.0  # gray levels of 255 over a pixel: less is grain, not an edge
STRAIGHT = 0.75  # how far a place may lie off the line and still be of it
LEAST_SHARE = 0.6  # of the places along a side that lie on one line
NO_BETTER_THAN = 0.35  # paper curls, printing bleeds: an edge is not trusted further


@dataclass(frozen=True)
class Edges:
    """Corners where edges cross, in the order they were tapped, and how well they are known (pixels)."""

    corners: tuple[tuple[float, float], ...]
    scatter: float


def edges_near(picture: Array, tapped: Points, *, sigma: float) -> Edges | None:
    """Return where the edges near four tapped corners cross, or None where one is not to be seen.

    `picture` is rows of gray levels, 0 to 255; `sigma` how well a corner is tapped, in pixels.
    """
    return _crossings(picture, tapped, sigma=sigma, clearness=_steps)


def grid_near(picture: Array, tapped: Points, *, sigma: float) -> Edges | None:
    """Return the same for the printed lines of a mat: the middle of each line, not one of its edges."""
    return _crossings(picture, tapped, sigma=sigma, clearness=_stripes)


def _crossings(picture: Array, tapped: Points, *, sigma: float, clearness: Clearness) -> Edges | None:
    around = corners("reference_px", tapped, sigma=sigma)
    sides = [
        _edge(picture, (a, b), reach=REACH * sigma, clearness=clearness)
        for a, b in zip(around, np.roll(around, -1, axis=0), strict=True)
    ]
    lines = [side for side in sides if side is not None]
    if len(lines) < 4:
        return None
    found = [_crossing(lines[at - 1][0], lines[at][0]) for at in range(4)]
    if any(each is None for each in found):
        return None
    at = np.array(found)
    if (np.hypot(*(at - around).T) > REACH * sigma * 1.5).any():
        return None
    nearest = [int(np.argmin(((around - np.asarray(tap)) ** 2).sum(axis=1))) for tap in tapped]
    scatter = max(NO_BETTER_THAN, *(spread for _, spread in lines))
    return Edges(tuple((float(x), float(y)) for x, y in at[nearest]), min(scatter, sigma))


def _edge(
    picture: Array, side: tuple[Array, Array], *, reach: float, clearness: Clearness
) -> tuple[Array, float] | None:
    """Return the line (a, b, c of ax + by = c) of the edge beside a side, and how well it is known."""
    a, along = side[0], side[1] - side[0]
    length = float(np.hypot(*along))
    if length < LEAST_SIDE:
        return None
    along = along / length
    across = np.array([-along[1], along[0]])
    places = np.linspace(MIDDLE_PART * length, (1 - MIDDLE_PART) * length, int(min(200, length / 2)))
    offs = np.arange(-reach - MARGIN, reach + MARGIN + STEP, STEP)
    spots = a + places[:, None, None] * along + offs[None, :, None] * across
    clear = clearness(_smooth_along(_light_at(picture, spots)))
    inner = offs[(len(offs) - clear.shape[1]) // 2 :][: clear.shape[1]]
    best = None
    for rising in (clear, -clear):
        fit = _line(places - length / 2, *_peaks(rising, inner))
        if fit is not None and (best is None or fit[3] > best[3]):
            best = fit
    if best is None:
        return None
    lean, off, spread, _ = best
    middle = a + along * length / 2 + across * off
    direction = along + lean * across
    normal = np.array([-direction[1], direction[0]]) / np.hypot(*direction)
    return np.array([*normal, normal @ middle]), spread


def _steps(light: Array) -> Array:
    """How steeply brightness changes across, over two pixels, per pixel."""
    return np.asarray((light[:, 4:] - light[:, :-4]) / 2)


def _stripes(light: Array) -> Array:
    """How far a stripe of some three pixels stands out from what lies four pixels to either side."""
    even = np.sum([light[:, at : light.shape[1] - 4 + at] for at in range(5)], axis=0) / 5
    return np.asarray(even[:, 8:-8] - (even[:, :-16] + even[:, 16:]) / 2)


def _light_at(picture: Array, spots: Array) -> Array:
    """Return gray levels between pixels; outside the picture its rim goes on."""
    high, wide = picture.shape
    x = np.clip(spots[..., 0], 0, wide - 1.001)
    y = np.clip(spots[..., 1], 0, high - 1.001)
    left, top = x.astype(int), y.astype(int)
    u, v = x - left, y - top
    upper = picture[top, left] * (1 - u) + picture[top, left + 1] * u
    lower = picture[top + 1, left] * (1 - u) + picture[top + 1, left + 1] * u
    return np.asarray(upper * (1 - v) + lower * v)


def _smooth_along(light: Array) -> Array:
    """Average each place with its neighbors along the side, against grain."""
    padded = np.pad(light, ((2, 2), (0, 0)), mode="edge")
    return np.asarray(sum(padded[at : at + len(light)] for at in range(5)) / 5)


def _peaks(steps: Array, offs: Array) -> tuple[Array, Array]:
    """Return where each row is steepest, between the samples (a parabola through three), and how steep."""
    rows = np.arange(len(steps))
    peak = np.clip(steps.argmax(axis=1), 1, steps.shape[1] - 2)
    before, at, after = steps[rows, peak - 1], steps[rows, peak], steps[rows, peak + 1]
    bend = before - 2 * at + after
    between = np.where(abs(bend) > 1e-9, (before - after) / (2 * np.where(bend == 0, 1, bend)), 0.0)
    return offs[peak] + np.clip(between, -1, 1) * STEP, at


def _line(places: Array, offs: Array, steep: Array) -> tuple[float, float, float, float] | None:
    """Return lean, offset at the middle, how well the ends are known, and the share on the line."""
    clear = steep > max(FAINT, 0.3 * float(np.median(steep)))
    if clear.sum() < LEAST_SHARE * len(places):
        return None
    x, y = places[clear], offs[clear]
    lean, off = _first_guess(x, y)
    for _ in range(4):
        on = abs(y - off - lean * x) <= STRAIGHT
        if on.sum() < LEAST_SHARE * len(places):
            return None
        lean, off = np.polyfit(x[on], y[on], 1)
    rest = y[on] - off - lean * x[on]
    # Neighbors were averaged in fives, so a fifth of them count; at its end a line is twice as unsure.
    spread = 2 * float(rest.std()) / np.sqrt(max(1.0, on.sum() / 5))
    return float(lean), float(off), spread, float(on.sum() / len(places))


def _first_guess(x: Array, y: Array) -> tuple[float, float]:
    """Return the line through two places, a quarter and three quarters along, that most others lie on."""
    firsts, lasts = x < np.quantile(x, 0.4), x > np.quantile(x, 0.6)
    some = [np.flatnonzero(part)[:: max(1, int(part.sum()) // 12)] for part in (firsts, lasts)]
    best, most = (0.0, float(np.median(y))), -1
    for one in some[0]:
        for other in some[1]:
            lean = (y[other] - y[one]) / (x[other] - x[one])
            off = y[one] - lean * x[one]
            near = int((abs(y - off - lean * x) <= STRAIGHT).sum())
            if near > most:
                best, most = (float(lean), float(off)), near
    return best


def _crossing(one: Array, other: Array) -> Array | None:
    both = np.array([one[:2], other[:2]])
    if abs(np.linalg.det(both)) < 0.2:  # nearly parallel: no corner
        return None
    return np.asarray(np.linalg.solve(both, np.array([one[2], other[2]])))
