"""Weeks: what they hold, what fills them, and the days nobody works."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders.calendar import PENCILED, order_id
from orders.days_off import be_there, take_off
from orders.forms.weeks import DaysOffForm
from orders.models import DayOff, Enquiry, Order, Shop
from orders.telling import left_of
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.weeks import Ahead, free_in_months, look_ahead, month_in_words

WEEKS, MONTHS = 12, 3


@dataclass(frozen=True)
class Line:
    """One quilt, or one penciled place, in the weeks ahead."""

    order: Order | None
    enquiry: Enquiry | None
    minutes: int
    ready: date | None
    wanted: date | None

    @property
    def is_late(self) -> bool:
        return bool(self.ready and self.wanted and self.ready > self.wanted)


@require_safe
@open_to(OWNER)
@in_the_shop
def weeks(request: SignedIn, shop: Shop) -> HttpResponse:
    return render(request, "weeks/page.html", weeks_page(shop, DaysOffForm(today=shop.today())))


@require_POST
@open_to(OWNER)
@in_the_shop
def days_off(request: SignedIn, shop: Shop) -> HttpResponse:
    form = DaysOffForm(request.POST, today=shop.today())
    if not form.is_valid():
        return render(request, "weeks/page.html", weeks_page(shop, form), status=422)
    said = form.cleaned_data
    new = take_off(said["first"], said["last"], person=form.who, words=said["words"], by=request.user)
    tell(
        request,
        f"{new} day{'' if new == 1 else 's'} off. The plan works around {'it' if new == 1 else 'them'}.",
    )
    return redirect("weeks")


@require_POST
@open_to(OWNER)
@in_the_shop
def day_on(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    off = DayOff.objects.select_related("person").filter(pk=pk).first()
    if off is not None:
        be_there(off, by=request.user)
        tell(request, "At the bench that day after all.")
    return redirect("weeks")


def weeks_page(shop: Shop, form: DaysOffForm) -> dict[str, Any]:
    """Return what Weeks shows."""
    today = shop.today()
    ahead = look_ahead(shop, today=today, weeks=WEEKS)
    orders = list(Order.objects.in_the_workroom().with_state().with_little_quilt().soonest_first())
    penciled = list(Enquiry.objects.penciled(on=today))
    wanted = ahead.wanted_in(ahead.tightest) if ahead.tightest else []
    return {
        "shop": shop,
        "today": today,
        "ahead": ahead,
        "orders": orders,
        "over_orders": wanted,
        "months": [month_in_words(*month) for month in free_in_months(ahead, MONTHS)],
        "lines": [
            *(_of_order(each, ahead, today) for each in orders),
            *(_of_enquiry(each, ahead) for each in penciled),
        ],
        "off": DayOff.objects.select_related("person").filter(day__gte=today).order_by("day"),
        "form": form,
    }


def _of_order(order: Any, ahead: Ahead, today: date) -> Line:
    ready = ahead.table.finish.get(order_id(order))
    day = ahead.work.date_of(ready) if ready is not None and ready < ahead.work.days else None
    return Line(order, None, left_of(order, today=today).minutes, day, order.needed_by)


def _of_enquiry(enquiry: Enquiry, ahead: Ahead) -> Line:
    ready = ahead.table.finish.get(f"{PENCILED} {enquiry.pk}")
    day = ahead.work.date_of(ready) if ready is not None and ready < ahead.work.days else None
    return Line(None, enquiry, enquiry.minutes, day, enquiry.needed_by)
