"""What happens to a line of the log: taken out, kept apart, taken apart, welcomed, its tag written anew."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders.bag import groups
from orders.forms.shirt import ApartForm, SplitForm, StrikeForm
from orders.models import Shop
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.shirts import of_order, shirt_page


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def striking(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    form = StrikeForm(request.POST)
    if not form.is_valid():
        return shirt_page(request, shop, number, found, strike_form=form, status=422)
    try:
        found.strike(by=request.user, why=form.cleaned_data["why"])
    except ValueError as fault:
        tell(request, str(fault))
    else:
        undo = reverse("shirt-finding", args=[number, shirt])
        tell(request, f"{found} is taken out of the log. Its number is given to no other.", undo=undo)
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def quarantine(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    form = ApartForm(request.POST)
    if not form.is_valid():
        return shirt_page(request, shop, number, found, apart_form=form, status=422)
    found.keep_apart(form.cleaned_data["why"], by=request.user)
    tell(request, f"{found} is kept apart.", undo=reverse("shirt-release", args=[number, shirt]))
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
def release(request: SignedIn, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    found.bring_in(by=request.user)
    tell(request, f"{found} lies with the others again.")
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def splitting(request: SignedIn, shop: Shop, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    form = SplitForm(request.POST)
    if form.is_valid():
        try:
            own = groups.split(found, form.cleaned_data["out"], by=request.user)
        except groups.CannotSplit as fault:
            form.add_error("out", str(fault))
        else:
            tell(request, f"{own.garments} of {found} are {own} now. Write {own} on their tag.")
            return redirect("shirt", number, own.number)
    return shirt_page(request, shop, number, found, split_form=form, status=422)


@require_POST
@open_to(OWNER, HELPER)
def welcome(request: SignedIn, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    groups.welcome(found, by=request.user)
    tell(request, f"{found} is one of the bag. Make a new receipt when the count has grown.")
    return redirect("shirt", number, shirt)


@require_POST
@open_to(OWNER, HELPER)
def tag(request: SignedIn, number: int, shirt: int) -> HttpResponse:
    found = of_order(number, shirt)
    found.write_tag(by=request.user)
    tell(request, f"{found} stands on its tag.")
    return redirect("shirt", number, shirt)
