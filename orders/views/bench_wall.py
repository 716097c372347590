"""The wall: a photo of the blocks as they hang, beside the agreed picture, before rows are joined."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from orders.background import photos
from orders.forms.picture import VerdictForm, WallPhotoForm
from orders.models import Order, Shop
from orders.quilt import wall
from orders.quilt.quilt_looks import quilt_of
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.uploads import client_id_of, new_client_id
from orders.yes.asked_picture import asked_of
from orders.yes.picture_standing import to_picture


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def page(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Lay the wall beside the picture; a photo that comes in is of the wall."""
    if request.method != "POST":
        return show(request, shop, number)
    order = get_object_or_404(Order, number=number)
    form = WallPhotoForm(request.POST, request.FILES)
    if not form.is_valid():
        return show(request, shop, number, status=422, photo_form=form)
    try:
        taken = photos.receive(
            form.cleaned_data["photo"], client_id=client_id_of(form) or "", of=order, by=request.user
        )
    except photos.Refused as fault:
        form.add_error("photo", str(fault))
        return show(request, shop, number, status=422, photo_form=form)
    wall.put_up(order, taken, by=request.user)
    return redirect("bench-wall", number)


def show(request: SignedIn, shop: Shop, number: int, *, status: int = 200, **forms: Any) -> HttpResponse:
    """Show the agreed picture and the newest photo of the wall side by side."""
    head = room(request, number, "bench")
    order = head["order"]
    quilt = quilt_of(order)
    stands = to_picture(order, quilt, unit=shop.unit)
    agreed = stands.agreed.version if stands.agreed else None
    hung = wall.wall_of(order, stands)
    told = head | {
        "to_picture": stands,
        "agreed": agreed,
        "picture": _picture(quilt if stands.is_said else None, agreed),
        "wall": hung,
        "photo_form": WallPhotoForm(initial={"client_id": new_client_id()}),
        "verdict_form": VerdictForm(initial={"photo": hung.photo.pk if hung.photo else None}),
    }
    return render(request, "bench/wall.html", told | forms, status=status)


def _picture(quilt: Any, agreed: Any) -> Any:
    """The picture that was agreed, with the trades she gave leave for."""
    if agreed is None:
        return ""
    asked = asked_of(agreed)
    return asked.with_blocks_as(quilt).drawn() if quilt is not None else asked.drawn()


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def verdict(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Write down what was seen: as agreed, or not yet."""
    order = get_object_or_404(Order, number=number)
    form = VerdictForm(request.POST)
    if not form.is_valid():
        return show(request, shop, number, status=422, verdict_form=form)
    said = form.cleaned_data
    try:
        wall.compare(order, said["photo"], said["verdict"], by=request.user, why=said["why"])
    except wall.NothingToCompare as fault:
        form.add_error(None, str(fault))
        return show(request, shop, number, status=409, verdict_form=form)
    if said["verdict"] == wall.AS_AGREED:
        tell(request, "The wall lies as agreed. The rows may be joined.")
        return redirect("bench-pile", number, "machine")
    tell(request, "Not yet: move the blocks, then take another photo.")
    return redirect("bench-wall", number)
