"""Which pieces go into so many blocks: one of every garment first, then second sides."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from planner.quilt import Bag, Piece

from .options import LeftOut


@dataclass(frozen=True)
class Choice:
    """Pieces chosen in the order of the blocks, how many are second sides, and blocks left plain."""

    pieces: tuple[Piece, ...]
    second_sides: int
    fillers: int

    def left_out(self, bag: Bag, placed: Collection[str]) -> tuple[LeftOut, ...]:
        """Return every piece of the bag that has no block, with its reason."""
        chosen = {piece.id for piece in self.pieces}
        return tuple(
            LeftOut(piece.id, _reason(piece, piece.id in chosen))
            for piece in sorted(bag.pieces, key=lambda each: each.id)
            if piece.id not in placed
        )


def base_count(wanted: Sequence[Piece]) -> int:
    """Return how many blocks there must be: every piece that must, and one of each other garment."""
    musts = [piece for piece in wanted if piece.wanted == "must"]
    others = {piece.garment for piece in wanted} - {piece.garment for piece in musts}
    return len(musts) + len(others)


def choose_pieces(wanted: Sequence[Piece], cells: int) -> Choice:
    """Return the pieces for `cells` blocks: all that must, one of each garment, then second sides."""
    in_order = sorted(wanted, key=lambda piece: piece.id)
    first = [piece for piece in in_order if piece.wanted == "must"]
    seen = {piece.garment for piece in first}
    for piece in in_order:
        if piece.garment not in seen:
            first.append(piece)
            seen.add(piece.garment)
    chosen = {piece.id for piece in first}
    spare = [piece for piece in in_order if piece.id not in chosen][: max(0, cells - len(first))]
    pieces = sorted([*first, *spare], key=lambda piece: piece.id)
    return Choice(tuple(pieces), len(spare), max(0, cells - len(pieces)))


def _reason(piece: Piece, chosen: bool) -> str:
    if piece.wanted == "out":
        return "Not wanted in this quilt."
    if chosen:
        return "It has not the cloth for this block."
    return "Every block is taken, and its garment has another."
