"""Piles for the iron: pieces that share a setting and a cover, coolest first."""

from __future__ import annotations

from dataclasses import dataclass

from planner.quilt import Bag, Quilt

from .needs import needs


@dataclass(frozen=True)
class Batch:
    """Pieces pressed at one limit (°F, 0 = no heat) under one cover."""

    heat: int
    cover: str
    pieces: tuple[str, ...]


def press_batches(quilt: Quilt, bag: Bag) -> tuple[Batch, ...]:
    """Return the quilt's pieces by heat limit and cover, coolest first, so the iron only warms up."""
    piles: dict[tuple[int, str], list[str]] = {}
    for cell in quilt.with_pieces():
        piece = bag.piece(cell.piece or "")
        need = needs(bag.garment(piece.garment), piece)
        piles.setdefault((need.heat, need.cover), []).append(piece.id)
    return tuple(Batch(heat, cover, tuple(sorted(pieces))) for (heat, cover), pieces in sorted(piles.items()))
