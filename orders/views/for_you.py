"""The customer's page: a link exchanged for a cookie, and what she answers. Looking changes nothing."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime, time
from typing import Any, TypeVar
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core import signing
from django.core.cache import cache
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.template.loader import render_to_string
from django.views.decorators.http import require_POST, require_safe

from orders import agreeing, for_you
from orders.forms.for_you import AnswerForm, WishForm
from orders.models import CannotAccept, Link, Photo, Shop
from orders.models.for_you import order_opened_by
from orders.models.photo import SIZES
from orders.views.callers import ANYONE, open_to
from orders.views.photos import answer

Response = TypeVar("Response", bound=HttpResponseBase)
COOKIE = "__Host-for-you" if settings.BEHIND_HTTPS else "for-you"
PATH = "/" if settings.BEHIND_HTTPS else "/for-you/"
SALT = "for-you"
MOST_WRONG, WINDOW = 20, 60


@require_safe
@open_to(ANYONE)
def open_link(request: HttpRequest, token: str) -> HttpResponse:
    """Exchange a token for a cookie and a clean address; a wrong one is never told from a closed one."""
    shop = Shop.objects.the()
    link = None
    if shop is not None and not too_many_wrong(request):
        link = Link.objects.opened_by(token, on=shop.today())
        if link is None:
            note_wrong(request)
    if shop is None or link is None:
        return closed()
    response = redirect("for-you")
    expires = datetime.combine(link.until, time.max, ZoneInfo(shop.time_zone))
    response.set_cookie(
        COOKIE,
        signing.dumps(link.pk, salt=SALT),
        expires=expires,
        path=PATH,
        secure=settings.BEHIND_HTTPS,
        httponly=True,
        samesite="Lax",
    )
    return privately(response)


@require_safe
@open_to(ANYONE)
def page(request: HttpRequest) -> HttpResponse:
    return show(request)


def show(request: HttpRequest, *, status: int = 200, **forms: Any) -> HttpResponse:
    shop, order = opened(request)
    if order is None:
        return closed()
    shown = for_you.page_of(order, shop)
    number = shown.price.number if shown.price else order.asked
    context = {
        "order": order,
        "shop": shop,
        "today": shop.today(),
        "page": shown,
        "asked_picture": for_you.asked_picture(order) if shown.picture else "",
        "yes_of": f"This yes is for {order.approver} to give.",
        "answer_form": AnswerForm(initial={"number": number}),
        "wish_form": WishForm(initial={"number": order.asked}, prefix="wish"),
        **forms,
    }
    response = render(request, "for_you/page.html", context, status=status)
    response.headers["Referrer-Policy"] = "same-origin"
    return privately(response)


@require_POST
@open_to(ANYONE)
def price(request: HttpRequest) -> HttpResponse:
    return take(request, for_you.say_yes_to_price, AnswerForm(request.POST), "answer_form")


@require_POST
@open_to(ANYONE)
def picture(request: HttpRequest) -> HttpResponse:
    return take(request, for_you.say_yes_to_picture, AnswerForm(request.POST), "answer_form")


@require_POST
@open_to(ANYONE)
def wish(request: HttpRequest) -> HttpResponse:
    return take(request, for_you.wish, WishForm(request.POST, prefix="wish"), "wish_form")


def take(request: HttpRequest, deed: Any, form: AnswerForm, name: str) -> HttpResponse:
    """Do what was answered, or bring the page back with what is in the way."""
    _, order = opened(request)
    if order is None:
        return closed()
    if not form.is_valid():
        return show(request, status=422, **{name: form})
    try:
        deed(order, **form.cleaned_data)
    except agreeing.NotTheirs as fault:
        form.add_error("name", str(fault))
        return show(request, status=422, **{name: form})
    except (for_you.TooLate, CannotAccept) as fault:
        return show(request, status=409, refused=str(fault))
    return privately(redirect("for-you"))


@require_safe
@open_to(ANYONE)
def photo(request: HttpRequest, number: int, size: int) -> HttpResponseBase:
    _, order = opened(request)
    if order is None or size not in SIZES:
        raise Http404
    return privately(answer(request, get_object_or_404(Photo.objects.of(order), pk=number), size))


def opened(request: HttpRequest) -> tuple[Any, Any]:
    """Return the shop and the order of this cookie's link, if it still opens one."""
    shop = Shop.objects.the()
    try:
        link = signing.loads(request.COOKIES.get(COOKIE, ""), salt=SALT)
    except signing.BadSignature:
        return shop, None
    return shop, order_opened_by(link, on=shop.today()) if shop else None


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


def too_many_wrong(request: HttpRequest) -> bool:
    return int(cache.get(_wrong(request), 0)) >= MOST_WRONG


def note_wrong(request: HttpRequest) -> None:
    cache.add(_wrong(request), 0, WINDOW)
    with suppress(ValueError):  # the minute may end between the two
        cache.incr(_wrong(request))


def _wrong(request: HttpRequest) -> str:
    return f"wrong-links-{request.META.get('REMOTE_ADDR', '')}"
