"""The shopping list over all orders: what they take and is not here, by when it is wanted, what it costs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from django.db import transaction

from orders.cloth.demand import speak_for
from orders.cloth.takes import FIRST, Take, Taking, agreed_takings
from orders.cloth.wanted import Wanted, shared, wanted_of
from orders.days.calendar import order_id
from orders.days.weeks import look_ahead
from orders.models import Cloth, Event, Order, Outside, Person, Shop
from orders.models.event import Tap
from orders.planning import bolt_of
from planner.units import Money

WITHOUT_A_SUPPLIER = 14  # days
WASHED_AND_PRESSED = 1  # days between the cloth's coming and the work


@dataclass(frozen=True)
class Line:
    """One cloth of the list. Lengths in ticks; `buy` is in whole steps, `order_by` the last safe day.

    `by` is the day the first quilt that is short of it is cut; `is_beyond_the_sum` where lengths alone would
    have bought less. `quarters` fat quarters do in its place and cost `quarters_cost`, which is less; 0 where
    they do not.
    """

    cloth: Cloth
    here: int
    spoken_for: int
    buy: int
    cost: Money | None
    wanted: tuple[Wanted, ...]
    by: date | None
    order_by: date | None
    quarters: int = 0
    quarters_cost: Money | None = None
    is_beyond_the_sum: bool = False

    @property
    def is_to_be_had(self) -> bool:
        return self.cost is not None

    @property
    def least(self) -> Money | None:
        """What it costs the cheaper way."""
        return self.quarters_cost or self.cost


@dataclass(frozen=True)
class ShoppingList:
    """Every cloth that is short, the most urgent first, and what the list costs where prices are known.

    Of the `being_reckoned` it is not known yet what they take now; for the `unserved` nothing listed serves.
    """

    lines: tuple[Line, ...]
    total: Money | None
    being_reckoned: tuple[Order, ...] = ()
    unserved: tuple[Order, ...] = ()


def shopping_list(shop: Shop) -> ShoppingList:
    """Return what has to be bought for all open orders, in as many queries for sixty of them as for one.

    An agreed quilt takes its cloth whether it was set aside or not; one that is not agreed, what was.
    """
    shelf = list(Cloth.objects.on_the_shelf().prefetch_related("reservations__order__stages"))
    takings = agreed_takings(shop, shelf)
    needs = _by_cloth(takings)
    found = [(cloth, *wanted_of(cloth, needs.get(cloth.name, ()))) for cloth in shelf]
    short = [each for each in found if any(one.new for one in shared(each[1], each[2]))]
    reckoned = tuple(each.order for each in takings if not (each.is_of_now or each.failed))
    unserved = tuple(each.order for each in takings if each.failed)
    if not short:
        return ShoppingList((), None, reckoned, unserved)
    days = _days_of_work(shop)
    suppliers = list(Outside.objects.in_use().filter(kind=Outside.Kind.SUPPLIER))
    lines = [
        _line(cloth, shared(_dated(wanted, days), here), sum(here), shop=shop, suppliers=suppliers)
        for cloth, wanted, here in short
    ]
    lines.sort(key=lambda line: (line.order_by or date.max, line.cloth.name))
    costs = [line.least for line in lines if line.least is not None]
    total = Money(sum(cost.minor for cost in costs), shop.currency) if costs else None
    return ShoppingList(tuple(lines), total, reckoned, unserved)


def _by_cloth(takings: Iterable[Taking]) -> dict[str, list[tuple[Order, Take]]]:
    found: dict[str, list[tuple[Order, Take]]] = {}
    for taking in takings:
        for take in taking.open_takes:
            found.setdefault(take.cloth, []).append((taking.order, take))
    return found


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


def _line(
    cloth: Cloth, wanted: tuple[Wanted, ...], here: int, *, shop: Shop, suppliers: list[Outside]
) -> Line:
    spoken_for = sum(each.length for each in wanted)
    facts = bolt_of(cloth, shop)
    buy = facts.to_buy(sum(each.new for each in wanted))
    by = min((each.by for each in wanted if each.by and each.new), default=None)
    order_by = last_safe_day(by, suppliers, today=shop.today()) if by else None
    line = Line(cloth, here, spoken_for, buy, facts.cost_of(buy), wanted, by, order_by)
    return _with_quarters(replace(line, is_beyond_the_sum=buy > facts.to_buy(max(0, spoken_for - here))))


def _with_quarters(line: Line) -> Line:
    """Name fat quarters where one quilt alone wants the cloth, or nothing lies here that two would share."""
    shares = len(line.wanted) > 1 and line.cloth.here
    if line.cost is None or shares or not all(each.quarters[0] for each in line.wanted):
        return line
    count = sum(each.quarters[0] for each in line.wanted)
    cost = Money(sum(each.quarters[1] for each in line.wanted), line.cost.currency)
    return replace(line, quarters=count, quarters_cost=cost) if cost.minor < line.cost.minor else line


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


def _dated(wanted: Iterable[Wanted], days: Mapping[str, Mapping[str, date]]) -> tuple[Wanted, ...]:
    dated = [replace(each, by=_here_by(each.roles, days.get(order_id(each.order), {}))) for each in wanted]
    return tuple(sorted(dated, key=lambda one: (one.by or date.max, one.order.number)))


def _here_by(roles: Iterable[str], days: Mapping[str, date]) -> date | None:
    """The day before the work that first takes one of the parts: it has to be washed and pressed."""
    kinds = [next((kind for kind in FIRST.get(role, ()) if kind in days), "") for role in roles]
    planned = [days[kind] for kind in kinds if kind]
    return min(planned) - timedelta(days=WASHED_AND_PRESSED) if planned else None


@transaction.atomic
def bought(cloth: Cloth, length: int, *, by: Person, client_id: str, lot: str = "") -> Event | None:
    """Put what was bought on the shelf, and set aside what agreed quilts take of it. The same tap is once.

    A dye lot that differs from the one on the shelf is written down, since it must not lie beside it.
    """
    tap, is_new = Tap.objects.get_or_create(client_id=client_id)
    if not is_new:
        return tap.deed
    now = Cloth.objects.select_for_update().get(pk=cloth.pk)
    piece = now.put_on_shelf(length, by=by, part=f"lot {lot}"[:40] if lot and lot != now.lot else "")
    _set_aside_for_who_waits(now)
    if lot and not now.lot:
        Cloth.objects.filter(pk=now.pk).update(lot=lot)
    tap.deed = Event.objects.note(
        "cloth bought", by=by, cloth=now.name, length=length, piece=piece.pk, lot=lot
    )
    tap.save(update_fields=["deed"])
    return tap.deed


def _set_aside_for_who_waits(cloth: Cloth) -> None:
    """Speak for what agreed quilts take of a cloth and was not set aside for them yet."""
    shop = Shop.objects.the()
    now = Cloth.objects.with_pieces().prefetch_related("reservations__order__stages").get(pk=cloth.pk)
    needs = _by_cloth(agreed_takings(shop, [now])).get(cloth.name, ()) if shop else ()
    for wanted in wanted_of(now, needs)[0]:
        if wanted.length > wanted.set_aside:
            speak_for(cloth, wanted.order, wanted.roles[0], wanted.length - wanted.set_aside)
