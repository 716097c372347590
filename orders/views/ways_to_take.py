"""The Account room: the ways an order can be taken, looked for in the background, and one of them chosen."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from orders.account import quoting, ways_to_take
from orders.account.chosen_way import WAYS, choose
from orders.models import Order, Shop
from orders.templatetags.ways import shown_ways
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell


@require_POST
@open_to(OWNER)
@in_the_shop
def look(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Begin to look for the ways of an order."""
    ways_to_take.look(get_object_or_404(Order, number=number), shop)
    return to_the_ways(number)


@require_safe
@open_to(OWNER)
@in_the_shop
def progress(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Tell the ways found so far; the list asks again for itself until all are found."""
    order = get_object_or_404(Order, number=number)
    if not request.htmx:  # type: ignore[attr-defined]
        return to_the_ways(number)
    shown = shown_ways(order, shop)
    if shown["search"] is None or shown["search"].is_open:
        return render(request, "account/ways.html", shown)
    return render(request, "account/ways_told.html", shown | {"now": price_now(order, shop)})


def price_now(order: Order, shop: Shop) -> quoting.Prospect | None:
    """Return the price with its day as it is to be told now; None while none can be or one is agreed."""
    try:
        return None if order.accepted_at else quoting.prospect(order, shop)
    except quoting.CannotQuote:
        return None


@require_POST
@open_to(OWNER)
@in_the_shop
def ending(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Stop looking; what was found stays."""
    search = ways_to_take.search_of(get_object_or_404(Order, number=number), shop)
    if search is not None and search.is_open:
        search.ask_to_stop()
    tell(request, "Stopped. What was found stays.")
    return to_the_ways(number)


@require_POST
@open_to(OWNER)
@in_the_shop
def choice(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Take the order this way from its next quote on."""
    order = get_object_or_404(Order, number=number)
    way = request.POST.get("way", "")
    if way not in WAYS:
        tell(request, "That way is not on offer any more. Look again.")
        return to_the_ways(number)
    choose(order, way, by=request.user)
    tell(request, f"{ways_to_take.NAMES[way]}: the next quote carries it.")
    return to_the_ways(number)


def to_the_ways(number: int) -> HttpResponse:
    """Go back to the list of ways."""
    return redirect(f"{reverse('order-account', args=[number])}#ways")
