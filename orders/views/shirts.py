"""Shirts: logged one after the other, then each by itself."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders import intake
from orders.forms.panel import PanelForm
from orders.forms.shirt import LogForm, PanelChoiceForm, PhotoForm, ShirtForm
from orders.forms.shirt_words import KINDS, SIDES
from orders.forms.two_phones import differences, with_version
from orders.models import Bag, Order, Piece, Shirt, Shop, Stale
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import client_id_of, new_client_id, received


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def log(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    bag = Bag.objects.to_log(order, wanted=request.GET.get("bag") or request.POST.get("bag"))
    if bag is None:
        return redirect("order-bag", number)
    if request.method != "POST":
        return log_page(request, order, bag, fresh_log_form(bag))
    form = LogForm(request.POST, request.FILES)
    if form.is_valid() and "last" in request.POST and form.is_untouched():
        return redirect("order-bag", number)
    shirt = take_in(form, bag, order, request)
    if shirt is None:
        return log_page(request, order, bag, form, status=422)
    offered = form.cleaned_data["number"]
    if offered and offered != shirt.number:
        tell(request, f"This shirt is {shirt}: {offered:02d} was taken meanwhile. Write {shirt} on its tag.")
    return redirect("order-bag" if "last" in request.POST else "order-log", number)


def fresh_log_form(bag: Bag) -> LogForm:
    """Return the taps for the next shirt of a bag."""
    return LogForm(initial={"client_id": new_client_id(), "number": bag.next_number()})


def take_in(form: LogForm, bag: Bag, order: Order, request: SignedIn) -> Shirt | None:
    """Log the shirt of a form, or return None with its faults; one that was sent before is that one."""
    if form.errors:
        return None
    before = Shirt.objects.filter(client_id=client_id_of(form)).first() if client_id_of(form) else None
    if before is not None:
        return before
    photo = received(form, by=request.user)
    if form.errors:
        return None
    said = intake.Said(*(form.cleaned_data[name] for name in ("kind", "keep", "feel")))
    return intake.log_shirt(bag, order, said, by=request.user, photo=photo, client_id=client_id_of(form))


def log_page(request: SignedIn, order: Order, bag: Bag, form: LogForm, *, status: int = 200) -> HttpResponse:
    tally = bag.tally()
    shown = {"order": order, "bag": bag, "form": form, "tally": tally, "next": bag.next_number()}
    newest = sorted(bag.shirts.all(), key=lambda each: -each.number)[:18]
    shown["roll"] = [(each, next(iter(each.photos.all()), None)) for each in newest]
    return render(request, "shirt/log.html", shown, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def shirt(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    if request.method != "POST":
        return shirt_page(request, shop, number, found)
    form = ShirtForm(request.POST)
    if not form.is_valid():
        return shirt_page(request, shop, number, found, form=form, status=422)
    try:
        intake.write_shirt(found, seen=form.cleaned_data["version"], by=request.user, **form.facts)
    except Stale:
        now = ShirtForm(initial=ShirtForm.of(found))
        both = {"form": with_version(form, found.version), "differences": differences(form, now)}
        return shirt_page(request, shop, number, found, **both, status=409)
    tell(request, "Kept.")
    return redirect("shirt", number, shirt)


def of_order(number: int, shirt: int) -> Shirt:
    """Return a shirt by its number within the bags of an order, or answer that it is not here."""
    shown = Shirt.objects.of_order(number).prefetch_related("pieces", "photos", "bag__orders")
    return get_object_or_404(shown, number=shirt)


def shirt_page(
    request: SignedIn, shop: Shop, number: int, found: Shirt, *, status: int = 200, **change: Any
) -> HttpResponse:
    """Answer with a shirt's page; `change` puts forms that came back in the place of fresh ones."""
    panels = [
        panel_of(piece, shop, change.get("panel_form"), change.get("side")) for piece in found.pieces.all()
    ]
    panels.sort(key=lambda panel: [side for side, _ in SIDES].index(panel["piece"].side))
    sides = {panel["piece"].side for panel in panels}
    shown = {
        "order": next(each for each in found.bag.orders.all() if each.number == number),
        "shirt": found,
        "photos": list(found.photos.all()),
        "lacks": intake.lacks(found),
        "panels": panels,
        "form": ShirtForm(initial=ShirtForm.of(found)),
        "photo_form": PhotoForm(),
        "panel_choice": PanelChoiceForm(),
        "sides_left": [each for each in SIDES if each[0] not in sides],
        "neighbors": Shirt.objects.of_order(number).beside(found),
        "kinds": KINDS,
    }
    return render(request, "shirt/page.html", shown | change, status=status)


def panel_of(piece: Piece, shop: Shop, came_back: PanelForm | None, side: str | None) -> dict[str, Any]:
    """Return a panel with its form, fresh or as it came back."""
    fresh = PanelForm(initial=PanelForm.of(piece), unit=shop.unit, prefix=piece.side)
    form = came_back if came_back is not None and side == piece.side else fresh
    return {"piece": piece, "form": form, "label": dict(SIDES).get(piece.side, piece.side.capitalize())}


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def panel(request: SignedIn, shop: Shop, *, number: int, shirt: int, side: str) -> HttpResponse:
    found = of_order(number, shirt)
    piece = get_object_or_404(found.pieces, side=side)
    form = PanelForm(request.POST, unit=shop.unit, prefix=side)
    back = {"panel_form": form, "side": side}
    if not form.is_valid():
        return shirt_page(request, shop, number, found, **back, status=422)
    try:
        facts = form.facts(piece)
        intake.write_panel(piece, seen=form.cleaned_data["version"], by=request.user, **facts)
    except Stale:
        now = PanelForm(initial=PanelForm.of(piece), unit=shop.unit, prefix=side)
        back |= {"panel_form": with_version(form, piece.version), "panel_differences": differences(form, now)}
        return shirt_page(request, shop, number, found, **back, status=409)
    tell(request, "Kept.")
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def panels(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    form = PanelChoiceForm(request.POST)
    if not form.is_valid():
        return shirt_page(request, shop, number, found, panel_choice=form, status=422)
    intake.add_panel(found, form.cleaned_data["side"], by=request.user)
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def photos(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    form = PhotoForm(request.POST, request.FILES)
    if form.is_valid():
        photo = received(form, by=request.user, of=found)
        if photo is not None:
            intake.show_panels_on(photo, found)
            return redirect("shirt", number, shirt)
    return shirt_page(request, shop, number, found, photo_form=form, status=422)


@require_POST
@open_to(OWNER, HELPER)
def giving_back(request: SignedIn, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    try:
        found.give_back(by=request.user)
    except ValueError as fault:
        tell(request, str(fault))
    else:
        tell(request, f"{found} is given back whole.", undo=reverse("shirt-finding", args=[number, shirt]))
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
def absence(request: SignedIn, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    try:
        found.miss(by=request.user)
    except ValueError as fault:
        tell(request, str(fault))
    else:
        tell(request, f"{found} is missing.", undo=reverse("shirt-finding", args=[number, shirt]))
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
def finding(request: SignedIn, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    try:
        found.find(by=request.user)
    except ValueError as fault:
        tell(request, str(fault))
    else:
        tell(request, f"{found} is here, in work.")
    return redirect("shirt", number, shirt)
