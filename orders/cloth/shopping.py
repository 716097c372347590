"""The shopping list over all orders: what they take and is not here, by when it is wanted, what it costs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from django.db import transaction

from orders.cloth.demand import speak_for
from orders.cloth.takes import FIRST, NONE, Take, Taking, agreed_takings, done_of, used_at
from orders.days.calendar import order_id
from orders.days.weeks import look_ahead
from orders.models import Cloth, Event, Order, Outside, Person, Reservation, Shop
from orders.models.event import Tap
from orders.planning import bolt_of
from planner import materials
from planner.units import Money

WITHOUT_A_SUPPLIER = 14  # days
WASHED_AND_PRESSED = 1  # days between the cloth's coming and the work

PARTS = {"cornerstone": "cornerstones", "frame": "strips round a shirt", "filler": "plain blocks",
         "sleeve": "sleeve and label", Reservation.AGAIN: "a piece cut again"}  # fmt: skip
NOTHING = Take("", (), 0, 0)


@dataclass(frozen=True)
class Wanted:
    """What one order wants of a cloth: as what, how much, how much of it is set aside, the day it is due.

    `buy` is what its own cut plan buys beside what lies free for it, in steps; `quarters` is how many fat
    quarters would do for less, and their price in minor units. What narrower pieces give is not in it.
    """

    order: Order
    roles: tuple[str, ...]
    length: int
    set_aside: int
    buy: int = 0
    by: date | None = None
    quarters: tuple[int, int] = NONE

    @property
    def parts(self) -> str:
        """Say what it is for."""
        return ", ".join(PARTS.get(role, role) for role in self.roles)


@dataclass(frozen=True)
class Line:
    """One cloth of the list. Lengths in ticks; `buy` is in whole steps, `order_by` the last safe day.

    `quarters` fat quarters do in its place and cost `quarters_cost`, which is less; 0 where they do not.
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
    found = [(cloth, *_wanted(cloth, needs.get(cloth.name, ()))) for cloth in shelf]
    short = [each for each in found if _missing(each[1], each[2], bolt_of(each[0], shop))]
    reckoned = tuple(each.order for each in takings if not (each.is_of_now or each.failed))
    unserved = tuple(each.order for each in takings if each.failed)
    if not short:
        return ShoppingList((), None, reckoned, unserved)
    days = _days_of_work(shop)
    suppliers = list(Outside.objects.in_use().filter(kind=Outside.Kind.SUPPLIER))
    lines = [
        _line(cloth, _dated(wanted, days), here, shop=shop, suppliers=suppliers)
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
    buy = facts.to_buy(_missing(wanted, here, facts))
    by = min((each.by for each in wanted if each.by), default=None)
    order_by = last_safe_day(by, suppliers, today=shop.today()) if by else None
    line = Line(cloth, here, spoken_for, buy, facts.cost_of(buy), wanted, by, order_by)
    return _with_quarters(line)


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


def _wanted(cloth: Cloth, needs: Iterable[tuple[Order, Take]]) -> tuple[list[Wanted], int]:
    """Return what each order wants of a cloth, and how much of it lies here for that.

    What was set aside for work that is done is gone, though nobody wrote it off: it is not here, and it is
    not bought again.
    """
    kept: dict[int, list[Reservation]] = {}
    here = cloth.on_hand
    for each in (one for one in cloth.reservations.all() if one.is_open):
        used = used_at((each.role,), done_of(each.order))
        if used is not None and each.made_at <= used:
            here -= each.length
        else:
            kept.setdefault(each.order_id, []).append(each)
    taken = {order.pk: (order, take) for order, take in needs}
    found, narrow = [], cloth.narrow
    for key in dict.fromkeys([*kept, *taken]):
        mine = kept.get(key, [])
        order, take = taken.get(key) or (mine[0].order, NOTHING)
        if take.narrow > narrow:  # another quilt takes of the same narrow pieces
            take = replace(take, narrow=0)
        narrow -= take.narrow
        found.append(_wanted_by(order, take, mine))
    return [each for each in found if each.length], max(0, here)


def _wanted_by(order: Order, take: Take, mine: Sequence[Reservation]) -> Wanted:
    """What was set aside is part of what the quilt takes; what is cut a second time comes on top."""
    again = sum(one.length for one in mine if one.role == Reservation.AGAIN)
    kept = sum(one.length for one in mine) - again
    roles = dict.fromkeys([*take.roles, *(one.role for one in mine)])
    length = max(0, max(kept, take.length) - take.narrow) + again
    set_aside = max(0, kept - take.narrow) + again
    quarters = NONE if again else take.quarters
    return Wanted(order, tuple(roles), length, set_aside, buy=take.buy, quarters=quarters)


def _missing(wanted: Iterable[Wanted], here: int, facts: materials.Cloth) -> int:
    """Return the length that has to be new, in ticks: who wants it first takes of what lies here.

    A remnant seldom gives whole strips to its end, so a quilt for which its own plan buys some takes that
    much, and one that comes after another to what is left of it takes all of its length off the bolt.
    """
    left, new = here, 0
    for each in sorted(wanted, key=lambda one: (one.by or date.max, one.order.number)):
        more = max(0, each.length - left)
        if each.buy:
            more = max(more, min(each.length, facts.gives(each.buy)))
        elif more and left < here and each.length > each.set_aside:
            more = each.length
        new, left = new + more, max(0, left - (each.length - more))
    return new


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
    for wanted in _wanted(now, needs)[0]:
        if wanted.length > wanted.set_aside:
            speak_for(cloth, wanted.order, wanted.roles[0], wanted.length - wanted.set_aside)
