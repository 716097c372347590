"""Payments of an order: taken, and taken back."""

from __future__ import annotations

from collections.abc import Callable

from django import forms
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from orders import papers
from orders.account import money, paid_together
from orders.forms.money import AgreedPaymentForm, TogetherPaymentForm
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

    def take() -> tuple[Entry, ...]:
        return (
            money.take_payment(
                order, minor=said["amount"], payer=form.payers[said["payer"]], method=said["method"],
                key=said["key"], by=by, certificate=said["certificate"],
            ),
        )  # fmt: skip

    return _answer(request, number, take, payment_form=form)


@require_POST
@open_to(OWNER)
def together(request: SignedIn, number: int) -> HttpResponse:
    """Take one sum for all that was told together with this order."""
    order, by = get_object_or_404(Order, number=number), request.user
    quotes = paid_together.agreed_with(order.quotes.agreed().first())
    if not quotes:
        return account.page(request, number, status=409, refused=ALONE)
    payers = paid_together.payers_of(quotes)
    form = TogetherPaymentForm(request.POST, order=order, shop=money.the_shop(), payers=payers)
    if not form.is_valid():
        return account.page(request, number, status=422, together_payment=form)
    said = form.cleaned_data

    def take() -> tuple[Entry, ...]:
        payer, key = form.payers[said["payer"]], said["key"]
        return paid_together.take(
            order, minor=said["amount"], payer=payer, method=said["method"], key=key, by=by
        )

    return _answer(request, number, take, together_payment=form)


def _answer(
    request: SignedIn, number: int, take: Callable[[], tuple[Entry, ...]], **sent: forms.Form
) -> HttpResponse:
    ((name, form),) = sent.items()
    try:
        entries = papers.with_papers(take, by=request.user)
    except money.CannotPay as fault:
        form.add_error("amount", str(fault))
        return account.page(request, number, status=422, **{name: form})
    except EntryConflict as fault:
        return account.page(request, number, status=409, refused=str(fault))
    tell(request, f"{receipts(entries)} written.")
    return redirect("order-account", number)


def receipts(entries: tuple[Entry, ...]) -> str:
    """Name the receipts in words: `Receipt 5 is`, `Receipts 5 and 6 are`."""
    numbers = [str(each.receipt_number) for each in entries]
    if len(numbers) == 1:
        return f"Receipt {numbers[0]} is"
    return f"Receipts {', '.join(numbers[:-1])} and {numbers[-1]} are"


@require_POST
@open_to(OWNER)
def reversal(request: SignedIn, number: int, receipt: int) -> HttpResponse:
    by = request.user
    entry = get_object_or_404(
        Entry.objects.of_payments(), order__number=number, receipt_number=receipt, reverses=None
    )
    try:
        back = papers.with_papers(lambda: paid_together.take_back(entry, by=by), by=by)
    except (money.CannotPay, EntryConflict) as fault:
        return account.page(request, number, status=409, refused=str(fault))
    says = "says" if len(back) == 1 else "say"
    new = receipts(back).removesuffix(" is").removesuffix(" are").replace("Receipt", "receipt")
    first = receipts(paid_together.all_of(entry))
    tell(request, f"{first} taken back; {new} {says} so.")
    return redirect("order-account", number)


ALONE = "Nothing was told together with this order. Take the payment for it alone."
