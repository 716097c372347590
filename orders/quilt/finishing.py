"""How a quilt is finished, as the customer asked: binding, sleeve, label, how quilted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from django.db import transaction

from orders.models import Cloth, Event, Order, Person, Shop
from orders.planning import bolt_of
from orders.quilt import layouts
from planner.materials import binding_options
from planner.problems import Impossible, Limit
from planner.quilt import FINISHES, Binding, Quilt
from planner.units import Money

SAID = {"sleeve": "a hanging sleeve", "label": "a label"}


@dataclass(frozen=True)
class BindingWay:
    """The binding cut one way off its cloth: the length in whole steps, and what that costs new."""

    way: str
    length: int
    cost: Money | None


@transaction.atomic
def finish(order: Order, *, bias: bool, finish: Iterable[str], quilted: str, seen: int, by: Person) -> str:
    """Write down how it is finished, and draw it so where there is a layout; returns it in words."""
    wanted = tuple(each for each in FINISHES if each in set(finish))
    now = Order.objects.select_for_update().get(pk=order.pk)
    said = {"finish": list(wanted), "quilted": quilted, "binding": "bias" if bias else "straight"}
    wish = {**now.wish, **said}
    words = words_for(bias=bias, finish=wanted)
    if wish != now.wish:
        Order.objects.filter(pk=order.pk).update(wish=wish)
        order.wish = wish
        Event.objects.note("finish wished", by=by, order=order, **said)
    design, quilt = layouts.drawn(order)
    if quilt is not None:
        layouts.draw(order, design, finished(quilt, bias=bias, finish=wanted), words, seen=seen, by=by)
    return words


def finished(quilt: Quilt, *, bias: bool, finish: tuple[str, ...]) -> Quilt:
    """Return a quilt with its binding cut so and with what is sewn to it when it is done."""
    return replace(quilt, binding=replace(quilt.binding or Binding(), bias=bias), finish=finish)


def words_for(*, bias: bool, finish: Iterable[str]) -> str:
    """Say how a quilt is finished, as the undo names it."""
    sewn = " and ".join(SAID[each] for each in finish)
    return f"Binding {'on the bias' if bias else 'straight'}" + (f", {sewn}" if sewn else "")


def binding_ways(order: Order, shop: Shop, quilt: Quilt, cloths: Iterable[Cloth]) -> tuple[BindingWay, ...]:
    """Return the binding straight and on the bias off its own cloth, straight first; () without one."""
    cloth = next((each for each in cloths if each.name == quilt.cloth.get("binding")), None)
    if cloth is None:
        return ()
    bolt = bolt_of(cloth, shop)
    found = binding_options(quilt, [bolt], allowances=shop.shop_rules().allowances, limit=Limit(effort=1))
    if isinstance(found, Impossible):
        return ()
    ways = {each.way: BindingWay(each.way, each.buy, each.cost) for each in found}
    return tuple(ways[way] for way in ("straight", "bias") if way in ways)
