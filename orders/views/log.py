"""Logging: one garment after the other, on the page or from a phone that sends when it can."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders.background import photos
from orders.bag import intake
from orders.forms.log import LogForm
from orders.forms.told import PLAIN
from orders.models import Bag, Order, Shirt, Shop
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import (
    client_id_of,
    new_client_id,
    received,
    received_from_queue,
    refused_in_queue,
)

NO_BAG = "This bag is not of this quilt any more. Open the log again from the Bag room."


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def log(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    bag = Bag.objects.to_log(order, wanted=request.GET.get("bag") or request.POST.get("bag"))
    if bag is None:
        return redirect("order-bag", number)
    carried = LogForm.carried(bag)
    if request.method != "POST":
        return log_page(request, order, bag, fresh_form(bag, carried, shop))
    form = LogForm(request.POST, request.FILES, country=shop.country)
    if form.is_valid() and "last" in request.POST and form.is_untouched(carried):
        return redirect("order-bag", number)
    shirt = take_in(form, bag, order, request)
    if shirt is None:
        return log_page(request, order, bag, form, status=422)
    if shirt.wrong_tag is not None:
        tell(request, told_of(shirt))
    if "last" in request.POST:
        return redirect("order-bag", number)
    return redirect(f"{reverse('order-log', args=[number])}?bag={bag.pk}")


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def line(request: SignedIn, shop: Shop, number: int) -> JsonResponse:
    """Take the taps of one line from a phone’s queue; its photo comes after it, by itself."""
    order = get_object_or_404(Order, number=number)
    bag = Bag.objects.to_log(order, wanted=request.POST.get("bag") or "none")
    form = LogForm(request.POST, country=shop.country)
    if bag is None:
        form.add_error(None, NO_BAG)
    shirt = take_in(form, bag, order, request) if bag else None
    if shirt is None:
        return JsonResponse({"fault": first_fault(form)}, status=422)
    address = reverse("shirt", args=[number, shirt.number])
    said = {"number": shirt.number, "address": address, "said": told_of(shirt)}
    return JsonResponse(said | {"next": shirt.bag.next_number()})


@require_POST
@open_to(OWNER, HELPER)
def line_photo(request: SignedIn, number: int, client_id: str) -> JsonResponse:
    """Take the photo of a line that came before; sent twice, it is one photo."""
    shirt = get_object_or_404(Shirt.objects.of_order(number), client_id=client_id)
    try:
        photo = received_from_queue(request, of=shirt, by=request.user)
    except photos.Refused as fault:
        return refused_in_queue(fault)
    intake.show_first_panel_on(photo, shirt)
    return JsonResponse({"photo": photo.pk, "number": shirt.number})


def fresh_form(bag: Bag, carried: dict[str, str], shop: Shop) -> LogForm:
    """Return the taps for the next line of a bag, as the one before had them."""
    number = bag.next_number()
    offered = {"client_id": new_client_id(), "number": f"{number:02d}", "offered": number, "blend": ""}
    return LogForm(initial=offered | carried, country=shop.country)


def take_in(form: LogForm, bag: Bag, order: Order, request: SignedIn) -> Shirt | None:
    """Log the line of a form, or return None with its faults; one that was sent before is that one."""
    if form.errors:
        return None
    before = Shirt.objects.filter(client_id=client_id_of(form)).first() if client_id_of(form) else None
    if before is not None:
        return before
    photo = received(form, by=request.user)
    if form.errors:
        return None
    try:
        return intake.log_shirt(
            bag, order, form.said, by=request.user, photo=photo, client_id=client_id_of(form)
        )
    except intake.TagTaken as fault:
        form.add_error("number", str(fault))
        return None


def told_of(shirt: Shirt) -> str:
    """Say that a tag has to be written anew, where it does."""
    if shirt.wrong_tag is None:
        return ""
    return f"This one is {shirt}: {shirt.wrong_tag:02d} was taken meanwhile. Write {shirt} on its tag."


def first_fault(form: LogForm) -> str:
    """Return the first fault of a form with the name of its field, as one sentence."""
    name, faults = next(iter(form.errors.items()))
    label = form.fields[name].label if name in form.fields else ""
    return f"{label}: {faults[0]}" if label else str(faults[0])


def _shown_number(form: LogForm) -> int | None:
    typed = str(form["number"].value() or "")
    return int(typed) if typed.isdecimal() else None


def log_page(request: SignedIn, order: Order, bag: Bag, form: LogForm, *, status: int = 200) -> HttpResponse:
    newest = sorted(bag.shirts.all(), key=lambda each: -each.number)[:18]
    shown: dict[str, Any] = {
        "order": order,
        "bag": bag,
        "form": form,
        "tally": bag.tally(),
        "next": _shown_number(form) or bag.next_number(),
        "roll": [(each, next(iter(each.photos.all()), None)) for each in newest],
        "is_told": any(form[name].value() for name in (*PLAIN, "guest", "apart", "fibres", "blend"))
        or form["garments"].value() not in (1, "1", "", None),
    }
    return render(request, "shirt/log.html", shown, status=status)
