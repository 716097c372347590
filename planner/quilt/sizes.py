"""What people call a finished size: the smallest of the usual ones that it lies in, either way round.

The figures are the upper ends of the ranges of quilts by bed, or the usual grid of 14 in blocks where that
is larger: common practice (trade handbook 3.9), no standard.
"""

from __future__ import annotations

from planner.units import INCH, Size

SIZES = (
    ("baby", 45, 54), ("lap", 50, 60), ("throw", 60, 72), ("twin", 70, 95), ("twin-xl", 70, 98),
    ("full", 88, 98), ("queen", 98, 108), ("king", 114, 110),
)  # fmt: skip


def size_name(size: Size) -> str:
    """Return the word for a size; what is larger than all of them is a king."""
    short, long = sorted((size.width, size.height))
    for word, *sides in SIZES:
        least, most = sorted(sides)
        if short <= least * INCH and long <= most * INCH:
            return word
    return SIZES[-1][0]
