"""Payments of an order: taken, and taken back."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from orders import papers
from orders.account import giving_back, money
from orders.forms.money import AgreedPaymentForm
from orders.models import Entry, EntryConflict, Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell


@require_POST
@open_to(OWNER)
def payment(request: SignedIn, number: int) -> HttpResponse:
    order, by = get_object_or_404(Order, number=number), request.user
    form = AgreedPaymentForm(request.POST, order=order, shop=money.the_shop())
    if not form.is_valid():
        return account.page(request, number, status=422, payment_form=form)
    said = form.cleaned_data
    try:
        entry = money.take_payment(
            order,
            minor=said["amount"],
            payer=form.payers[said["payer"]],
            method=said["method"],
            key=said["key"],
            by=by,
            certificate=said["certificate"],
        )
    except money.CannotPay as fault:
        form.add_error("amount", str(fault))
        return account.page(request, number, status=422, payment_form=form)
    except EntryConflict as fault:
        return account.page(request, number, status=409, refused=str(fault))
    papers.deposit(entry, by=by)
    tell(request, f"Receipt {entry.receipt_number} is written.")
    return redirect("order-account", number)


@require_POST
@open_to(OWNER)
def reversal(request: SignedIn, number: int, receipt: int) -> HttpResponse:
    by = request.user
    entry = get_object_or_404(
        Entry.objects.of_payments(), order__number=number, receipt_number=receipt, reverses=None
    )
    back = giving_back.take_back(entry, by=by)
    papers.deposit(back, by=by)
    tell(request, f"Receipt {receipt} is taken back; receipt {back.receipt_number} says so.")
    return redirect("order-account", number)
