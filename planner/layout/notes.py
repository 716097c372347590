"""What a layout gives up, said so that she can decide."""

from __future__ import annotations

from collections.abc import Sequence

from planner.quilt import Piece
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
