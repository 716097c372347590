"""What is still lacking before a price can be told, and what was only guessed."""

from __future__ import annotations

from collections.abc import Iterator

from orders import planning
from orders.models import Order, Shirt
from planner.quilt import Quilt


def what_is_missing(order: Order, quilt: Quilt | None) -> Iterator[str]:
    """Yield a sentence for each thing a price cannot be told without."""
    lacking = [name for shirt in planning.shirts_of(order) for name in _sides_without_size(shirt, order)]
    if lacking:
        these = f"{', '.join(lacking[:6])}{' and more' if len(lacking) > 6 else ''}"
        yield f"The print of {these} has no size yet. Measure it in the Bag room."
    if quilt is None:
        yield "No layout is drawn yet. Draw one in the Quilt room, and the price follows from it."


def _sides_without_size(shirt: Shirt, order: Order) -> Iterator[str]:
    for piece in shirt.pieces.all():
        is_ours = piece.order_id in (None, order.pk) and piece.wanted != "out"
        measured = (piece.print_width and piece.print_height) or piece.print_kind == "none"
        if is_ours and not measured:
            yield piece.name


def not_measured_or_logged(order: Order) -> Iterator[str]:
    """Yield a sentence for each thing a price can be told without, but had better not be."""
    pieces = [piece for shirt in planning.shirts_of(order) for piece in shirt.pieces.all()]
    usual = sum(piece.sizes_are_usual and piece.wanted != "out" for piece in pieces)
    if usual:
        yield f"Sizes that are the usual ones, not measured: {usual}."
    missing = sum(bag.tally().not_logged for bag in order.bags.all())
    if missing:
        yield f"Shirts counted at the door but not logged yet: {missing}."
