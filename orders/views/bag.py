"""The Bag room: what came in, how many there are, what each shirt still lacks."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders import papers
from orders.bag import intake, lacking, receipts
from orders.forms.bag import BagForm
from orders.forms.two_phones import differences, with_version
from orders.models import Bag, Order, Shirt, Stale
from orders.views.arrival import arrival_form
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.rooms import room


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
    lines: list[dict[str, Any]] = [
        {"shirt": shirt, "photo": next(iter(shirt.photos.all()), None), "lacks": lacking.lacks(shirt)}
        for shirt in bag.shirts.all()
    ]
    return {
        "bag": bag,
        "tally": bag.tally(),
        "shirts": [each for each in lines if each["shirt"].state != Shirt.State.STRUCK],
        "struck": [each["shirt"] for each in lines if each["shirt"].state == Shirt.State.STRUCK],
        "found": [each["shirt"] for each in lines if each["shirt"].found],
        "photo": next(iter(bag.photos.all()), None),
        "receipts": [paper for paper in bag.papers.all() if paper.kind == "intake"],
        "differs": receipts.differences(bag),
        "missing": [shirt for shirt in bag.shirts.all() if shirt.state == "missing"],
        "serves_also": [each for each in bag.orders.all() if each != order],
    }


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
