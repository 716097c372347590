"""The Bag room: what came in, how many there are, what each shirt still lacks."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders import intake, papers
from orders.forms.bag import ArrivalForm, BagForm
from orders.forms.two_phones import differences, with_version
from orders.models import Bag, Order, Person, Stale
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.uploads import client_id_of, keep, new_client_id, received


@require_safe
@open_to(OWNER, HELPER)
def bags(request: SignedIn, number: int) -> HttpResponse:
    shown = room(request, number, "bag")
    order = shown["order"]
    found = [as_shown(bag, order) for bag in Bag.objects.serving(order)]
    shown |= {
        "bags": found,
        "to_log": any(each["tally"].not_logged for each in found),
        "others": list(Bag.objects.could_also_serve(order)),
        "form": arrival_form(order) if not found else None,
    }
    return render(request, "bag/page.html", shown)


def as_shown(bag: Bag, order: Order) -> dict[str, Any]:
    """Return a bag with its count, its shirts and what each of them lacks."""
    shirts = [
        {"shirt": shirt, "photo": next(iter(shirt.photos.all()), None), "lacks": intake.lacks(shirt)}
        for shirt in bag.shirts.all()
    ]
    return {
        "bag": bag,
        "tally": bag.tally(),
        "shirts": shirts,
        "photo": next(iter(bag.photos.all()), None),
        "receipts": list(bag.papers.all()),
        "missing": [shirt for shirt in bag.shirts.all() if shirt.state == "missing"],
        "serves_also": [each for each in bag.orders.all() if each != order],
    }


def arrival_form(order: Order) -> ArrivalForm:
    """Return the questions of the door with the usual answers."""
    usual = {"brought_by": order.customer.name, "washed_without_softener": True, "leftovers_back": True}
    return ArrivalForm(initial=usual | {"client_id": new_client_id()})


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def arrival(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("customer"), number=number)
    if request.method != "POST":
        return render(request, "bag/arrival.html", {"order": order, "form": arrival_form(order)})
    form = ArrivalForm(request.POST, request.FILES)
    bag = take_in(form, order, by=request.user)
    if bag is not None:
        return redirect("order-log" if bag.count else "order-bag", number)
    return render(request, "bag/arrival.html", {"order": order, "form": form}, status=422)


def take_in(form: ArrivalForm, order: Order, *, by: Person) -> Bag | None:
    """Receive the bag of a form, or return None with its faults; a good photo is kept either way."""
    form.is_valid()
    before = Bag.objects.sent_before(client_id_of(form))
    if before is not None:
        return before
    photo = received(form, by=by)
    if not form.errors:
        return intake.receive_bag(order, by=by, photo=photo, client_id=client_id_of(form), **form.facts)
    keep(form, photo)
    return None


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def bag(request: SignedIn, number: int, pk: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    found = get_object_or_404(Bag, pk=pk, orders=order)
    shown = {"order": order, "bag": found, "form": BagForm(initial=BagForm.of(found))}
    if request.method != "POST":
        return render(request, "bag/facts.html", shown)
    form = BagForm(request.POST)
    if not form.is_valid():
        return render(request, "bag/facts.html", shown | {"form": form}, status=422)
    try:
        intake.write_bag(found, seen=form.cleaned_data["version"] or 0, by=request.user, **form.facts)
    except Stale:
        now = BagForm(initial=BagForm.of(found))
        both = {"form": with_version(form, found.version), "differences": differences(form, now)}
        return render(request, "bag/facts.html", shown | both, status=409)
    tell(request, "Kept.")
    return redirect("order-bag", number)


@require_POST
@open_to(OWNER, HELPER)
def sharing(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    chosen = request.POST.get("bag", "")
    other = get_object_or_404(Bag.objects.could_also_serve(order), pk=chosen if chosen.isdecimal() else 0)
    try:
        other.serve(order, by=request.user)
    except ValueError as fault:
        tell(request, str(fault))
    else:
        tell(request, "The bag serves this quilt as well.")
    return redirect("order-bag", number)


@require_POST
@open_to(OWNER)
def receipt(request: SignedIn, number: int, pk: int) -> HttpResponse:
    found = get_object_or_404(Bag, pk=pk, orders__number=number)
    return redirect("paper", papers.intake(found, by=request.user).number)
