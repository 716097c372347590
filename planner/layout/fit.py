"""Does this print sit whole in that block, and if not, what would help?

Block fits if print and both margins lie within the block and the garment gives the cut size round
it, seams included (trade handbook 3.1, 3.2).
"""

from __future__ import annotations

from collections.abc import Iterable

from planner.quilt import Piece
from planner.units import INCH, Rect, Size

from .options import Fit
from .remedies import Misfit
from .window import keep


def fit(
    piece: Piece,
    block: Size,
    *,
    margin: int,
    seam: int = INCH // 4,
    unit: str = "in",
    others: Iterable[Piece] = (),
) -> Fit:
    """Return whether `piece` fits the finished `block` whole with `margin`, and else what would help.

    A print fits when it does so however large its plus-or-minus lets it be. `unit`, in or cm, is what
    the remedies are told in; `others` are the pieces it might share a block with.
    """
    window = keep(piece, block, seam=seam)
    misfit = Misfit(piece, block, margin=margin, seam=seam, unit=unit, others=tuple(others))
    if window is None:
        return Fit(False, Rect(0, 0, 0, 0), misfit.smaller())
    if window.keeps_margin(piece, margin) and not window.frame:
        return Fit(True, window.crop)
    return Fit(False, window.crop, misfit.remedies(window))
