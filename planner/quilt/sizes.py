"""What people call a finished size: the smallest of the usual ones that a quilt fits, a little over allowed.

Sizes in inches are those of 14 in blocks with 2 in sashing all round, the baby's of 8 in blocks: common
practice (trade handbook 3.9), no standard.
"""

from __future__ import annotations

from planner.units import INCH, Size

SIZES = (
    ("baby", 42, 52), ("lap", 50, 50), ("throw", 50, 66), ("twin", 66, 82), ("twin-xl", 66, 98),
    ("full", 82, 98), ("queen", 98, 98), ("king", 114, 98),
)  # fmt: skip
OVER = 4 * INCH


def size_name(size: Size) -> str:
    """Return the word for a size, lying either way, up to 4 in over; what is larger than all is a king."""
    short, long = sorted((size.width, size.height))
    for word, *sides in SIZES:
        least, most = sorted(sides)
        if short <= least * INCH + OVER and long <= most * INCH + OVER:
            return word
    return SIZES[-1][0]
