"""A garment that serves as cloth: its rectangles, the yes to cut it, and what it gives first."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders.account.agreeing import NotTheirs
from orders.cloth import cloth_room, garment_cloth
from orders.forms.garment_cloth import RectangleForm
from orders.forms.quilt import SaidForm
from orders.models import Cloth, ClothPiece, Order, Shirt, Shop
from orders.planning import interfacing_behind
from orders.quilt import quilt_room
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.quilt import order_and_shop, to_room
from orders.views.quilt_cloth import at_once
from orders.views.stale import refuse_stale
from orders.views.uploads import client_id_of, new_client_id


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def cloth(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    order, found = order_and_shirt(number, shirt)
    if request.method != "POST":
        return page(request, shop, order, found)
    form = RectangleForm(request.POST, unit=shop.unit)
    if not form.is_valid():
        return page(request, shop, order, found, form=form, status=422)
    said = {name: form.cleaned_data[name] for name in ("part", "width", "length")}
    try:
        garment_cloth.add_rectangle(order, found, **said, by=request.user, client_id=client_id_of(form))
    except garment_cloth.CannotGive as reason:
        form.add_error("part", str(reason))
        return page(request, shop, order, found, form=form, status=422)
    return redirect("shirt-cloth", number, shirt)


def page(
    request: SignedIn, shop: Shop, order: Order, found: Shirt, *, status: int = 200, **forms: Any
) -> HttpResponse:
    made = Cloth.objects.from_garments().filter(garment=found).first()
    fresh = {"part": "", "client_id": new_client_id()}
    shown = {
        "order": order,
        "shirt": found,
        "cloth": made,
        "fuse": interfacing_behind(found),
        "form": RectangleForm(unit=shop.unit, initial=fresh),
        "said_form": SaidForm(initial={"said_by": order.approver}),
    }
    return render(request, "shelf/garment.html", shown | forms, status=status)


@require_POST
@open_to(OWNER)
@in_the_shop
def yes(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    order, found = order_and_shirt(number, shirt)
    made = get_object_or_404(Cloth.objects.from_garments(), garment=found, for_order=order)
    form = SaidForm(request.POST)
    if form.is_valid():
        try:
            garment_cloth.say_yes(order, made, **form.cleaned_data, by=request.user)
        except (NotTheirs, garment_cloth.CannotGive) as reason:
            form.add_error("said_by", str(reason))
    if form.errors:
        return page(request, shop, order, found, said_form=form, status=422)
    tell(request, "Her yes to cut it is written down.")
    return redirect("shirt-cloth", number, shirt)


@require_POST
@open_to(OWNER)
def rectangle_end(request: SignedIn, number: int, shirt: int, piece: int) -> HttpResponse:
    """A rectangle was cut, or is taken off the list because it is no cloth after all."""
    order, found = order_and_shirt(number, shirt)
    one = get_object_or_404(ClothPiece, pk=piece, cloth__garment=found, cloth__for_order=order)
    if "off" in request.POST:
        one.use_up(by=request.user)
        tell(
            request,
            f"Off the list: {one.part}.",
            undo=reverse("shirt-cloth-back", args=[number, shirt, piece]),
        )
        return redirect("shirt-cloth", number, shirt)
    try:
        garment_cloth.cut_rectangle(one, by=request.user)
        tell(request, f"Cut: {one.part}.")
    except garment_cloth.CannotGive as reason:
        tell(request, str(reason))
    return redirect("shirt-cloth", number, shirt)


@require_POST
@open_to(OWNER)
def rectangle_back(request: SignedIn, number: int, shirt: int, piece: int) -> HttpResponse:
    order, found = order_and_shirt(number, shirt)
    one = get_object_or_404(ClothPiece, pk=piece, cloth__garment=found, cloth__for_order=order)
    one.lay_back(by=request.user)
    return redirect("shirt-cloth", number, shirt)


@require_POST
@open_to(OWNER)
@refuse_stale
def gives(request: SignedIn, number: int) -> HttpResponse:
    """Let a garment give what it can to a part before its cloth is cut; an empty name takes it back."""
    order, shop = order_and_shop(number)
    role, name, version = (request.POST.get(each, "") for each in ("role", "cloth", "version"))
    cloth = Cloth.objects.from_garments().filter(for_order=order, name=name).first()
    try:
        if name and cloth is None:
            raise garment_cloth.CannotGive("That garment is no cloth of this quilt any more.")
        seen = int(version) if version.isdecimal() else -1
        garment_cloth.give_first(order, role, cloth, version=seen, by=request.user)
    except garment_cloth.CannotGive as reason:
        tell(request, str(reason))
    if request.htmx:  # type: ignore[attr-defined]
        shown = cloth_room.picked(order, shop, quilt_room.shelf(order), role=role)
        return at_once(request, order, shop, shown)
    return to_room(number, "cloth", role=role)


def order_and_shirt(number: int, shirt: int) -> tuple[Order, Shirt]:
    found = get_object_or_404(Shirt.objects.of_order(number), number=shirt)
    return get_object_or_404(Order, number=number), found
