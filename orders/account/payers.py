"""Who pays an order, a share or a set amount: written down, changed, and never without anybody."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction

from orders.account.money import PAID_INTO
from orders.account.portions import who_pays
from orders.models import Customer, Event, Order, Payer, Person, Posting
from orders.models.people import fold_name


@dataclass(frozen=True)
class Joining:
    """Somebody who is to pay too, a share or a set amount; who is known by that name is that customer."""

    name: str
    share: int = 1
    phone: str = ""
    set_amount: int = 0


class CannotLeave(Exception):
    """Shares that cannot stand; the message says why and what to do."""

    def __init__(self, sentence: str, *, payer: int | None = None) -> None:
        super().__init__(sentence)
        self.payer = payer


@transaction.atomic
def write_down(
    order: Order,
    shares: Mapping[int, int],
    *,
    joining: Joining | None,
    by: Person,
    amounts: Mapping[int, int] | None = None,
) -> None:
    """Set what those pay who pay, by the number of the row: a share, 0 for who pays no longer, or an amount.

    Set amounts, in minor units, come off first; those that are not named fall away. The same again is once.
    """
    now = Order.objects.select_for_update().get(pk=order.pk)
    rows = list(now.payers.select_related("customer").order_by("pk"))
    told_before = [list(each) for each in who_pays(now)]
    for each in rows:
        _set(each, shares.get(each.pk, each.share), (amounts or {}).get(each.pk, 0))
    if joining is not None:
        _let_join(now, joining)
    told = [list(each) for each in who_pays(now)]
    _refuse_nobody(told)
    if told != told_before:
        Event.objects.note("who pays", by=by, order=order, shares=told, before=told_before)


def _refuse_nobody(told: list[list[int]]) -> None:
    """Refuse what leaves the rest to nobody; what was written before is undone with the transaction."""
    if not told:
        raise CannotLeave("Somebody has to pay. Give at least one of them a share.")
    if all(amount for _, _, amount in told):
        raise CannotLeave(
            "Somebody has to pay what the set amounts leave. Give at least one of them a share."
        )


def _set(payer: Payer, share: int, amount: int) -> None:
    if share == 0:
        _refuse_who_has_paid(payer)
        payer.delete()
    elif (share, amount) != (payer.share, payer.set_amount):
        payer.share, payer.set_amount = share, amount
        payer.save(update_fields=["share", "set_amount"])


def _refuse_who_has_paid(payer: Payer) -> None:
    paid = Posting.objects.filter(entry__order=payer.order_id).by_payer(PAID_INTO)
    if paid.get(payer.customer_id, 0):
        raise CannotLeave(
            f"{payer.customer} has paid some of it. Give that back first, or leave them a share.",
            payer=payer.pk,
        )


def _let_join(order: Order, joining: Joining) -> None:
    """Add somebody; who pays already only has the part changed, so that a form sent twice is once."""
    there = {fold_name(each.customer.name): each for each in order.payers.select_related("customer")}
    before = there.get(fold_name(joining.name))
    if before is not None:
        _set(before, joining.share, joining.set_amount)
        return
    Payer.objects.create(
        order=order, customer=_customer(joining), share=joining.share, set_amount=joining.set_amount
    )


def _customer(joining: Joining) -> Customer:
    wanted = fold_name(joining.name)
    known = Customer.objects.filter(forgotten_at=None, name__icontains=joining.name.strip())
    found = [each for each in known.order_by("pk") if fold_name(each.name) == wanted]
    return found[0] if found else Customer.objects.create(name=joining.name, phone=joining.phone)
