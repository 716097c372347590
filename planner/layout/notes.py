"""What a layout gives up, said so that she can decide."""

from __future__ import annotations

from collections.abc import Sequence

from planner.quilt import Bag, Piece, Quilt
from planner.units import Size

from .fit import fit
from .options import Wish


def notes_of(pieces: Sequence[Piece], block: Size, wish: Wish, *, unit: str) -> tuple[str, ...]:
    """Return one sentence for each piece that does not fit its block whole with its margin."""
    notes = []
    for piece in pieces:
        answer = fit(piece, block, margin=wish.margin, unit=unit)
        if not answer.ok:
            notes.append(f"{piece.id}: " + " Or: ".join(remedy.words for remedy in answer.remedies[:2]))
    return tuple(notes)


def notes_of_blocks(quilt: Quilt, bag: Bag, *, margin: int, unit: str) -> tuple[str, ...]:
    """Return one sentence for each piece that needs strips in its block, or lacks its margin there."""
    notes = []
    for cell in quilt.with_pieces():
        piece = bag.piece(cell.piece or "")
        answer = fit(piece, cell.at.size, margin=margin, unit=unit)
        if not answer.ok and answer.remedies:
            notes.append(f"{piece.id}: {answer.remedies[0].words}")
    return tuple(sorted(notes))
