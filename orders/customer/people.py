"""The people round an order: who pays, who decides, who gets it, who collects it, and what each may see."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import transaction

from orders.models import Event, Order, Person
from orders.models.people import fold_name
from planner.price import Portion


@dataclass(frozen=True)
class Seat:
    """Whom a link was given to. `shares` are what all payers pay, in their order, `mine` the place of hers.

    One link may be several of these at once: an aunt who ordered it, pays for it and decides.
    `quiet_until` is the day before which nothing may reach them at all.
    """

    name: str
    pays: bool
    decides: bool
    receives: bool = False
    collects: bool = False
    shares: tuple[Portion, ...] = ()
    mine: int | None = None
    customer: int | None = None
    quiet_until: date | None = None

    @property
    def pays_a_part(self) -> bool:
        """Say whether others pay too, so that her part is told and nobody else's."""
        return self.mine is not None and len(self.shares) > 1

    @property
    def sees_money(self) -> bool:
        return self.pays

    @property
    def sees_the_quilt(self) -> bool:
        """Whoever only collects it is told the day, and shown nothing of the quilt."""
        return self.pays or self.decides or self.receives

    @property
    def receives_only(self) -> bool:
        """Say whether nothing is told but what somebody who is given a quilt may know."""
        return not (self.pays or self.decides)


def seat_of(order: Any, name: str, payers: Sequence[Sequence[Any]]) -> Seat:
    """Return what a link to `name` is, without one the customer's.

    Each payer: customer, name, share, set amount, day of a surprise.
    """
    whole = fold_name(name or order.customer.name)
    is_customer = whole == fold_name(order.customer.name)
    places = [number for number, each in enumerate(payers) if fold_name(str(each[1])) == whole]
    mine = places[0] if places else None
    return Seat(
        name=name or order.customer.name,
        pays=mine is not None or (is_customer and not payers),
        decides=whole == fold_name(order.approver),
        receives=whole == fold_name(order.recipient) or is_customer,
        collects=whole == fold_name(order.collector),
        shares=tuple(Portion(int(each[2]), int(each[3])) for each in payers),
        mine=mine,
        customer=int(payers[mine][0]) if mine is not None else None,
        quiet_until=order.customer.keep_quiet_until if is_customer else _quiet_day(payers, mine),
    )


def _quiet_day(payers: Sequence[Sequence[Any]], mine: int | None) -> date | None:
    """Return the day before which nothing may reach one of the payers; it may come as it is written."""
    day = payers[mine][4] if mine is not None else None
    return date.fromisoformat(day) if isinstance(day, str) else day


def is_kept_from(order: Any, seat: Seat, *, on: date) -> bool:
    """Say whether it is a surprise for whoever holds this link.

    Of a quilt that is a surprise for its recipient, whoever pays or decides knows; a day written down for a
    customer keeps everything from them, whatever their part in it.
    """
    if seat.quiet_until is not None and seat.quiet_until > on:
        return True
    if order.secret_until is None or order.secret_until <= on or seat.pays or seat.decides:
        return False
    return fold_name(seat.name) == fold_name(order.recipient)


def names_on(order: Order) -> list[str]:
    """Return everybody a link may be given to, the customer first."""
    payers = [each.customer.name for each in order.payers.select_related("customer").order_by("pk")]
    every = [order.customer.name, *payers, order.approver, order.recipient, order.collector]
    found: dict[str, str] = {}
    for name in filter(None, every):
        found.setdefault(fold_name(name), name)
    return list(found.values())


@transaction.atomic
def write_down(order: Order, *, by: Person, **said: Any) -> None:
    """Keep who is who and what may be shown; what is as it was is not written again."""
    now = Order.objects.select_for_update().get(pk=order.pk)
    changed = {name: value for name, value in said.items() if getattr(now, name) != value}
    if not changed:
        return
    for name, value in changed.items():
        setattr(now, name, value)
    if "label_words" in changed:
        now.label_by = by.name
        changed["label_by"] = by.name
    now.save(update_fields=list(changed))
    facts = {name: str(value or "") for name, value in changed.items()}
    Event.objects.note("people written down", by=by, order=now, **{"said": facts})
