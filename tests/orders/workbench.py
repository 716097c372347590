"""Orders on their way, for the tests of the bench: drawn, agreed, with a helper who may cut and trim."""

from __future__ import annotations

from typing import Any

from orders import planning
from orders.bench.work import do_pile
from orders.models import Bag, Consent, Design, Order, Piece, WorkingWeek
from planner.units import INCH
from tests.cast import add_shirt


def draw(order: Any, shop: Any, by: Any) -> Any:
    """Give the order its layout, its blocks and its stages."""
    offer = planning.plan_order(order, shop).options[0]
    Design.objects.create(order=order).draw(offer.layout.quilt, "Even grid", by=by)
    planning.keep_blocks(order, offer.layout.quilt)
    planning.lay_out_work(order, offer.minutes, by=by)
    return order


def say_yes_to_cut(order: Any, by: Any, *, but: int = 0) -> Any:
    """Write the yes to cut every piece, except the last `but` of them."""
    blocks = order.blocks.exclude(piece=None).order_by("cell")
    pieces = [block.piece for block in blocks]
    chosen = pieces[: len(pieces) - but]
    return Consent.objects.to_cut(order, chosen, said_by="the aunt", how="person", by=by)


def say_yes_to_picture(order: Any, by: Any) -> Any:
    """Ask about the picture as it stands, and write the yes."""
    version = order.design.freeze(by=by)
    return Consent.objects.to_picture(version, said_by="the aunt", how="phone", by=by)


def let_help(person: Any, *stages: str, minutes: int = 150) -> None:
    """Let a helper do some stages, three days a week."""
    WorkingWeek.objects.update_or_create(
        person=person,
        defaults={"minutes": [minutes, 0, minutes, 0, minutes, 0, 0], "stages": list(stages)},
    )


def do(order: Any, by: Any, *kinds: str) -> None:
    """Finish stages."""
    for kind in kinds:
        order.stages.get(kind=kind).finish(by=by)


def another(like: Any, shop: Any, by: Any, number: int, *, prints: str = "plastisol") -> Any:
    """Take in another quilt of twelve shirts, all cut."""
    made = Order.objects.open(
        title=f"Another {number}", customer=like.customer, by=by, width=50 * INCH, height=66 * INCH
    )
    bag = Bag.objects.create(customer=like.customer, brought_by="the aunt", count=12, received_by=by)
    made.bags.add(bag)
    for each in range(1, 13):
        add_shirt(bag, each)
    Piece.objects.filter(shirt__bag=bag).update(print_kind=prints)
    return cut(made, shop, by)


def cut(order: Any, shop: Any, by: Any) -> Any:
    """Draw an order, write the yes to cut, and cut all of it."""
    draw(order, shop, by)
    say_yes_to_cut(order, by)
    do_pile(order, "cut", order.blocks.values_list("pk", flat=True), by=by)
    return order
