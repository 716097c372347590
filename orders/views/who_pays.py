"""Who pays an order in which shares, and the order that rests until it can go on."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders.account import payers, resting
from orders.account.money import the_shop
from orders.forms.who_pays import RestingForm, WhoPaysForm
from orders.models import Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell


@require_POST
@open_to(OWNER)
def who_pays(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    form = WhoPaysForm(request.POST, order=order, shop=the_shop())
    if not form.is_valid():
        return account.page(request, number, status=422, payers_form=form)
    try:
        payers.write_down(
            order, form.shares(), joining=form.joining(), by=request.user, amounts=form.amounts()
        )
    except payers.CannotLeave as fault:
        form.add_error(f"share-{fault.payer}" if fault.payer else None, str(fault))
        return account.page(request, number, status=422, payers_form=form)
    tell(request, "Written down who pays.")
    return redirect(f"{reverse('order-account', args=[number])}#who-pays")


@require_POST
@open_to(OWNER)
def pause(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    form = RestingForm(request.POST)
    if not form.is_valid():
        return account.page(request, number, status=422, resting_form=form)
    try:
        resting.pause(order, why=form.cleaned_data["why"], by=request.user)
    except resting.CannotRest as fault:
        return account.page(request, number, status=409, refused=str(fault))
    tell(request, "It rests. It asks for no time until it goes on.")
    return redirect("order-account", number)


@require_POST
@open_to(OWNER)
def going_on(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    resting.go_on(order, by=request.user)
    tell(request, "It goes on.")
    return redirect("order-account", number)
