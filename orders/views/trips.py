"""Who works from outside, and what is under way to them or from them."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders.days.replanning import replan, trip_deeds
from orders.forms.calendar import OutsideForm
from orders.forms.trips import ExpectedForm, TripForm
from orders.models import Event, Outside, Shop, Trip
from orders.templatetags.shop import day
from orders.views import calendar
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.weeks import tell_replan

READ = ["GET", "HEAD", "POST"]


@require_http_methods(READ)
@open_to(OWNER)
@in_the_shop
def new(request: SignedIn, shop: Shop) -> HttpResponse:
    return _form(request, shop, Outside())


@require_http_methods(READ)
@open_to(OWNER)
@in_the_shop
def outside(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    return _form(request, shop, get_object_or_404(Outside, pk=pk))


def _form(request: SignedIn, shop: Shop, found: Outside) -> HttpResponse:
    form = OutsideForm(request.POST if request.method == "POST" else None, instance=found)
    if form.is_valid():
        made = form.save()
        Event.objects.note("outside kept", by=request.user, name=made.name)
        tell(request, f"{made}: kept.")
        return redirect(f"{reverse('weeks-calendar')}#outside")
    status = 422 if form.is_bound else 200
    told = {"form": form, "outside": found, "shop": shop, "today": shop.today()}
    return render(request, "calendar/outside.html", told, status=status)


@require_POST
@open_to(OWNER)
@in_the_shop
def leave(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Let somebody go; what is under way with them still comes back."""
    found = get_object_or_404(Outside, pk=pk)
    Outside.objects.filter(pk=pk).update(left=True)
    Event.objects.note("outside let go", by=request.user, name=found.name)
    tell(request, f"{found} is off the list.")
    return redirect(f"{reverse('weeks-calendar')}#outside")


@require_POST
@open_to(OWNER)
@in_the_shop
def opening(request: SignedIn, shop: Shop, pk: int, first: str) -> HttpResponse:
    """Take a closure out."""
    found = get_object_or_404(Outside, pk=pk)
    found.closed = [each for each in found.closed if each[0] != first]
    found.save(update_fields=["closed"])
    return redirect("weeks-outside", pk)


@require_POST
@open_to(OWNER)
@in_the_shop
def send(request: SignedIn, shop: Shop) -> HttpResponse:
    form = TripForm(request.POST, today=shop.today())
    if not form.is_valid():
        return calendar.page(request, shop, status=422, trip_form=form)
    said = form.cleaned_data
    trip = Trip.objects.send(
        said["order"], outside=said["outside"], expected=said["expected_on"], by=request.user,
        what=said["what"], waits=said["waits"], sent_on=said["sent_on"],
    )  # fmt: skip
    tell(request, f"Under way. It is expected {day(trip.expected_on)}, and the plan waits for it.")
    return redirect(f"{reverse('weeks-calendar')}#trips")


@require_POST
@open_to(OWNER)
@in_the_shop
def expected(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    trip = get_object_or_404(Trip.objects.under_way(), pk=pk)
    form = ExpectedForm(request.POST, today=shop.today())
    if form.is_valid():
        expected = form.cleaned_data["expected_on"]
        why = f"{trip.what.capitalize()} of {trip.order} is expected {day(expected)}"
        made = replan(shop, why, lambda: trip_deeds(trip, expected, by=request.user), by=request.user)
        tell_replan(request, made, f"Expected {day(expected)}. The plan waits for it.")
    else:
        tell(request, str(form.errors["expected_on"][0]))
    return redirect(f"{reverse('weeks-calendar')}#trips")


@require_POST
@open_to(OWNER)
@in_the_shop
def arrival(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    trip = get_object_or_404(Trip.objects.select_related("order", "outside"), pk=pk)
    trip.arrive(shop.today(), by=request.user)
    tell(request, f"{trip.what.capitalize()} is here. What waited for it may begin.")
    return redirect(f"{reverse('weeks-calendar')}#trips")
