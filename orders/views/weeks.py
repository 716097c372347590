"""Weeks: what they hold, what fills them, and the days nobody works."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from orders.customer.telling import left_of
from orders.days.calendar import LONGEST, PENCILED, order_id, workers
from orders.days.calendar_changes import close_days, close_week, is_closed, open_week
from orders.days.chances import Chances, chances_now
from orders.days.days_off import be_there, runs_of
from orders.days.replanning import change_told, moved_in_words, take_back
from orders.days.week_sheet import week_of
from orders.days.weeks import Ahead, free_in_months, look_ahead, month_in_words
from orders.days.who_does import on_no_list
from orders.forms.weeks import DaysOffForm
from orders.forms.workroom import STAGE_WORDS
from orders.models import DayOff, Enquiry, Order, Replan, Shop
from orders.models.as_seen import cards_of_the_workroom
from orders.templatetags.shop import day as short_day
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell

WEEKS, MONTHS = 12, 3
DAYS_TOLD = 7  # a change is told for a week


@dataclass(frozen=True)
class Line:
    """One quilt, or one penciled place, in the weeks ahead."""

    order: Order | None
    enquiry: Enquiry | None
    minutes: int
    ready: date | None
    wanted: date | None
    chance: float | None = None

    @property
    def room(self) -> int | None:
        """Days between the day it is ready and the day it is needed."""
        return (self.wanted - self.ready).days if self.ready and self.wanted else None

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
    made = close_days(
        shop,
        said["first"],
        said["last"],
        person=form.who,
        by=request.user,
        words=said["words"],
        why=said["why"],
    )
    new = len(made.deeds) if made else 0
    around = "it" if new == 1 else "them"
    tell_replan(request, made, f"{new} day{'' if new == 1 else 's'} off. The plan works around {around}.")
    return redirect("weeks")


def tell_replan(request: SignedIn, made: Replan | None, sentence: str) -> None:
    """Say what was done and what the plan became through it, with the way back."""
    if made is None:
        tell(request, "Nothing changed: it stood so already.")
        return
    tell(request, f"{sentence} {moved_in_words(made)}", undo=reverse("weeks-change-undoing", args=[made.pk]))


@require_POST
@open_to(OWNER)
@in_the_shop
def undoing(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    change = get_object_or_404(Replan, pk=pk)
    if take_back(change, by=request.user):
        tell(request, f"Taken back: {change.why}. The plan is as it was.")
    else:
        tell(request, "That was taken back already.")
    return redirect("weeks")


@require_POST
@open_to(OWNER)
@in_the_shop
def closing(request: SignedIn, shop: Shop, monday: str) -> HttpResponse:
    first = monday_of(monday, shop)
    if first + timedelta(days=6) < shop.today():
        raise Http404
    tell_replan(
        request, close_week(shop, first, by=request.user), f"The week of {short_day(first)} is closed."
    )
    return redirect("weeks")


@require_POST
@open_to(OWNER)
@in_the_shop
def opening(request: SignedIn, shop: Shop, monday: str) -> HttpResponse:
    first = monday_of(monday, shop)
    open_week(first, by=request.user)
    tell(request, f"The week of {short_day(first)} is open again.")
    return redirect("weeks")


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def sheet(request: SignedIn, shop: Shop, monday: str) -> HttpResponse:
    """One week to print: who does what on which day."""
    first = monday_of(monday, shop)
    told = {
        "shop": shop, "monday": first, "days": week_of(shop, first), "today": shop.today(),
        "before": first - timedelta(days=7), "after": first + timedelta(days=7),
        "number": first.isocalendar().week, "iso_year": first.isocalendar().year,
        "is_owner": request.user.role == OWNER,
        "is_past": first + timedelta(days=6) < shop.today(), "is_closed": is_closed(first),
    }  # fmt: skip
    return render(request, "weeks/sheet.html", told)


def monday_of(written: str, shop: Shop) -> date:
    """Return the Monday of the week a day lies in; what is no day, or years away, is nowhere."""
    try:
        day = date.fromisoformat(written)
    except ValueError as fault:
        raise Http404 from fault
    if abs((day - shop.today()).days) > LONGEST:
        raise Http404
    return day - timedelta(days=day.weekday())


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
    orders = cards_of_the_workroom()
    ahead = look_ahead(shop, today=today, weeks=WEEKS, seen=orders)
    penciled = list(Enquiry.objects.penciled(on=today))
    wanted = ahead.wanted_in(ahead.tightest) if ahead.tightest else []
    chances = chances_now(shop)
    return {
        "change": change_told(shop, days=DAYS_TOLD),
        "chances": chances,
        "has_chances": bool(chances),
        "shop": shop,
        "today": today,
        "ahead": ahead,
        "orders": orders,
        "over_orders": wanted,
        "on_no_list": [STAGE_WORDS.get(each, each).lower() for each in on_no_list(shop, workers())],
        "months": [month_in_words(*month) for month in free_in_months(ahead, MONTHS)],
        "lines": [
            *(_of_order(each, ahead, today, chances) for each in orders),
            *(_of_enquiry(each, ahead) for each in penciled),
        ],
        "off": runs_of(DayOff.objects.select_related("person").filter(day__gte=today)),
        "form": form,
    }


def _of_order(order: Any, ahead: Ahead, today: date, chances: Chances | None) -> Line:
    ready = ahead.table.finish.get(order_id(order))
    day = ahead.work.date_of(ready) if ready is not None and ready < ahead.work.days else None
    chance = chances.of.get(order_id(order)) if chances and day else None
    return Line(order, None, left_of(order, today=today).minutes, day, order.needed_by, chance)


def _of_enquiry(enquiry: Enquiry, ahead: Ahead) -> Line:
    ready = ahead.table.finish.get(f"{PENCILED} {enquiry.pk}")
    day = ahead.work.date_of(ready) if ready is not None and ready < ahead.work.days else None
    return Line(None, enquiry, enquiry.minutes, day, enquiry.needed_by)
