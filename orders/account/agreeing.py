"""A yes to the price: the quote stands, its charge is owed, the work is laid out for the day planned."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from orders import planning
from orders.account import money
from orders.models import CannotAccept, Order, Person, Quote
from orders.models.people import fold_name
from orders.quilt.quilt_looks import quilt_of
from orders.templatetags.shop import money as written
from planner.estimate import USUAL_SPREAD, StageMinutes


class NotTheirs(Exception):
    """A yes from somebody whose yes does not count here; the message says whose does."""


def name_among(names: Iterable[str], said: str) -> str:
    """Return the name as it stands on the order, however it was typed; NotTheirs when it is not there."""
    on_the_order = list(names)
    found = next((name for name in on_the_order if fold_name(name) == fold_name(said)), None)
    if found is None:
        raise NotTheirs(f"This yes is for {' or '.join(on_the_order)} to give. Type that name.")
    return found


def accept(quote: Quote, *, said_by: str, how: str, by: Person | None) -> None:
    """Write down the yes to a quote with all that follows from it; a second time changes nothing."""
    shop, order = money.the_shop(), quote.order
    said_by = name_among(money.names_that_pay(order), said_by)
    drawn = quilt_of(order)
    with transaction.atomic():
        now = Order.objects.select_for_update().get(pk=order.pk)
        if now.cancelled_at is not None:
            raise CannotAccept("This order was called off. Open it again first.")
        if not quote.accept(by=said_by, how=how, on=shop.today(), written_by=by):
            return
        money.charge(quote, by=by)
        _refuse_less_than_was_paid(order, quote)
        _lay_out_work(order, quote, by=by)
        if quote.planned_for is not None:
            order.promise(quote.planned_for, by=by)
        if drawn is not None:
            planning.keep_blocks(order, drawn)


def _refuse_less_than_was_paid(order: Order, quote: Quote) -> None:
    owing = money.owing_of(order, deposit=quote.deposit)
    if owing.balance < 0:
        paid = written(owing.paid, money.the_shop())
        raise CannotAccept(f"{paid} is paid already, more than this quote asks. Take a payment back first.")


def _lay_out_work(order: Order, quote: Quote, *, by: Person | None) -> None:
    """What an earlier quote had laid out and this one has not is dropped unless it has begun."""
    wanted = {stage for stage, _ in quote.minutes}
    order.stages.to_do().filter(started_at=None, spent=0).exclude(kind__in=wanted).delete()
    minutes = [StageMinutes(stage, each, USUAL_SPREAD, 0) for stage, each in quote.minutes]
    planning.lay_out_work(order, minutes, by=by)
