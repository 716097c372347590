"""The customer's private link: given out, shown once, closed."""

from __future__ import annotations

from datetime import date, timedelta

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders.account.money import the_shop
from orders.customer import people
from orders.customer.reach import can_be_reached
from orders.models import Link, Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell

OPEN_FOR = timedelta(days=120)


@require_POST
@open_to(OWNER)
def link(request: SignedIn, number: int) -> HttpResponse:
    order, by = get_object_or_404(Order, number=number), request.user
    if not can_be_reached():
        return account.page(request, number, status=409, refused=NOT_FROM_OUTSIDE)
    to = request.POST.get("to", "") or order.customer.name
    if to not in people.names_on(order):
        return account.page(request, number, status=422, refused=f"{to} is not on this order.")
    if people.is_kept_from(order, people.seat_of(order, to, payers_of(order)), on=the_shop().today()):
        return account.page(request, number, status=409, refused=STILL_A_SECRET)
    day = max(the_shop().today(), order.needed_by or the_shop().today())
    _, token = Link.objects.give_out(order, until=day + OPEN_FOR, by=by, to=to)
    # Kept in the session only until the next page has shown it; the record has its hash alone.
    request.session["link given out"] = f"{settings.ADDRESS}{reverse('for-you-open', args=[token])}"
    return redirect(f"{reverse('order-account', args=[number])}#link")


@require_POST
@open_to(OWNER)
def closing(request: SignedIn, number: int, pk: int) -> HttpResponse:
    by = request.user
    get_object_or_404(Link, pk=pk, order__number=number).revoke(by=by)
    tell(request, "The link is closed. Whoever has it sees only that it is closed.")
    return redirect("order-account", number)


def payers_of(order: Order) -> list[tuple[int, str, int, int, date | None]]:
    """Return who pays, as written down: customer, name, share, set amount and day of a surprise."""
    rows = order.payers.select_related("customer").order_by("pk")
    return [
        (each.customer_id, each.customer.name, each.share, each.set_amount, each.customer.keep_quiet_until)
        for each in rows
    ]


STILL_A_SECRET = "It is still a secret from them. Take the day out first, or wait for it."
NOT_FROM_OUTSIDE = (
    "Nobody outside can open the shop’s address, so a link would lead nowhere. "
    "Send the paper or the words instead."
)
