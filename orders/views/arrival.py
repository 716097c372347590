"""A bag comes in while she stands there: the count, both names under it, what is true of all of it."""

from __future__ import annotations

from django.http import HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders.background import photos
from orders.bag import intake
from orders.forms.bag import ArrivalForm, SigningForm, WholeBagForm
from orders.forms.two_phones import differences, with_version
from orders.models import Bag, Order, Person, Signature, Stale
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.uploads import (
    client_id_of,
    keep,
    new_client_id,
    received,
    received_from_queue,
    refused_in_queue,
)

COUNTED_ANEW = "Somebody counted again: look at the number above, and sign for that."


def arrival_form(order: Order) -> ArrivalForm:
    """Return the questions of the door with the usual answers."""
    return ArrivalForm(initial={"brought_by": order.customer.name, "client_id": new_client_id()})


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def arrival(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("customer"), number=number)
    if request.method != "POST":
        return render(request, "bag/arrival.html", {"order": order, "form": arrival_form(order)})
    form = ArrivalForm(request.POST, request.FILES)
    bag = take_in(form, order, by=request.user)
    if bag is not None:
        return redirect("bag-signing", number, bag.pk)
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


@require_POST
@open_to(OWNER, HELPER)
def pile_photo(request: SignedIn, number: int, client_id: str) -> JsonResponse:
    """Take the photo of a pile from a phone’s queue, after the bag itself; sent twice, it is one photo."""
    bag = get_object_or_404(Bag, orders__number=number, client_id=client_id)
    try:
        photo = received_from_queue(request, of=bag, by=request.user)
    except photos.Refused as fault:
        return refused_in_queue(fault)
    return JsonResponse({"photo": photo.pk})


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def signing(request: SignedIn, number: int, pk: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    bag = get_object_or_404(Bag.objects.prefetch_related("photos"), pk=pk, orders=order)
    names = {"handed_in": bag.brought_by, "received": request.user.name, "count": bag.count}
    shown = {"order": order, "bag": bag, "photo": bag.photos.first(), "form": SigningForm(initial=names)}
    if request.method != "POST":
        return render(request, "bag/signing.html", shown)
    form = SigningForm(request.POST)
    if form.is_valid() and form.cleaned_data["count"] != bag.count:
        form.add_error(None, COUNTED_ANEW)
        form.data = {**request.POST.dict(), "count": bag.count or ""}
    if form.errors:
        return render(request, "bag/signing.html", shown | {"form": form}, status=422)
    for role, name in ((Signature.Role.HANDED_IN, "handed_in"), (Signature.Role.RECEIVED, "received")):
        said = form.cleaned_data
        bag.sign(role, said[name], said[f"{name}_strokes"], by=request.user)
    return redirect("bag-whole", number, pk) if bag.is_inspected else redirect("order-bag", number)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def whole(request: SignedIn, number: int, pk: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    bag = get_object_or_404(Bag, pk=pk, orders=order)
    shown = {"order": order, "bag": bag, "form": WholeBagForm(initial=WholeBagForm.of(bag))}
    if request.method != "POST":
        return render(request, "bag/whole.html", shown)
    form = WholeBagForm(request.POST)
    if not form.is_valid():
        return render(request, "bag/whole.html", shown | {"form": form}, status=422)
    try:
        intake.write_bag(bag, seen=form.cleaned_data["version"] or 0, by=request.user, **form.facts)
    except Stale:
        both = {
            "form": with_version(form, bag.version),
            "differences": differences(form, WholeBagForm(initial=WholeBagForm.of(bag))),
        }
        return render(request, "bag/whole.html", shown | both, status=409)
    if "later" in request.POST or not bag.is_inspected:
        tell(request, "Kept.")
        return redirect("order-bag", number)
    return redirect(f"{reverse('order-log', args=[number])}?bag={bag.pk}")
