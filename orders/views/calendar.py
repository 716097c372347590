"""The calendar: hours, overtime, holidays, who comes, what is under way, and the address for a phone."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST, require_safe

from orders.customer.reach import can_be_reached
from orders.days.calendar_changes import go_home_on_time, keep_holidays, keep_hours, work_longer
from orders.days.own_pace import own_share
from orders.days.public_holidays import holidays_between, worked
from orders.forms.calendar import HolidaysForm, MomentForm, OvertimeForm, PlannedForm, VisitForm, minute_of
from orders.forms.trips import TripForm
from orders.models import Feed, Outside, Overtime, Shop, Trip, Visit
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.weeks import tell_replan

A_YEAR = 365


@require_safe
@open_to(OWNER)
@in_the_shop
def calendar(request: SignedIn, shop: Shop) -> HttpResponse:
    return page(request, shop)


def page(request: SignedIn, shop: Shop, *, status: int = 200, **forms: Any) -> HttpResponse:
    """Draw the calendar; forms that came back take the place of fresh ones."""
    today = shop.today()
    listed = holidays_listed(shop)
    shown = {
        "shop": shop,
        "today": today,
        "overtime": Overtime.objects.filter(day__gte=today).select_related("person").order_by("day"),
        "holidays": [(day, name, day not in worked(shop.worked_holidays)) for day, name in listed.items()],
        "visits": Visit.objects.to_come(timezone.now() - timedelta(hours=12)),
        "trips": Trip.objects.under_way(),
        "outside": Outside.objects.in_use(),
        "own_share": own_share(shop),
        "can_be_reached": can_be_reached(),
        "has_feed": Feed.objects.standing().exists(),
        "feed_address": request.session.pop("calendar given out", "") if request.method == "GET" else "",
        "overtime_form": OvertimeForm(today=today),
        "planned_form": PlannedForm(initial=PlannedForm.initial_of(shop)),
        "holidays_form": HolidaysForm(
            shop=shop, listed=listed, initial={"keeps": shop.keeps_holidays, "region": shop.region}
        ),
        "visit_form": VisitForm(shop=shop),
        "trip_form": TripForm(today=today, initial={"sent_on": today}),
        **forms,
    }
    return render(request, "calendar/page.html", shown, status=status)


def holidays_listed(shop: Shop) -> dict[Any, str]:
    """Return the public holidays of the next year."""
    today = shop.today()
    return holidays_between(shop.country, shop.region, today, today + timedelta(days=A_YEAR))


@require_POST
@open_to(OWNER)
@in_the_shop
def overtime(request: SignedIn, shop: Shop) -> HttpResponse:
    form = OvertimeForm(request.POST, today=shop.today())
    if not form.is_valid():
        return page(request, shop, status=422, overtime_form=form)
    said = form.cleaned_data
    assert form.who is not None
    made = work_longer(shop, form.who, said["day"], minutes=said["hours"], by=request.user)
    tell_replan(request, made, "Overtime entered.")
    return redirect(f"{reverse('weeks-calendar')}#overtime")


@require_POST
@open_to(OWNER)
@in_the_shop
def overtime_removal(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = Overtime.objects.select_related("person").filter(pk=pk).first()
    if found is not None:
        go_home_on_time(found, by=request.user)
        tell(request, "Taken out. The plan goes by the usual hours that day.")
    return redirect(f"{reverse('weeks-calendar')}#overtime")


@require_POST
@open_to(OWNER)
@in_the_shop
def holidays(request: SignedIn, shop: Shop) -> HttpResponse:
    listed = holidays_listed(shop)
    form = HolidaysForm(request.POST, shop=shop, listed=listed)
    if not form.is_valid():
        return page(request, shop, status=422, holidays_form=form)
    said = form.cleaned_data
    # A region that was just chosen has other holidays than those the page listed: all are kept closed.
    same = said["region"] == shop.region and shop.keeps_holidays
    made = keep_holidays(
        shop, keeps=said["keeps"], region=said["region"], by=request.user,
        days=listed, worked=form.worked if same else [],
    )  # fmt: skip
    tell_replan(request, made, "Holidays kept." if said["keeps"] else "The shop works on public holidays.")
    return redirect(f"{reverse('weeks-calendar')}#holidays")


@require_POST
@open_to(OWNER)
@in_the_shop
def planned(request: SignedIn, shop: Shop) -> HttpResponse:
    form = PlannedForm(request.POST)
    if not form.is_valid():
        return page(request, shop, status=422, planned_form=form)
    said = form.cleaned_data
    made = keep_hours(
        shop, frames=said["frames"] or 0, by=request.user,
        planned_share=said["planned_share"], share_by_hand=form.is_by_hand(shop),
        door_opens=minute_of(said["door_opens"]), door_closes=minute_of(said["door_closes"]),
    )  # fmt: skip
    tell_replan(request, made, "Kept. The plan goes by it from now on.")
    return redirect("weeks-calendar")


@require_POST
@open_to(OWNER)
@in_the_shop
def visits(request: SignedIn, shop: Shop) -> HttpResponse:
    form = VisitForm(request.POST, shop=shop)
    if not form.is_valid():
        return page(request, shop, status=422, visit_form=form)
    made = Visit.objects.book(by=request.user, **form.visit)
    tell(request, "Booked.", undo=reverse("weeks-visit-removal", args=[made.pk]))
    return redirect(f"{reverse('weeks-calendar')}#visits")


@require_POST
@open_to(OWNER)
@in_the_shop
def visit_moment(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    visit = get_object_or_404(Visit, pk=pk, came_at=None)
    form = MomentForm(request.POST, shop=shop)
    if not form.is_valid():
        tell(request, str(next(iter(form.errors.values()))[0]))
        return redirect(f"{reverse('weeks-calendar')}#visits")
    visit.move(form.cleaned_data["at"], by=request.user)
    tell(request, "The visit has its new time.")
    return redirect(f"{reverse('weeks-calendar')}#visits")


@require_POST
@open_to(OWNER)
@in_the_shop
def visit_coming(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    get_object_or_404(Visit, pk=pk).came(by=request.user)
    tell(request, "They were here.")
    return redirect("today" if request.POST.get("back") == "today" else "weeks-calendar")


@require_POST
@open_to(OWNER)
@in_the_shop
def visit_removal(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = Visit.objects.select_related("order").filter(pk=pk, came_at=None).first()
    if found is not None:
        found.call_off(by=request.user)
        tell(request, "Called off.")
    return redirect(f"{reverse('weeks-calendar')}#visits")


@require_POST
@open_to(OWNER)
@in_the_shop
def feed(request: SignedIn, shop: Shop) -> HttpResponse:
    """Give out an address of the calendar, once; the one before is closed."""
    _, token = Feed.objects.give_out(by=request.user)
    path = reverse("calendar-feed", args=[token])
    whole = f"{settings.ADDRESS}{path}" if settings.ADDRESS else request.build_absolute_uri(path)
    request.session["calendar given out"] = whole
    return redirect(f"{reverse('weeks-calendar')}#feed")


@require_POST
@open_to(OWNER)
@in_the_shop
def feed_closing(request: SignedIn, shop: Shop) -> HttpResponse:
    Feed.objects.close(by=request.user)
    tell(request, "Closed. Phones that read it get nothing any more.")
    return redirect(f"{reverse('weeks-calendar')}#feed")
