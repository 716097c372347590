"""Yeses as the tests say them, to the twelve shirts of the cast."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from orders.models import ApprovedPiece, Order, Piece, Shirt
from orders.yes import yes_to_cut
from orders.yes.yes_to_cut import Said

AUNT = "An aunt of Ferncliff"
NOON = datetime(2027, 6, 12, 16, 0, tzinfo=UTC)  # noon in New York


def pieces(*numbers: int) -> list[Piece]:
    found = Piece.objects.select_related("shirt__asked_singly").order_by("shirt__number")
    return [each for each in found if each.shirt.number in numbers or not numbers]


def piece(number: int) -> Piece:
    return pieces(number)[0]


def aunt_says(**change: Any) -> Said:
    return Said(**{"by": AUNT, "how": "person", **change})


def ask_singly(by: Any, number: int, *names: str, for_the_day: bool = False) -> None:
    shirt = Shirt.objects.get(number=number)
    yes_to_cut.ask_singly(shirt, names, for_the_day=for_the_day, why="his", by=by)


def standing() -> list[str]:
    return sorted(str(yes.piece) for yes in ApprovedPiece.objects.standing().select_related("piece__shirt"))


def other_order(order: Order, by: Any) -> Order:
    """Open a second order that the same bag serves."""
    other = Order.objects.open(title="The second quilt", customer=order.customer, by=by)
    order.bags.get().serve(other, by=by)
    return other
