"""Where to turn an iron whose dial has one, two and three dots.

A dot's heat is the most its care symbol allows: 110, 150 and 200 °C (ISO 3758, figures from memory),
here in °F. Irons differ: the limit is kept by turning to a dot that stays below it, and by
trying on a corner that will be cut away; the care label comes first.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

DOTS = ((1, 230), (2, 302), (3, 392))
FIRST, APART = 70.0, 170.0


@dataclass(frozen=True)
class Dial:
    """`turn` is the number of dots to turn to, 0 for none; `hand` and `limit` are places on the dial."""

    turn: int
    hand: float
    limit: float


def dial(limit: int) -> Dial:
    """Return where the hand goes so that the iron stays at or below the limit in °F."""
    turn = max((dots for dots, heat in DOTS if heat <= limit), default=0)
    return Dial(turn, FIRST + APART * (turn - 1) if turn else 24.0, round(_place(limit), 1))


def _place(heat: int) -> float:
    places = [(0, 20.0), *((heat_of, FIRST + APART * (dots - 1)) for dots, heat_of in DOTS), (500, 460.0)]
    (cool, left), (hot, right) = next((a, b) for a, b in pairwise(places) if heat <= b[0] or b == places[-1])
    return left + (right - left) * min(heat - cool, hot - cool) / (hot - cool)
