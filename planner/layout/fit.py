"""Does this print sit whole in that block, and if not, what would help?

Block fits if print and both margins lie within the block and the garment gives the cut size round
it, seams included (trade handbook 3.1, 3.2). Strips under 1/2 in are avoided (common practice).
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.quilt import Piece
from planner.units import INCH, Rect, Sides, Size, show_length

from .options import Fit, Remedy

LEAST_STRIP = INCH // 2
NEAT = INCH // 2
SMALL_PRINT = 3, 10


@dataclass(frozen=True)
class Window:
    """The finished part of a piece that a block keeps, relative to its print, and its frame strips."""

    crop: Rect
    frame: Sides

    def loses_print(self, piece: Piece) -> bool:
        """Say whether part of the print lies outside."""
        whole = Rect(0, 0, piece.print_size.width, piece.print_size.height)
        return bool(piece.print_size.area) and not self.crop.holds(whole)


def fit(piece: Piece, block: Size, *, margin: int, seam: int = INCH // 4) -> Fit:
    """Return whether `piece` fits the finished `block` whole with `margin`, and else what would help."""
    window = keep(piece, block, margin=margin, seam=seam)
    if window is None:
        return Fit(False, Rect(0, 0, 0, 0), _smaller(piece, block, margin, seam))
    roomy = _with_margin(piece, window.crop, margin)
    if roomy and not window.frame:
        return Fit(True, window.crop)
    return Fit(False, window.crop, _remedies(piece, block, window, margin=margin, seam=seam))


def keep(piece: Piece, block: Size, *, margin: int, seam: int) -> Window | None:
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


def _with_margin(piece: Piece, crop: Rect, margin: int) -> bool:
    if not piece.print_size.area:
        return True
    size = piece.print_size
    around = Rect(-margin, -margin, size.width + 2 * margin, size.height + 2 * margin)
    return crop.holds(around)


def _remedies(piece: Piece, block: Size, window: Window, *, margin: int, seam: int) -> tuple[Remedy, ...]:
    found: list[Remedy] = []
    if window.frame and not window.loses_print(piece):
        found.append(Remedy("frame", window.frame, block, _frame_words(window.frame)))
    if window.frame and _is_small(piece, block):
        found.append(Remedy("composite", Sides(), block, "Put it in one block with other small prints."))
    found += _taller(piece, block, margin, seam)
    if window.frame:
        found += _smaller(piece, block, margin, seam)
    if not _with_margin(piece, window.crop, margin):
        found.append(Remedy("crop", window.frame, block, _crop_words(piece, window, margin)))
    return tuple(found)


def _is_small(piece: Piece, block: Size) -> bool:
    part, whole = SMALL_PRINT
    return whole * piece.print_size.area < part * block.area


def _taller(piece: Piece, block: Size, margin: int, seam: int) -> list[Remedy]:
    """A larger block for a print that is too large, if the garment has the cloth for it."""
    width = max(block.width, _up(piece.print_size.width + 2 * margin))
    height = max(block.height, _up(piece.print_size.height + 2 * margin))
    larger = Size(width, height)
    window = keep(piece, larger, margin=margin, seam=seam)
    if larger == block or window is None or window.frame or not _with_margin(piece, window.crop, margin):
        return []
    return [Remedy("taller", Sides(), larger, f"Give it a block of {_size_words(larger)}.")]


def _smaller(piece: Piece, block: Size, margin: int, seam: int) -> tuple[Remedy, ...]:
    """A smaller block that the cloth fills without strips."""
    width = min(block.width, _down(piece.cloth.width - 2 * seam))
    height = min(block.height, _down(piece.cloth.height - 2 * seam))
    if width <= 0 or height <= 0 or (width, height) == (block.width, block.height):
        return ()
    lesser = Size(width, height)
    window = keep(piece, lesser, margin=margin, seam=seam)
    if window is None or window.frame or not _with_margin(piece, window.crop, margin):
        return ()
    return (Remedy("smaller", Sides(), lesser, f"Give it a block of {_size_words(lesser)}."),)


def _up(length: int) -> int:
    return -(-length // NEAT) * NEAT


def _down(length: int) -> int:
    return length // NEAT * NEAT


def _size_words(size: Size) -> str:
    return f"{_short(size.width)} × {_short(size.height)} in"


def _short(length: int) -> str:
    return show_length(length, unit="in", rounding="nearest").removesuffix(" in")


def _frame_words(frame: Sides) -> str:
    named = {"top": frame.top, "right": frame.right, "bottom": frame.bottom, "left": frame.left}
    widths = {width for width in named.values() if width}
    if len(widths) == 1:
        sides = [side for side, width in named.items() if width]
        where = "all round" if len(sides) == 4 else " and ".join(sides)
        return f"Add strips of {_short(widths.pop())} in {where}."
    strips = ", ".join(f"{side} {_short(width)} in" for side, width in named.items() if width)
    return f"Add strips: {strips}."


def _crop_words(piece: Piece, window: Window, margin: int) -> str:
    if window.loses_print(piece):
        lost_wide = max(0, piece.print_size.width - window.crop.width)
        lost_high = max(0, piece.print_size.height - window.crop.height)
        parts = [f"{_short(lost)} in of its {side}" for lost, side in
                 ((lost_wide, "width"), (lost_high, "height")) if lost]  # fmt: skip
        return f"Cut into the print: it loses {' and '.join(parts) or 'an edge'}. Ask first."
    return f"Keep it whole with less than {_short(margin)} in to the seam. Ask first."
