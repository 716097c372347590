"""What a customer's link opens: her order, to her alone, and one answer to all who hold no open link."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import wraps
from typing import Any, TypeVar

from django.conf import settings
from django.core import signing
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.template.loader import render_to_string

from orders.customer import for_you, people
from orders.models import Link, Shop
from orders.models.for_you import QUIET, order_opened_by

Response = TypeVar("Response", bound=HttpResponseBase)
COOKIE = "__Host-for-you" if settings.BEHIND_HTTPS else "for-you"
SALT = "for-you"


def for_her(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Hand the shop and the order that her link opens to the view; a link that opens none is closed."""

    @wraps(view)
    def inside(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        shop, order = opened(request)
        return closed() if order is None else view(request, shop, order, *args, **kwargs)

    return inside


def opened(request: HttpRequest) -> tuple[Any, Any]:
    """Return the shop and the order of this cookie's link, if it still opens one."""
    shop = Shop.objects.the()
    try:
        link = signing.loads(request.COOKIES.get(COOKIE, ""), salt=SALT)
    except signing.BadSignature:
        return shop, None
    if shop is None:
        return None, None
    order = order_opened_by(link, on=shop.today())
    if order is not None and people.is_kept_from(order, for_you.seat_at(order), on=shop.today()):
        return shop, None
    return shop, order


def is_kept_back(link: Link, *, on: date) -> bool:
    """Say whether a link that is open leads to what is still a surprise for whoever holds it."""
    order: Any = link.order
    payers = order.payers.order_by("pk").values_list(
        "customer", "customer__name", "share", "set_amount", QUIET
    )
    return people.is_kept_from(order, people.seat_of(order, link.to, list(payers)), on=on)


def closed() -> HttpResponse:
    """The one answer to unknown, expired and closed links: the same words, the same bytes."""
    return privately(HttpResponse(render_to_string("for_you/closed.html"), status=404))


def privately(response: Response) -> Response:
    """Let nobody keep, find or hear of it.

    A page with a form says same-origin instead of no-referrer: browsers would send its form without
    an origin, and the form would be refused. Other sites hear nothing either way.
    """
    response.headers["Cache-Control"] = "no-store"
    response.headers.setdefault("Referrer-Policy", "no-referrer")
    response.headers["X-Robots-Tag"] = "noindex, nofollow"
    return response
