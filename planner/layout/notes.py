"""What a layout gives up, said so that she can decide."""

from __future__ import annotations

from collections.abc import Callable

from planner.quilt import Piece, Quilt
from planner.units import Size

from .fit import fit


def notes_of(quilt: Quilt, note: Callable[[str, Size], str]) -> tuple[str, ...]:
    """Return the notes of the pieces that have a block of their own, by their ids."""
    found = (note(cell.piece, cell.at.size) for cell in quilt.cells if cell.piece)
    return tuple(sorted(filter(None, found)))


def note_of(piece: Piece, block: Size, *, margin: int, unit: str) -> str:
    """Return what a piece gives up in a block, with what would help; nothing where it is whole."""
    answer = fit(piece, block, margin=margin, unit=unit)
    if answer.ok or not answer.remedies:
        return ""
    return f"{piece.id}: " + " Or: ".join(remedy.words for remedy in answer.remedies[:2])
