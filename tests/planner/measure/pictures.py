"""Made-up pictures: a pinhole camera over a table, written apart from the one that is tested.

SIMULATION: every size, place and tap here is drawn by chance from a seed; no photograph was taken.
The camera is that of our trial: 4000 x 3000 pixels, focal length 3000, 0.85 to 1.1 m above the cloth.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

import numpy as np

from planner.measure import CARD, LETTER, MAT_12, Reference
from planner.units import INCH

FOCAL, MIDDLE = 3000.0, (2000.0, 1500.0)


@dataclass(frozen=True)
class Picture:
    """What was seen, without noise, and the print's true size in inches."""

    reference: Reference
    reference_px: np.ndarray
    print_px: np.ndarray
    size: tuple[float, float]

    def tapped(self, rng: np.random.Generator, sigma: float = 1.5) -> tuple[np.ndarray, np.ndarray]:
        """Return the corners as a finger finds them."""
        return (
            self.reference_px + rng.normal(0, sigma, (4, 2)),
            self.print_px + rng.normal(0, sigma, (4, 2)),
        )


def oblong(wide: float, high: float) -> np.ndarray:
    """Return the corners of a rectangle about its middle, from its top left round."""
    return np.array([[-wide, -high], [wide, -high], [wide, high], [-wide, high]]) / 2


def turned(points: np.ndarray, degrees: float) -> np.ndarray:
    """Return points of the table turned about its middle."""
    a = radians(degrees)
    return points @ np.array([[cos(a), sin(a)], [-sin(a), cos(a)]])


def seen(
    points: np.ndarray, *, above: float, tilt: float, toward: float = 0.0, roll: float = 0.0
) -> np.ndarray:
    """Return pixels of points on the table, in inches; the camera is tilted `tilt` degrees."""
    t, w = radians(tilt), radians(toward)
    table = np.column_stack([turned(points, roll), np.zeros(len(points))])
    axis = np.array([cos(w), sin(w), 0.0])
    across = np.cross(axis, table)
    along = np.outer(table @ axis, axis)
    at = table * cos(t) + across * sin(t) + along * (1 - cos(t)) + np.array([0.0, 0.0, above])
    return at[:, :2] / at[:, 2:] * FOCAL + np.array(MIDDLE)


def inches(reference: Reference) -> tuple[float, float]:
    return reference.size.width / INCH, reference.size.height / INCH


def picture(rng: np.random.Generator, scene: str, *, most_tilt: float = 15.0) -> Picture:
    """Return a picture of a print of 8 to 13 by 8 to 15 in with something of known size."""
    size = (rng.uniform(8, 13), rng.uniform(8, 15))
    reference = MAT_12 if scene == "mat" else LETTER if scene.startswith("sheet") else CARD
    wide, _ = inches(reference)
    beside = rng.choice([-1, 1]) * (size[0] + wide) / 2
    places = {
        "mat": (0.0, 0.0),
        "sheet on the print": tuple(rng.uniform(-1, 1, 2)),
        "sheet beside it": (beside + np.sign(beside) * rng.uniform(0.25, 1), rng.uniform(-2, 2)),
        "card on the shirt": (rng.uniform(-0.25, 0.25) * size[0], rng.uniform(-0.25, 0.25) * size[1]),
        "card beside it": (
            beside + np.sign(beside) * rng.uniform(1, 2),
            rng.uniform(-0.33, 0.33) * size[1],
        ),
    }
    lying = turned(oblong(*inches(reference)), rng.uniform(-12, 12)) + np.array(places[scene])
    table = np.concatenate([lying, oblong(*size)])
    table = table - (table.min(axis=0) + table.max(axis=0)) / 2 + rng.uniform(-1, 1, 2)
    at = seen(
        table,
        above=rng.uniform(850, 1100) / 25.4,
        tilt=rng.uniform(0, most_tilt),
        toward=rng.uniform(0, 360),
        roll=rng.uniform(-6, 6),
    )
    return Picture(reference, at[:4], at[4:], size)
