"""A yes to the price: the quote stands, its charge is owed, the work is laid out for the day planned."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction

from orders import planning
from orders.account import money, told_together
from orders.cloth import takes
from orders.models import CannotAccept, Order, Person, Quote
from orders.models.people import fold_name
from orders.quilt.quilt_looks import quilt_of
from orders.templatetags.shop import money as written
from planner.estimate import USUAL_SPREAD, StageMinutes
from planner.quilt import Quilt


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
    """Write down the yes to a quote, and to all told together with it, with what follows from it.

    A second time changes nothing.
    """
    told = quote.all_told()
    said_by = name_among(names_for(told), said_by)
    drawn = [quilt_of(each.order) for each in told]
    with transaction.atomic():
        told_together.refuse_what_was_called_off(told_together.lock(each.order for each in told))
        for each, quilt in zip(told, drawn, strict=True):
            _take_one(each, quilt, said_by=said_by, how=how, by=by)


def names_for(told: Iterable[Quote]) -> list[str]:
    """Return whose yes counts for all that is told together."""
    names = [money.names_that_pay(each.order) for each in told]
    return [name for name in names[0] if all(name in each for each in names)] if names else []


def _take_one(quote: Quote, quilt: Quilt | None, *, said_by: str, how: str, by: Person | None) -> None:
    order = quote.order
    if not quote.accept(by=said_by, how=how, on=money.the_shop().today(), written_by=by):
        return
    money.charge(quote, by=by)
    _refuse_less_than_was_paid(order, quote)
    _lay_out_work(order, quote, by=by)
    if quote.planned_for is not None:
        order.promise(quote.planned_for, by=by)
    if quilt is not None:
        planning.keep_blocks(order, quilt)
        takes.ask(order, money.the_shop())


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
