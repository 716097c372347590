"""Words to a customer, drafted in the maker's tone from the record; she edits them and decides."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.template.loader import render_to_string

from orders.account import money
from orders.bag import bad_news
from orders.customer.sending import left_to_pay, plain, upper_first
from orders.customer.telling import open_quote, state_of, unanswered_picture
from orders.days.calendar import order_id
from orders.days.weeks import days_of_room, look_ahead
from orders.models import Incident, Order, Parcel, Shop

REMINDERS = ("yes", "price", "deposit", "balance")
WEEKS = 6
HELLO = "Hello"
TITLES = {
    "yes": "Yes to the picture", "price": "Yes to the price", "deposit": "Deposit", "ready": "It is ready",
    "balance": "Balance", "parcel": "It is on its way", "delay": "It takes longer", "own": "Your own words",
}  # fmt: skip


@dataclass(frozen=True)
class Draft:
    """One kind of words for an order. `rests` says why this kind is not sent for the asking just now."""

    kind: str
    title: str
    subject: str
    words: str
    rests: str = ""


def drafts_of(order: Any, shop: Shop) -> tuple[Draft, ...]:
    """Return the words there may be something to say with, the most pressing first; own words are last.

    `order` comes from `Order.objects.with_state()`.
    """
    rests = why_reminders_rest(order)
    told = [*_of_incidents(order, shop), *_of_state(order, shop)]
    return tuple(
        Draft(kind, title, subject_of(order), words, rests if kind in REMINDERS else "")
        for kind, title, words in told
    )


def subject_of(order: Order) -> str:
    """Return the line above words about an order: `Your pillow, No. 11`."""
    return f"{upper_first(order.your_thing)}, No. {order.number}"


def why_reminders_rest(order: Order) -> str:
    """Say why nothing is asked of this customer just now; nothing where it may be."""
    if order.memorial:
        return "In memory of somebody: nothing is asked for by itself. Send this only if it is welcome."
    open_incident = Incident.objects.filter(order=order, settled_at=None).first()
    if open_incident is not None:
        return f"{open_incident} is not settled. Talk about that first; reminders rest until then."
    return ""


def _of_incidents(order: Order, shop: Shop) -> Iterator[tuple[str, str, str]]:
    for incident in Incident.objects.of(order):
        if incident.needs_telling:
            words = f"{_hello(order, shop)}\n\n{bad_news.words_for(incident, shop)}\n\n{_bye(shop)}"
            yield f"damage {incident.pk}", f"Not right: {incident.name}", words


def _of_state(order: Any, shop: Shop) -> Iterator[tuple[str, str, str]]:
    for kind, facts in _occasions(order, shop):
        yield kind, TITLES[kind], written(kind, order, shop, **facts)


def _occasions(order: Any, shop: Shop) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield each kind of words the record gives an occasion for, with the facts they need."""
    today = shop.today()
    owing = money.owing_of(order)
    left = left_to_pay(order, owing)
    is_open = order.handed_over_at is None and order.cancelled_at is None
    is_ready = is_open and is_ready_to_leave(order, shop)
    quote = open_quote(order, today) if is_open else None
    if quote is not None and quote.standing(on=today) == "open":
        yield "price", {"quote": quote}
    if is_open and unanswered_picture(order) is not None:
        yield "yes", {"room": room_of(order, shop)}
    if is_ready:
        yield "ready", {"left": left}
    first = min(owing.deposit_left, left)
    if first > 0 and is_open and not is_ready:
        yield "deposit", {"first": first}
    elif left > 0 and (is_ready or order.handed_over_at is not None):
        yield "balance", {"left": left}
    parcel = Parcel.objects.filter(order=order, sent_on__isnull=False, arrived_on=None).first()
    if parcel is not None:
        yield "parcel", {"parcel": parcel}
    if is_open and order.promised_for and not is_ready:
        yield "delay", {"day": later_day(order, shop)}
    yield "own", {}


def is_ready_to_leave(order: Any, shop: Shop) -> bool:
    """Say whether all of its work is done and it is still here."""
    return state_of(order, today=shop.today()).words.startswith("Ready to ")


def room_of(order: Order, shop: Shop) -> int | None:
    """Return the days an answer may still take without moving the day it is ready; None where not known."""
    if order.memorial:
        return None
    return days_of_room(look_ahead(shop, today=shop.today(), weeks=WEEKS), order_id(order))


def later_day(order: Order, shop: Shop) -> date | None:
    """Return the day the plan has it ready, where that is after the day planned for; None where it is not."""
    ahead = look_ahead(shop, today=shop.today(), weeks=WEEKS)
    finish = ahead.table.finish.get(order_id(order))
    ready = shop.today() + timedelta(days=finish) if finish is not None else None
    return ready if ready and order.promised_for and ready > order.promised_for else None


def written(kind: str, order: Order, shop: Shop, **facts: Any) -> str:
    """Return the words of one kind, with the shop's own greeting and name."""
    facts |= {"order": order, "shop": shop, "today": shop.today()}
    facts |= {"hello": _hello(order, shop), "bye": _bye(shop)}
    return plain(render_to_string(f"words/{kind}.txt", facts).strip())


def _hello(order: Order, shop: Shop) -> str:
    return f"{shop.words.get('hello') or HELLO} {order.customer.name},"


def _bye(shop: Shop) -> str:
    return str(shop.words.get("bye") or shop.name)
