"""A shirt by itself: its facts, its panels, its photos, where it is."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders.bag import intake, lacking, stretch
from orders.bag.kinds import kind_of
from orders.bag.panels import counted, label_of, place_of
from orders.colors import colors_seen
from orders.forms.panel import PanelForm
from orders.forms.shirt import ApartForm, PanelChoiceForm, PhotoForm, ShirtForm, SplitForm, StrikeForm
from orders.forms.shirt_words import KINDS, SIDES
from orders.forms.two_phones import differences, with_version
from orders.models import Piece, Shirt, Shop, Stale
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import received


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def shirt(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    if request.method != "POST":
        return shirt_page(request, shop, number, found)
    form = ShirtForm(request.POST, unit=shop.unit, country=shop.country)
    if not form.is_valid():
        return shirt_page(request, shop, number, found, form=form, status=422)
    try:
        intake.write_shirt(found, seen=form.cleaned_data["version"], by=request.user, **form.facts)
    except Stale:
        now = shirt_form(found, shop)
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
    panels.sort(key=lambda panel: place_of(panel["piece"].side))
    sides = {panel["piece"].side for panel in panels}
    usual = kind_of(found.kind)
    shown = {
        "order": next(each for each in found.bag.orders.all() if each.number == number),
        "shirt": found,
        "photos": list(found.photos.all()),
        "colors_seen": colors_seen.of_shirt(found),
        "lacks": lacking.lacks(found),
        "kind": usual,
        "panels": panels,
        "form": shirt_form(found, shop),
        "strike_form": StrikeForm(),
        "apart_form": ApartForm(),
        "split_form": SplitForm(initial={"out": 1}),
        "stretched": stretched(found),
        "photo_form": PhotoForm(),
        "panel_choice": PanelChoiceForm(),
        "sides_left": sorted(
            (each for each in SIDES if each[0] not in sides), key=lambda each: each[0] not in usual.panels
        ),
        "neighbors": Shirt.objects.of_order(number).beside(found),
        "kinds": KINDS,
    }
    return render(request, "shirt/page.html", shown | change, status=status)


def shirt_form(found: Shirt, shop: Shop) -> ShirtForm:
    """Return the facts of a shirt as they stand."""
    return ShirtForm(initial=ShirtForm.of(found, country=shop.country), unit=shop.unit, country=shop.country)


def stretched(found: Shirt) -> int | None:
    """Return its stretch in per cent, where it was measured."""
    if found.stretch_from is None or found.stretch_to is None:
        return None
    return stretch.per_cent(found.stretch_from, found.stretch_to)


def panel_of(piece: Piece, shop: Shop, came_back: PanelForm | None, side: str | None) -> dict[str, Any]:
    """Return a panel with its form, fresh or as it came back."""
    fresh = PanelForm(initial=PanelForm.of(piece), unit=shop.unit, prefix=piece.side)
    form = came_back if came_back is not None and side == piece.side else fresh
    is_folded = counted(piece.side)[1] > 1 and form is fresh  # of a group, the first is mostly like the rest
    return {"piece": piece, "form": form, "label": label_of(piece.side), "is_folded": is_folded}


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
