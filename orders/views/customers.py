"""Customers: how to reach them, what may be shown of theirs, all of theirs in one file, and forgetting."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.customer import forgetting
from orders.customer.changing import change
from orders.customer.showing import showing_of
from orders.forms.customer import CustomerForm, ForgettingForm
from orders.keep import taken
from orders.models import Customer, Order, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.stale import refuse_stale


@require_safe
@open_to(OWNER)
@in_the_shop
def customers(request: SignedIn, shop: Shop) -> HttpResponse:
    sought = request.GET.get("name", "").replace("\0", "").strip()[:120]
    found = Customer.objects.by_name().called(sought)[:200]
    return render(request, "customers/page.html", {"shop": shop, "customers": found, "sought": sought})


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
@refuse_stale
def customer(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    whose = get_object_or_404(Customer, pk=pk, forgotten_at=None)
    form = CustomerForm(request.POST if request.method == "POST" else None, instance=whose)
    if form.is_valid():
        change(Customer.objects.get(pk=pk), seen=form.cleaned_data["seen"], by=request.user, **form.written)
        tell(request, f"{form.cleaned_data['name']}: kept.")
        return redirect("customer", pk)
    return show(request, shop, Customer.objects.get(pk=pk), form=form)


def show(request: SignedIn, shop: Shop, whose: Customer, *, form: Any) -> HttpResponse:
    told = {
        "shop": shop,
        "today": shop.today(),
        "customer": whose,
        "form": form,
        "orders": Order.objects.filter(customer=whose).order_by("-number"),
        "showing": showing_of(whose, on=shop.today()),
        "made": taken.made_for_one(whose),
    }
    status = 422 if form.is_bound and not form.is_valid() else 200
    return render(request, "customers/customer.html", told, status=status)


@require_POST
@open_to(OWNER)
@in_the_shop
def file(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    taken.ask_for_one(get_object_or_404(Customer, pk=pk, forgotten_at=None), by=request.user)
    tell(request, "It is being put into one file. It lies below once it is made.")
    return redirect("customer", pk)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
@refuse_stale
def forget(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    whose = get_object_or_404(Customer, pk=pk, forgotten_at=None)
    form = ForgettingForm(request.POST if request.method == "POST" else None, customer=whose)
    status, refused = 422 if form.is_bound else 200, ""
    if form.is_valid():
        try:
            forgetting.forget(whose, seen=form.cleaned_data["seen"], by=request.user)
        except forgetting.CannotForget as reason:
            status, refused = 409, str(reason)
        else:
            tell(request, "Forgotten. What they paid stays in the books, under a number.")
            return redirect("customer-list")
    told = {"shop": shop, "customer": whose, "form": form, "refused": refused}
    told["standing"] = forgetting.standing_of(whose)
    return render(request, "customers/forgetting.html", told, status=status)
