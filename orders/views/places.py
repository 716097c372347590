"""Where everything of one order is: places, the wash, tags, leftovers, parcels."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.forms import Form
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from orders import papers
from orders.background import photos
from orders.bag import leftovers, parcels, places
from orders.forms.places import LeftoversForm, ParcelForm, ParcelPhotosForm, PutForm, TagsForm
from orders.models import Bag, Opening, Order, Photo, Place, Shirt, Shop
from orders.planning import garment_of
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room
from planner.care import kept_out, wash_loads


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def where(request: SignedIn, number: int) -> HttpResponse:
    """Show where every shirt is; a POST puts some of them somewhere."""
    told = room(request, number, "bag")
    shirts = list(shirts_here(told["order"]))
    if request.method != "POST":
        return places_page(request, told, shirts)
    form = PutForm(request.POST, shirts=shirts)
    if not form.is_valid():
        return places_page(request, told, shirts, fault=str(next(iter(form.errors.values()))[0]))
    said = form.cleaned_data
    moved = places.put(form.chosen, said["place"], by=request.user, words=said["words"])
    label = Place(said["place"]).label
    tell(request, f"{len(moved)} now {label}." if moved else f"All of them were {label} already.")
    return redirect("bag-places", number)


def shirts_here(order: Order) -> Any:
    """Return the shirts of an order that have not left, by number."""
    found = Shirt.objects.of_order(order.number).filter(state__in=places.HERE)
    return found.select_related("bag").prefetch_related("photos", "pieces").order_by("number")


def places_page(
    request: SignedIn, told: dict[str, Any], shirts: list[Shirt], *, fault: str = "", **forms: Any
) -> HttpResponse:
    """Answer with the page of places; a fault stands above it (422)."""
    order = told["order"]
    by_id = {f"S{shirt.pk}": shirt for shirt in shirts}
    garments = [garment_of(shirt) for shirt in shirts if shirt.state == Shirt.State.IN_WORK]
    bags = list(order.bags.prefetch_related("shirts", "papers", "photos").order_by("received_at"))
    shown = {
        "piles": places.piles(order),
        "shirts": shirts,
        "places": Place.choices,
        "fault": fault,
        "loads": [
            {"load": load, "shirts": [by_id[id] for id in load.garments]} for load in wash_loads(garments)
        ],
        "kept_out": [
            {"shirt": by_id[each.garment], "why": each.why}
            for each in kept_out(garments)
            if by_id[each.garment].wash != "ready"
        ],
        "bags": [{"bag": bag, "tally": bag.tally(), "opening": opening_of(bag)} for bag in bags],
        "tags": TagsForm(),
        "has_address": bool(settings.ADDRESS),
        "leftovers": leftovers.due(order),
        "counted": leftovers.last_count(order),
    }
    return render(request, "places/page.html", told | shown | forms, status=422 if fault or forms else 200)


def opening_of(bag: Bag) -> Opening | None:
    return Opening.objects.filter(bag=bag).first()


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def tags(request: SignedIn, shop: Shop, number: int, pk: int) -> HttpResponse:
    """Print the tags of a bag."""
    bag = get_object_or_404(Bag, pk=pk, orders__number=number)
    form = TagsForm(request.POST)
    if not form.is_valid():
        told = room(request, number, "bag")
        return places_page(request, told, list(shirts_here(told["order"])), tags=form)
    said = form.cleaned_data
    made = papers.tags(
        bag, sheet=said["sheet"], panels=said["panels"], skipped=said["skipped"] or 0, by=request.user
    )
    return redirect("paper", made.number)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def leftover_count(request: SignedIn, number: int) -> HttpResponse:
    """Count the bundles of leftovers back, each by its number."""
    told = room(request, number, "bag")
    order = told["order"]
    shirts = leftovers.due(order)
    form = LeftoversForm(request.POST if request.method == "POST" else None, shirts=shirts)
    if form.is_valid():
        done = leftovers.count(order, form.cleaned_data["here"], by=request.user)
        tell(request, f"{len(done.there)} of {len(shirts)} bundles are here.")
        return redirect("bag-places", number)
    last = {"shirts": shirts, "counted": leftovers.last_count(order), "form": form}
    return render(request, "places/leftovers.html", told | last, status=422 if form.is_bound else 200)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def parcel(request: SignedIn, number: int, pk: int) -> HttpResponse:
    """Open a parcel on camera."""
    order = get_object_or_404(Order, number=number)
    bag = get_object_or_404(Bag, pk=pk, orders=order)
    form = ParcelForm(request.POST or None, request.FILES or None, bag=bag)
    told = parcel_shown(order, bag) | {"form": form}
    if request.method == "POST" and form.is_valid():
        both = (taken(form, "sealed", request), taken(form, "spread", request))
        if not form.errors and all_taken(form, bag, request):
            said = form.cleaned_data
            facts = {name: said[name] for name in ("box", "found", "said", "film")}
            parcels.open_parcel(bag, by=request.user, photos=both, **facts)
            tell(request, "The parcel is open, and its count is written down.")
            return redirect("bag-places", number)
    return render(request, "places/parcel.html", told, status=422 if request.method == "POST" else 200)


def parcel_shown(order: Order, bag: Bag) -> dict[str, Any]:
    """Return what the page of a parcel shows whether it is open or not."""
    return {"order": order, "bag": bag, "opening": opening_of(bag), "more_form": ParcelPhotosForm()}


@require_POST
@open_to(OWNER, HELPER)
def parcel_photos(request: SignedIn, number: int, pk: int) -> HttpResponse:
    """Add photos to a parcel that was opened."""
    order = get_object_or_404(Order, number=number)
    bag = get_object_or_404(Bag.objects.filter(opening__isnull=False), pk=pk, orders=order)
    form = ParcelPhotosForm(request.POST, request.FILES)
    if form.is_valid() and all_taken(form, bag, request):
        tell(request, "Kept with the parcel.")
        return redirect("bag-parcel", number, pk)
    return render(request, "places/parcel.html", parcel_shown(order, bag) | {"more_form": form}, status=422)


def all_taken(form: Form, bag: Bag, request: SignedIn) -> bool:
    """Keep each of several photos with the bag; a refused one is a fault of the field, the others stay."""
    for upload in form.cleaned_data["more"]:
        try:
            photos.receive(upload, of=bag, by=request.user)
        except photos.Refused as fault:
            form.add_error("more", f"{upload.name}: {fault}")
    return not form.errors


def taken(form: ParcelForm, name: str, request: SignedIn) -> Photo | None:
    """Return a photo of the form; one that is refused becomes a fault of its field."""
    upload = form.cleaned_data.get(name)
    if not upload:
        return None
    try:
        return photos.receive(upload, by=request.user)
    except photos.Refused as fault:
        form.add_error(name, str(fault))
        return None
