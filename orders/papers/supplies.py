"""What stands on the material list: each cloth a quilt has spoken for, its length, and what to buy."""

from __future__ import annotations

from typing import Any

from orders.account.money import the_shop
from orders.cloth.cloth_needs import ROLES
from orders.models import Cloth, Order, Reservation

from .saying import Saying


def materials_facts(order: Order) -> dict[str, Any]:
    """Return the lengths set aside for an order; what is short is bought in whole steps of its cloth."""
    shop = the_shop()
    say, allowances = Saying(shop), shop.shop_rules().allowances
    mine = order.reservations.filter(let_go_at=None).select_related("cloth").order_by("cloth__name", "role")
    rows: dict[int, list[Reservation]] = {}
    for each in mine:
        rows.setdefault(each.cloth_id, []).append(each)
    return {
        "order": order.number,
        "title": order.title,
        "on": say.day(shop.today()),
        "cloths": [_cloth(say, wanted) for wanted in rows.values()],
        "squaring": say.length(allowances.squaring) if allowances.squaring else "",
        "shrinkage": f"{allowances.shrinkage / 10:g} %" if allowances.shrinkage else "",
    }


def _cloth(say: Saying, wanted: list[Reservation]) -> dict[str, Any]:
    cloth: Cloth = wanted[0].cloth
    is_cut = all(each.cut_at for each in wanted)
    needed = sum(each.length for each in wanted if not each.cut_at)
    others = sum(
        each.length
        for each in cloth.reservations.all()
        if each.is_open and each.order_id != wanted[0].order_id
    )
    free = max(cloth.on_hand - others, 0)
    short = max(needed - free, 0)
    return {
        "name": cloth.name,
        "kind": cloth.kind,
        "uses": ", ".join(dict.fromkeys(ROLES.get(each.role, each.role.capitalize()) for each in wanted)),
        "width": say.length(cloth.usable),
        "length": say.cloth_length(sum(each.length for each in wanted)),
        "here": say.cloth_length(cloth.on_hand),
        "others": say.cloth_length(others) if others else "",
        "buy": say.cloth_length(_in_steps(short, cloth.step)) if short else "",
        "cut": is_cut,
    }


def _in_steps(length: int, step: int) -> int:
    """Return a length rounded up to what the shop for it cuts."""
    return -(-length // step) * step if step else length
