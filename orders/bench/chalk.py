"""The square to cut, chalked on a shirt's photo: where the first cut goes round the print."""

from __future__ import annotations

from orders.bag.cropping import SEAM, Points, known_rectangle, seen_in_photo
from orders.bench.bench import Cutting
from orders.planning import piece_of
from planner.layout import fit
from planner.units import INCH, Rect, Size

LEAST_MARGIN = INCH // 2


def chalk_of(cutting: Cutting) -> Points:
    """Return the four corners of the first cut in per cent of the photo; () where its place is not known.

    It lies where the crop was kept, the block's own seam and what is trimmed off later round it.
    """
    piece, sizes = cutting.piece, cutting.sizes
    is_placed = piece.box is not None or bool(piece.taps and piece.taps.get("kept"))
    if cutting.photo is None or piece.photo_id != cutting.photo.pk or not is_placed:
        return ()
    flat = piece_of(piece)
    block = Size(sizes.cut.width - 2 * SEAM, sizes.cut.height - 2 * SEAM)
    window = fit(flat, block, margin=LEAST_MARGIN, seam=SEAM).crop
    if not window.width:
        size, (x, y) = known_rectangle(flat)
        window = Rect(x, y, size.width, size.height)
    middle = (window.x + window.width // 2, window.y + window.height // 2)
    left, top = middle[0] - sizes.rough.width // 2, middle[1] - sizes.rough.height // 2
    right, bottom = left + sizes.rough.width, top + sizes.rough.height
    return seen_in_photo(piece, flat, [(left, top), (right, top), (right, bottom), (left, bottom)])
