"""A quilt goes home: the way it leaves, the parcel, and the pattern of one made before."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from orders.account.money import owing_of, the_shop
from orders.customer import way_home, weighing
from orders.forms.going import ArrivalForm, LikeForm, NumberForm, ParcelForm, WayForm
from orders.forms.money import as_typed
from orders.models import Order, Parcel
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.uploads import keep, received


@require_POST
@open_to(OWNER)
def way(request: SignedIn, number: int) -> HttpResponse:
    """Say how it goes home."""
    order = get_object_or_404(Order, number=number)
    form = WayForm(request.POST)
    if not form.is_valid():
        return account.page(request, number, status=422, refused="Tap how it goes home.")
    way_home.leave_by(order, form.cleaned_data["way"], by=request.user)
    return redirect("order-parcel" if order.leaving == Order.Leaving.PARCEL else "order-hand-over", number)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
def parcel(request: SignedIn, number: int) -> HttpResponse:
    """Pack a quilt, and look at its parcel afterwards."""
    shown = room(request, number, "account")
    order, packed = shown["order"], way_home.parcel_of(shown["order"])
    if request.method != "POST":
        return parcel_page(request, shown, packed)
    form = ParcelForm(request.POST, request.FILES, shop=shown["shop"], has_photo=has_picture(packed))
    form.is_valid()
    photo = received(form, by=request.user)  # with another fault as well, so that it is not asked for again
    if form.errors:
        keep(form, photo)
        return parcel_page(request, shown, packed, status=422, form=form)
    picture = {"box": photo} if photo else {}
    Parcel.objects.pack(order, by=request.user, **form.packed(), **picture)
    way_home.leave_by(order, Order.Leaving.PARCEL, by=request.user)
    tell(request, "The parcel is packed. It goes with the hand-over.")
    return redirect("order-hand-over", number)


def parcel_page(
    request: SignedIn, shown: dict[str, Any], packed: Parcel | None, *, status: int = 200, **forms: Any
) -> HttpResponse:
    """Answer with the parcel of an order; forms that came back take the place of fresh ones."""
    order, shop = shown["order"], shown["shop"]
    grams = weighing.weight_of(order)
    fresh = {
        "form": ParcelForm(initial=_usual(order, packed, shop), shop=shop, has_photo=has_picture(packed)),
        "number_form": NumberForm(initial={"tracking": packed.tracking if packed else ""}),
        "arrival_form": ArrivalForm(initial={"on": shop.today()}, parcel=packed, today=shop.today())
        if packed
        else None,
    }
    shown |= {"parcel": packed, "by_layers": weighing.show_weight(grams, shop) if grams else ""}
    shown["boxed"] = weighing.show_weight(packed.weight, shop) if packed and packed.weight else ""
    shown["unit"] = "lb" if shop.unit == "in" else "kg"
    return render(request, "hand_over/parcel.html", shown | fresh | forms, status=status)


def has_picture(packed: Parcel | None) -> bool:
    """Say whether the closed box is on a picture already."""
    return packed is not None and packed.box_id is not None


def _usual(order: Order, packed: Parcel | None, shop: Any) -> dict[str, Any]:
    """Return what the form begins with: what was packed, else the customer's address and the price."""
    if packed is not None:
        names = ("address", "carrier", "transit_days")
        said = {name: getattr(packed, name) for name in names}
        return said | {"value": as_typed(packed.value, shop.currency), "weight": _typed(packed.weight, shop)}
    charged = owing_of(order).charged
    return {"address": order.customer.address, "value": as_typed(charged, shop.currency) if charged else ""}


def _typed(grams: int | None, shop: Any) -> str:
    if grams is None:
        return ""
    return f"{float(grams / (weighing.POUND if shop.unit == 'in' else 1000)):.2f}"


@require_POST
@open_to(OWNER)
def tracking(request: SignedIn, number: int) -> HttpResponse:
    """Write down the carrier's number."""
    packed = get_object_or_404(Parcel.objects.select_related("order"), order__number=number)
    form = NumberForm(request.POST)
    if not form.is_valid():
        shown = room(request, number, "account")
        return parcel_page(request, shown, packed, status=422, number_form=form)
    packed.track(form.cleaned_data["tracking"], by=request.user)
    tell(request, "The number is written down.")
    return redirect("order-parcel", number)


@require_POST
@open_to(OWNER)
def arrival(request: SignedIn, number: int) -> HttpResponse:
    """Write down that it is there."""
    sent = Parcel.objects.select_related("order").filter(sent_on__isnull=False)
    packed = get_object_or_404(sent, order__number=number)
    form = ArrivalForm(request.POST, parcel=packed, today=the_shop().today())
    if not form.is_valid():
        shown = room(request, number, "account")
        return parcel_page(request, shown, packed, status=422, arrival_form=form)
    packed.arrive(form.cleaned_data["on"], by=request.user)
    tell(request, "Written down: it is there.")
    return redirect("order-parcel", number)


@require_POST
@open_to(OWNER)
def same_as(request: SignedIn, number: int) -> HttpResponse:
    """Copy cloth, quilting and terms of a quilt that was made for this customer before."""
    order = get_object_or_404(Order, number=number)
    form = LikeForm(request.POST, patterns=way_home.made_before(order))
    if not form.is_valid():
        fault = str(next(iter(form.errors.values()))[0])
        return account.page(request, number, status=422, refused=fault)
    pattern = form.cleaned_data["pattern"]
    try:
        way_home.make_like(order, pattern, by=request.user)
    except way_home.CannotCopy as fault:
        return account.page(request, number, status=409, refused=str(fault))
    tell(request, f"Cloth, quilting and terms are as for No. {pattern.number}. The price is reckoned anew.")
    return redirect("order-account", number)
