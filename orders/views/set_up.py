"""An empty shop: who owns it, then four questions, the place first."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from orders.door import let_in
from orders.forms.set_up import FirstOwnerForm, PlaceForm, ShopForm
from orders.models import Person, Shop
from orders.opening import OwnerThere, make_first_owner, open_shop
from orders.views.callers import ANYONE, OWNER, SignedIn, open_to


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(ANYONE)
@sensitive_post_parameters("password")
def first_owner(request: HttpRequest) -> HttpResponse:
    if Person.objects.exists():
        return redirect("sign-in")
    form = FirstOwnerForm(request.POST or None)
    if not form.is_valid():
        return render(request, "set_up/owner.html", {"form": form}, status=422 if form.is_bound else 200)
    try:
        owner = make_first_owner(form.cleaned_data["name"], password=form.cleaned_data["password"])
    except OwnerThere:
        return redirect("sign-in")
    let_in(request, owner)
    return redirect("set-up")


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
def set_up(request: SignedIn) -> HttpResponse:
    if Shop.objects.the() is not None:
        return redirect("today")
    place = PlaceForm(request.POST if request.method == "POST" else request.GET or None)
    if not place.is_valid():
        return render(request, "set_up/place.html", {"form": place}, status=422 if place.is_bound else 200)
    chosen = place.cleaned_data["place"]
    form = ShopForm(request.POST if request.method == "POST" else None, place=chosen)
    if not form.is_valid():
        told = {"form": form, "place": chosen, "country": form.country}
        return render(request, "set_up/shop.html", told, status=422 if form.is_bound else 200)
    open_shop(form.answers(), hours=form.cleaned_data["hours"], block=form.price, by=request.user)
    return redirect("today")
