"""What must be stopped for: little heat, a hold on the garment, a block that waits."""

from __future__ import annotations

from orders.bench.bench import Bench, Cutting
from orders.models import Piece, Shirt
from orders.planning import garment_of, piece_of
from planner.care import hard_items, stop_reasons


def reasons_for(of: Shirt | Piece, *, held: str = "", unit: str = "F") -> tuple[str, ...]:
    """Return why a stop tag is pinned to a shirt or a piece of one; a shirt stops for any of its pieces."""
    if isinstance(of, Piece):
        found = stop_reasons(garment_of(of.shirt), piece_of(of), unit=unit)
        waits = (f"Held: {held}.",) if held else ()
        return (*found, *waits)
    garment = garment_of(of)
    by_piece = [
        stop_reasons(garment, piece_of(piece), unit=unit)
        for piece in of.pieces.all()
        if piece.wanted != "out"
    ]
    whole = [] if by_piece else [stop_reasons(garment, unit=unit)]
    return tuple(dict.fromkeys(reason for reasons in (*by_piece, *whole) for reason in reasons))


def stopping_in(lies: Bench, *, unit: str = "F") -> list[tuple[Cutting, tuple[str, ...]]]:
    """Return each piece of a quilt that wants a stop tag, with why, in the order of the blocks."""
    found = []
    for item in lies.items:
        for each in item.cuttings:
            reasons = reasons_for(each.piece, held=item.block.held, unit=unit)
            if reasons:
                found.append((each, reasons))
    return found


def hard_items_in(lies: Bench) -> list[tuple[str, tuple[str, ...]]]:
    """Return the pieces of a quilt that break needles, each with what does, in the order of the blocks."""
    found = (
        (each.name, hard_items(garment_of(each.piece.shirt), piece_of(each.piece)))
        for item in lies.items
        for each in item.cuttings
    )
    return [(name, items) for name, items in found if items]
