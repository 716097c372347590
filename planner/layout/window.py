"""What a block would keep of a piece: a window of its cloth, and strips round what is missing.

Strips under 1/2 in are avoided (common practice).
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.quilt import Piece
from planner.units import INCH, Rect, Sides, Size

LEAST_STRIP = INCH // 2


@dataclass(frozen=True)
class Window:
    """The finished part of a piece that a block keeps, relative to its print, and its frame strips."""

    crop: Rect
    frame: Sides

    def loses_print(self, piece: Piece) -> bool:
        """Say whether part of the print lies outside."""
        whole = Rect(0, 0, piece.print_size.width, piece.print_size.height)
        return bool(piece.print_size.area) and not self.crop.holds(whole)

    def keeps_margin(self, piece: Piece, margin: int) -> bool:
        """Say whether the whole print, as large as it may be, lies inside with `margin` round it."""
        size, room = piece.print_size, sure_margin(piece, margin)
        around = Rect(-room, -room, size.width + 2 * room, size.height + 2 * room)
        return not size.area or self.crop.holds(around)


def sure_margin(piece: Piece, margin: int) -> int:
    """Return the margin to leave round a print as measured, so that `margin` is left however large it is.

    Half of its plus-or-minus may lie on either side; a print is never called whole with less room
    than the whole of it.
    """
    return max(margin + -(-piece.plus_minus // 2), piece.plus_minus)


def keep(piece: Piece, block: Size, *, seam: int) -> Window | None:
    """Return what the block would keep of the piece: as much as fits, strips round the rest.

    Its middle is the print's, moved by the piece's shift and as far as the cloth makes it. None when
    there is not even cloth for the seams, or the piece is already cut larger.
    """
    size = _finished(piece, block, seam)
    if size is None:
        return None
    free, shift = piece.free, piece.shift
    beside, above = (free.left - seam, free.right - seam), (free.top - seam, free.bottom - seam)
    x = _start(piece.print_size.width, beside, room=size.width, shift=shift.right - shift.left)
    y = _start(piece.print_size.height, above, room=size.height, shift=shift.bottom - shift.top)
    return Window(Rect(x, y, size.width, size.height), _strips(size, block))


def _finished(piece: Piece, block: Size, seam: int) -> Size | None:
    have = piece.cut or piece.cloth
    width, height = have.width - 2 * seam, have.height - 2 * seam
    if width <= 0 or height <= 0:
        return None
    if piece.cut is not None:
        return Size(width, height) if width <= block.width and height <= block.height else None
    return _with_even_strips(Size(width, height), block, piece.print_size)


def _with_even_strips(room: Size, block: Size, print_size: Size) -> Size:
    """Shrink the room until the strips round it are wide enough to sew, and alike where the print allows."""
    width, height = _kept(room.width, block.width), _kept(room.height, block.height)
    if width < block.width and height < block.height:
        strip = max(block.width - width, block.height - height)
        even = Size(max(0, block.width - strip), max(0, block.height - strip))
        if even.area and even.width >= print_size.width and even.height >= print_size.height:
            return even
    return Size(width, height)


def _kept(room: int, block: int) -> int:
    return block if room >= block else max(1, min(room, block - 2 * LEAST_STRIP))


def _strips(size: Size, block: Size) -> Sides:
    wide, high = block.width - size.width, block.height - size.height
    return Sides(top=high // 2, right=wide - wide // 2, bottom=high - high // 2, left=wide // 2)


def _start(extent: int, free: tuple[int, int], *, room: int, shift: int) -> int:
    """Where the window starts: centred on the print and shifted, moved only as far as the cloth makes it."""
    centred = -((room - extent) // 2) + shift
    return max(-free[0], min(centred, extent + free[1] - room))
