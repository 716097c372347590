"""Orders on their way, for the tests of the bench: drawn, agreed, with a helper who may cut and trim."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from orders import planning
from orders.bench.work import do_pile
from orders.models import Bag, Consent, Design, Order, Piece, WorkingWeek
from orders.quilt.blocks import pieces_by_cell
from planner.quilt import Cell
from planner.units import INCH, Rect
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


def two_in_one(order: Any, by: Any) -> Any:
    """Let the first two prints of a drawn order share its first block; return that block."""
    quilt = order.design.quilt
    first, second, *others = quilt.cells
    half = first.at.width // 2
    left = Cell("a", Rect(first.at.x, first.at.y, half, first.at.height), piece=first.piece)
    right = Cell("b", Rect(first.at.x + half, first.at.y, half, first.at.height), piece=second.piece)
    cells = (replace(first, piece=None, inside=(left, right)), replace(second, piece=None), *others)
    order.design.draw(replace(quilt, cells=cells), "Two in one", by=by)
    planning.keep_blocks(order, order.design.quilt)
    return order.blocks.get(cell=first.id)


def say_yes_to_all(order: Any, by: Any) -> Any:
    """Write the yes to cut every piece that has none, those that share a block too."""
    order = Order.objects.get(pk=order.pk)
    every = [piece for held in pieces_by_cell(order).values() for piece in held]
    open_ones = [piece for piece in every if not piece.approvals.filter(withdrawn_at=None).exists()]
    return Consent.objects.to_cut(order, open_ones, said_by="the aunt", how="person", by=by)


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
