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
        """Say whether the whole print lies inside with `margin` round it."""
        size = piece.print_size
        around = Rect(-margin, -margin, size.width + 2 * margin, size.height + 2 * margin)
        return not size.area or self.crop.holds(around)


def keep(piece: Piece, block: Size, *, seam: int) -> Window | None:
    """Return what the block would keep of the piece: as much as fits, centred, strips round the rest.

    None when there is not even cloth for the seams, or the piece is already cut larger.
    """
    size = _finished(piece, block, seam)
    if size is None:
        return None
    free = piece.free
    x = _start(piece.print_size.width, free.left - seam, free.right - seam, size.width)
    y = _start(piece.print_size.height, free.top - seam, free.bottom - seam, size.height)
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


def _start(extent: int, before: int, after: int, room: int) -> int:
    """Where the window starts: centred on the print, moved only as far as the cloth makes it."""
    centred = -((room - extent) // 2)
    return max(-before, min(centred, extent + after - room))
