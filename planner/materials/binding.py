"""How many strips a binding takes, and the square a bias binding comes out of."""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt

from planner.problems import BadInput
from planner.units import INCH, Length

from .cloth import at_least


@dataclass(frozen=True)
class Strips:
    """So many strips over the cloth's width, taking `length` of the cloth."""

    count: int
    length: Length


def binding_strips(perimeter: int, *, cut: int, extra: int, usable: int, join: int | None = None) -> Strips:
    """Return the strips, `cut` high, for a binding `extra` longer than the perimeter.

    k strips of the usable width give k·usable − (k−1)·join; a join costs `cut` (45°) when None,
    0 reproduces printed charts that do not count joins.
    """
    at_least(1, perimeter=perimeter, cut=cut, usable=usable)
    at_least(0, extra=extra, join=join or 0)
    lost = cut if join is None else join
    wanted = perimeter + extra
    if wanted > usable and usable <= lost:
        raise BadInput("usable", "a strip this short is all lost to its joins.")
    count = 1 if wanted <= usable else -(-(wanted - lost) // (usable - lost))
    return Strips(count, count * cut)


def bias_square(length: int, width: int) -> int:
    """Return the side of the square that gives `length` of bias strip `width` wide.

    Square root of length × width, rounded up to a whole inch; seams of the square are not counted
    (the rule that printed charts use).
    """
    at_least(1, length=length, width=width)
    inches_squared = -(-length * width // INCH**2)
    whole = isqrt(inches_squared)
    return INCH * (whole if whole * whole == inches_squared else whole + 1)
