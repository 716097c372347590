"""Orders on their way, for the tests of the bench: drawn, agreed, with a helper who may cut and trim."""

from __future__ import annotations

from typing import Any

from orders import planning
from orders.models import Consent, Design, WorkingWeek


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
