"""How a shirt sits in a block as it is turned: strips it needs, and how near its print comes to a seam."""

from __future__ import annotations

from dataclasses import dataclass

from planner.layout import fit
from planner.layout.window import keep
from planner.quilt import Cell, Piece
from planner.units import INCH, Sides, Size

SEAM = INCH // 4
SIDES = ("top", "right", "bottom", "left")


@dataclass(frozen=True)
class Strips:
    """The strips that a piece needs to fill a block; None where it cannot, and `words` would help."""

    frame: Sides | None
    words: str = ""


def strips_in(piece: Piece, block: Size, *, turn: int, unit: str) -> Strips:
    """Return the strips that fill a finished block where the cloth of a piece does not, its print whole."""
    answer = fit(piece, as_worn(block, turn), margin=0, unit=unit)
    if answer.ok:
        return Strips(Sides())
    strips = next((each for each in answer.remedies if each.kind == "frame"), None)
    if strips is not None:
        return Strips(_as_turned(strips.frame, turn), strips.words)
    return Strips(None, answer.remedies[0].words if answer.remedies else "Choose a larger place.")


def print_room(cell: Cell, piece: Piece, *, seam: int = SEAM) -> dict[str, int]:
    """Return how far the print is from the seam on each side of the block as it lies, in ticks.

    Less than 0 where the seam takes some of it; nothing of a piece without a print, or without cloth.
    """
    window = keep(piece, as_worn(cell.room.size, cell.turn), seam=seam)
    if window is None or not piece.print_size.area:
        return {}
    crop, print_size = window.crop, piece.print_size
    worn = (-crop.y, crop.right - print_size.width, crop.bottom - print_size.height, -crop.x)
    return dict(zip(SIDES, turned_round(worn, cell.turn), strict=True))


def as_worn(size: Size, turn: int) -> Size:
    """Return a size as it is on the garment, of a block that is turned."""
    return size if turn in (0, 180) else Size(size.height, size.width)


def turned_round(worn: tuple[int, ...], turn: int) -> tuple[int, ...]:
    """Return four lengths, clockwise from the top as it is worn, as they lie when it is turned clockwise."""
    steps = turn // 90
    return worn[-steps:] + worn[:-steps] if steps else worn


def _as_turned(frame: Sides, turn: int) -> Sides:
    return Sides(*turned_round((frame.top, frame.right, frame.bottom, frame.left), turn))
