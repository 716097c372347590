"""The customer's page: a link exchanged for a cookie, and what she answers. Looking changes nothing."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime, time
from typing import Any
from zoneinfo import ZoneInfo

from django.conf import settings
from django.core import signing
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders.account import agreeing
from orders.customer import for_you, her_money
from orders.door import came_from
from orders.forms.for_you import AnswerForm, LabelForm, PictureAnswerForm, PriceAnswerForm, WishForm
from orders.models import CannotAccept, Link, Shop
from orders.views.callers import ANYONE, open_to
from orders.views.her_link import COOKIE, SALT, closed, for_her, is_kept_back, privately
from orders.yes import her_picture
from orders.yes.yes_to_picture import TooLate

PATH = "/" if settings.BEHIND_HTTPS else "/for-you/"
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
        elif is_kept_back(link, on=shop.today()):
            link = None
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


@for_her
def show(request: HttpRequest, shop: Shop, order: Any, *, status: int = 200, **forms: Any) -> HttpResponse:
    shown = for_you.page_of(order, shop)
    if shown.wants == "picture":
        forms = her_picture.shown_to_her(order, shop, request.GET) | forms
    context = {
        "order": order,
        "shop": shop,
        "today": shop.today(),
        "page": shown,
        "answer_form": price_form(order, initial={"number": shown.price.number if shown.price else None}),
        "label_form": LabelForm(initial={"words": order.label_words}),
        "picture_form": picture_form(order, initial={"number": order.asked}),
        "wish_form": WishForm(initial={"number": order.asked}, prefix="wish"),
        **forms,
    }
    response = render(request, "for_you/page.html", context, status=status)
    response.headers["Referrer-Policy"] = "same-origin"
    return privately(response)


@require_POST
@open_to(ANYONE)
@for_her
def price(request: HttpRequest, shop: Shop, order: Any) -> HttpResponse:
    form = price_form(order, request.POST)
    return take(request, order, her_money.say_yes_to_price, form, name="answer_form")


@require_POST
@open_to(ANYONE)
@for_her
def picture(request: HttpRequest, shop: Shop, order: Any) -> HttpResponse:
    form = picture_form(order, request.POST)
    return take(request, order, her_picture.say_yes, form, name="picture_form")


def price_form(order: Any, *args: Any, **kwargs: Any) -> PriceAnswerForm:
    """Return the form of her yes to the price; a link with a name on it needs no typing."""
    return PriceAnswerForm(*args, known=order.link_to, **kwargs)


def picture_form(order: Any, *args: Any, **kwargs: Any) -> PictureAnswerForm:
    """Return the form of her yes to the picture."""
    asks = her_picture.asks_to_move(order)
    return PictureAnswerForm(*args, approver=order.approver, asks_to_move=asks, **kwargs)


@require_POST
@open_to(ANYONE)
@for_her
def wish(request: HttpRequest, shop: Shop, order: Any) -> HttpResponse:
    form = WishForm(request.POST, prefix="wish")
    return take(request, order, her_picture.wish, form, name="wish_form")


def take(request: HttpRequest, order: Any, deed: Any, form: AnswerForm, *, name: str) -> HttpResponse:
    """Do what was answered, or bring the page back with what is in the way."""
    if not form.is_valid():
        return show(request, status=422, **{name: form})
    try:
        deed(order, **form.cleaned_data)
    except agreeing.NotTheirs as fault:
        form.add_error("name", str(fault))
        return show(request, status=422, **{name: form})
    except CannotAccept as fault:
        return show(request, status=409, refused=str(fault))
    except TooLate as fault:
        return show(request, status=409, refused=str(fault), **{name: of_the_newest(form, order)})
    return privately(redirect("for-you"))


def of_the_newest(form: AnswerForm, order: Any) -> AnswerForm:
    """Let an answer that came too late speak of what is asked now; nothing that was typed is lost."""
    form.data = dict(form.data.items()) | {form.add_prefix("number"): str(order.asked or "")}
    return form


def too_many_wrong(request: HttpRequest) -> bool:
    return int(cache.get(_wrong(request), 0)) >= MOST_WRONG


def note_wrong(request: HttpRequest) -> None:
    cache.add(_wrong(request), 0, WINDOW)
    with suppress(ValueError):  # the minute may end between the two
        cache.incr(_wrong(request))


def _wrong(request: HttpRequest) -> str:
    return f"wrong-links-{came_from(request)}"
