"""What is sewn to a quilt that is done: a sleeve to hang it by, and its label."""

from __future__ import annotations

from planner.quilt import Quilt
from planner.units import INCH, Length, Size

from .allowances import Allowances
from .cloth import CutPiece, Item, Ribbon, at_least

SLEEVE = 4 * INCH
SHORTER = 2 * INCH
HEM = INCH
LABEL = Size(6 * INCH, 4 * INCH)


def finishing(quilt: Quilt, allowances: Allowances, *, size: Size | None = None) -> tuple[Item, ...]:
    """Return what is sewn to the back when the quilt is done; `size` is that of the measured top."""
    found: list[Item] = []
    if "sleeve" in quilt.finish:
        found.append(hanging_sleeve(size or quilt.size, allowances=allowances, seam=quilt.seam))
    if "label" in quilt.finish:
        found.append(label(seam=quilt.seam))
    return tuple(found)


def hanging_sleeve(quilt: Size, *, allowances: Allowances, seam: Length, depth: Length = SLEEVE) -> Ribbon:
    """Return the strip of a sleeve that lies `depth` deep over the back of the upper edge.

    It is a tube, so twice as high and half an inch fuller for the rod, with two seams: 9 in for 4. It
    ends an inch from either side and has an inch to hem at both ends (all common practice, as shows
    ask for a 4-in sleeve). It may be joined.
    """
    at_least(1, depth=depth, seam=seam)
    length = max(depth, quilt.width - SHORTER) + 2 * HEM
    width = 2 * depth + INCH // 2 + 2 * seam
    return Ribbon("hanging sleeve", width, length, join=2 * seam, least_end=allowances.least_end)


def label(*, seam: Length, size: Size = LABEL) -> CutPiece:
    """Return the label of this finished size, with a seam to turn under all round (common practice)."""
    cut = size.grown(2 * seam)
    return CutPiece("label", cut.width, cut.height, 1, keep_grain=False)
