"""Who pays an order and in which shares: written down, changed, and never without anybody."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction

from orders.account.money import PAID_INTO
from orders.models import Customer, Event, Order, Payer, Person, Posting
from orders.models.people import fold_name


@dataclass(frozen=True)
class Joining:
    """Somebody who is to pay too; a customer of that name who is known is that customer."""

    name: str
    share: int
    phone: str = ""


class CannotLeave(Exception):
    """Shares that cannot stand; the message says why and what to do."""

    def __init__(self, sentence: str, *, payer: int | None = None) -> None:
        super().__init__(sentence)
        self.payer = payer


@transaction.atomic
def write_down(order: Order, shares: Mapping[int, int], *, joining: Joining | None, by: Person) -> None:
    """Set the shares of those who pay, by the number of the row; 0 pays no longer. The same again is once."""
    Order.objects.select_for_update().get(pk=order.pk)
    rows = list(order.payers.select_related("customer").order_by("pk"))
    told_before = [[each.customer_id, each.share] for each in rows]
    _refuse_nobody(rows, shares, joining)
    for each in rows:
        _set(each, shares.get(each.pk, each.share))
    if joining is not None:
        _let_join(order, joining)
    told = [list(each) for each in order.payers.order_by("pk").values_list("customer", "share")]
    if told != told_before:
        Event.objects.note("who pays", by=by, order=order, shares=told, before=told_before)


def _refuse_nobody(rows: list[Payer], shares: Mapping[int, int], joining: Joining | None) -> None:
    if joining is None and not any(shares.get(each.pk, each.share) for each in rows):
        raise CannotLeave("Somebody has to pay. Give at least one of them a share.")


def _set(payer: Payer, share: int) -> None:
    if share == 0:
        _refuse_who_has_paid(payer)
        payer.delete()
    elif share != payer.share:
        payer.share = share
        payer.save(update_fields=["share"])


def _refuse_who_has_paid(payer: Payer) -> None:
    paid = Posting.objects.filter(entry__order=payer.order_id).by_payer(PAID_INTO)
    if paid.get(payer.customer_id, 0):
        raise CannotLeave(
            f"{payer.customer} has paid some of it. Give that back first, or leave them a share.",
            payer=payer.pk,
        )


def _let_join(order: Order, joining: Joining) -> None:
    """Add somebody; who pays already only has the share changed, so that a form sent twice is once."""
    there = {fold_name(each.customer.name): each for each in order.payers.select_related("customer")}
    before = there.get(fold_name(joining.name))
    if before is not None:
        _set(before, joining.share)
        return
    Payer.objects.create(order=order, customer=_customer(joining), share=joining.share)


def _customer(joining: Joining) -> Customer:
    wanted = fold_name(joining.name)
    known = Customer.objects.filter(forgotten_at=None, name__icontains=joining.name.strip())
    found = [each for each in known.order_by("pk") if fold_name(each.name) == wanted]
    return found[0] if found else Customer.objects.create(name=joining.name, phone=joining.phone)
