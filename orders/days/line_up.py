"""The quilts in the shop, lined up: next to leave, days on which several leave, later."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from orders.customer.telling import Left, State, left_of, state_of
from orders.days.calendar import order_id
from orders.days.weeks import Demand, Week
from orders.models import Order

SOON = 28  # days


@dataclass(frozen=True)
class Card:
    """One order as the list shows it; `bench_days` is its work in days of this shop's bench."""

    order: Any
    state: State
    left: Left
    bench_days: float

    @property
    def shows_gauge(self) -> bool:
        """A memorial is not measured against a day that is past."""
        days = self.left.days
        return days is not None and not (self.order.memorial and days < self.bench_days)


@dataclass(frozen=True)
class Bundle:
    """Orders that are wanted on the same day, and the week of their work where that is over."""

    day: date
    cards: tuple[Card, ...]
    tight: Week | None

    @property
    def place(self) -> str:
        """The place they share, if they do."""
        places = {card.order.place for card in self.cards}
        return places.pop() if len(places) == 1 else ""


@dataclass(frozen=True)
class LineUp:
    """What the list of quilts shows, group by group."""

    soon: tuple[Card, ...]
    bundles: tuple[Bundle, ...]
    later: tuple[Card, ...]


def line_up(orders: Iterable[Any], demand: Demand, *, today: date, minutes_a_day: float) -> LineUp:
    """Return the orders in their groups, the soonest first."""
    cards = [card_of(order, today=today, minutes_a_day=minutes_a_day) for order in orders]
    shared = _days_shared(cards, today)
    alone = [card for card in cards if card.order.needed_by not in shared or not _moves(card)]
    return LineUp(
        soon=tuple(card for card in alone if _is_soon(card)),
        bundles=tuple(
            Bundle(day, tuple(shared[day]), week_over(demand, shared[day])) for day in sorted(shared)
        ),
        later=tuple(card for card in alone if not _is_soon(card)),
    )


def card_of(order: Any, *, today: date, minutes_a_day: float) -> Card:
    """Return one order as the list shows it."""
    left = left_of(order, today=today)
    return Card(order, state_of(order, today=today), left, left.minutes / minutes_a_day)


def week_over(demand: Demand, cards: Iterable[Card]) -> Week | None:
    """Return the first week by which work on these must be done and more is wanted than it holds.

    With the days kept free, work on what is wanted on a Monday must be done the week before.
    """
    these = {order_id(card.order) for card in cards}
    days = {demand.work.date_of(max(0, due.day)) for due in demand.work.dues if due.order in these}
    mondays = {day - timedelta(days=day.weekday()) for day in days}
    return next((week for week in demand.weeks if week.monday in mondays and week.over), None)


def _days_shared(cards: list[Card], today: date) -> dict[date, list[Card]]:
    by_day: dict[date, list[Card]] = defaultdict(list)
    for card in cards:
        if card.order.needed_by and card.order.needed_by >= today and _moves(card):
            by_day[card.order.needed_by].append(card)
    return {day: found for day, found in by_day.items() if len(found) > 1}


def _moves(card: Card) -> bool:
    return card.order.paused_at is None and not card.order.memorial


def _is_soon(card: Card) -> bool:
    return card.left.days is not None and card.left.days <= SOON and card.order.paused_at is None


def garments_in_care(orders: Iterable[Order]) -> int:
    """Return how many garments of these orders are in the shop."""
    return sum(getattr(order, "shirts_here", 0) for order in orders)
