"""The shopping list over all orders: what is spoken for and not here, by when it is wanted, what it costs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from django.db import transaction

from orders.cloth.cloth_buying import TAKEN_BY
from orders.days.calendar import order_id
from orders.days.weeks import look_ahead
from orders.models import Cloth, Event, Order, Outside, Person, Reservation, Shop
from orders.models.event import Tap
from orders.planning import bolt_of
from planner.units import Money

WITHOUT_A_SUPPLIER = 14  # days
WASHED_AND_PRESSED = 1  # days between the cloth's coming and the work
FIRST = {"interfacing": ("fuse",), "batting": ("quilt",), **TAKEN_BY}


@dataclass(frozen=True)
class Wanted:
    """What one order has spoken for of a cloth: as what, how much, and the day it has to be here."""

    order: Order
    roles: tuple[str, ...]
    length: int
    by: date | None


@dataclass(frozen=True)
class Line:
    """One cloth of the list. Lengths in ticks; `buy` is in whole steps, `order_by` the last safe day."""

    cloth: Cloth
    here: int
    spoken_for: int
    buy: int
    cost: Money | None
    wanted: tuple[Wanted, ...]
    by: date | None
    order_by: date | None

    @property
    def is_to_be_had(self) -> bool:
        return self.cost is not None


@dataclass(frozen=True)
class ShoppingList:
    """Every cloth that is short, the most urgent first, and what the list costs where prices are known."""

    lines: tuple[Line, ...]
    total: Money | None


def shopping_list(shop: Shop) -> ShoppingList:
    """Return what has to be bought for all open orders, in as many queries for sixty of them as for one."""
    cloths = [cloth for cloth in Cloth.objects.on_the_shelf() if cloth.short]
    if not cloths:
        return ShoppingList((), None)
    days = _days_of_work(shop)
    suppliers = list(Outside.objects.in_use().filter(kind=Outside.Kind.SUPPLIER))
    lines = [_line(cloth, shop, days, suppliers) for cloth in cloths]
    lines.sort(key=lambda line: (line.order_by or date.max, line.cloth.name))
    costs = [line.cost for line in lines if line.cost is not None]
    total = Money(sum(cost.minor for cost in costs), shop.currency) if costs else None
    return ShoppingList(tuple(lines), total)


def _days_of_work(shop: Shop) -> Mapping[str, Mapping[str, date]]:
    """The first day of each kind of work of each order, from one timetable of them all."""
    ahead = look_ahead(shop, today=shop.today(), weeks=1)
    stages = {stage.id: stage for stage in ahead.work.stages}
    found: dict[str, dict[str, date]] = {}
    for stint in ahead.table.stints:
        stage = stages[stint.stage]
        day = ahead.work.origin + timedelta(days=stint.day)
        first = found.setdefault(stage.order, {})
        first[stage.kind] = min(day, first.get(stage.kind, day))
    return found


def _line(cloth: Cloth, shop: Shop, days: Mapping[str, Mapping[str, date]], suppliers: list[Outside]) -> Line:
    wanted = _wanted(cloth, days)
    facts = bolt_of(cloth, shop)
    buy = facts.to_buy(cloth.short)
    by = min((each.by for each in wanted if each.by), default=None)
    order_by = last_safe_day(by, suppliers, today=shop.today()) if by else None
    return Line(cloth, cloth.on_hand, cloth.spoken_for, buy, facts.cost_of(buy), wanted, by, order_by)


def last_safe_day(by: date, suppliers: Iterable[Outside], *, today: date) -> date:
    """Return the last day to order so that even the slowest supplier brings it in time; today at the least.

    Without a supplier on the list cloth takes two weeks (trade handbook 2: 3 to 15 business days).
    """
    known, day = list(suppliers), by
    while day > today and not _comes_by(by, day, known):
        day -= timedelta(days=1)
    return max(day, today)


def _comes_by(by: date, ordered: date, suppliers: list[Outside]) -> bool:
    if not suppliers:
        return ordered + timedelta(days=WITHOUT_A_SUPPLIER) <= by
    return all(each.back_by(ordered) <= by for each in suppliers)


def _wanted(cloth: Cloth, days: Mapping[str, Mapping[str, date]]) -> tuple[Wanted, ...]:
    by_order: dict[int, list[Reservation]] = {}
    for each in cloth.reservations.all():
        if each.is_open:
            by_order.setdefault(each.order_id, []).append(each)
    found = []
    for spoken_for in by_order.values():
        order, roles = spoken_for[0].order, tuple(one.role for one in spoken_for)
        here = _here_by(roles, days.get(order_id(order), {}))
        found.append(Wanted(order, roles, sum(one.length for one in spoken_for), here))
    return tuple(sorted(found, key=lambda one: (one.by or date.max, one.order.number)))


def _here_by(roles: Iterable[str], days: Mapping[str, date]) -> date | None:
    """The day before the work that first takes one of the parts: it has to be washed and pressed."""
    kinds = [next((kind for kind in FIRST.get(role, ()) if kind in days), "") for role in roles]
    planned = [days[kind] for kind in kinds if kind]
    return min(planned) - timedelta(days=WASHED_AND_PRESSED) if planned else None


@transaction.atomic
def bought(cloth: Cloth, length: int, *, by: Person, client_id: str, lot: str = "") -> Event | None:
    """Put what was bought on the shelf: what orders have spoken for of it is theirs. The same tap is once.

    A dye lot that differs from the one on the shelf is written down, since it must not lie beside it.
    """
    tap, is_new = Tap.objects.get_or_create(client_id=client_id)
    if not is_new:
        return tap.deed
    now = Cloth.objects.select_for_update().get(pk=cloth.pk)
    piece = now.put_on_shelf(length, by=by, part=f"lot {lot}"[:40] if lot and lot != now.lot else "")
    if lot and not now.lot:
        Cloth.objects.filter(pk=now.pk).update(lot=lot)
    tap.deed = Event.objects.note(
        "cloth bought", by=by, cloth=now.name, length=length, piece=piece.pk, lot=lot
    )
    tap.save(update_fields=["deed"])
    return tap.deed
