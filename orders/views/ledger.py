"""What happens to money after a price was agreed: each thing is one address, sent with POST, counted once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django import forms
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from orders import papers
from orders.account import adding, giving_back, money, paid_together, proposed
from orders.forms.ledger import AddedForm, CreditForm, GiveBackForm, ProposalForm, TipForm, WriteOffForm
from orders.models import Entry, EntryConflict, Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell

NOUNS = ("rounds", "storage", "calling-off")


@require_POST
@open_to(OWNER)
def added(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    form = AddedForm(request.POST, shop=money.the_shop())

    def write(said: dict[str, Any]) -> Entry:
        return adding.add(
            order, words=said["words"], minor=said["amount"], taxed=said["taxed"] == "yes",
            key=said["key"], by=request.user,
        )  # fmt: skip

    return _answer(request, order, write, added_form=form)


@require_POST
@open_to(OWNER)
def credit(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    form = CreditForm(request.POST, shop=money.the_shop())

    def write(said: dict[str, Any]) -> Entry:
        return adding.credit(
            order, words=said["words"], minor=said["amount"], key=said["key"], by=request.user
        )

    return _answer(request, order, write, credit_form=form)


@require_POST
@open_to(OWNER)
def write_off(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)

    def write(said: dict[str, Any]) -> Entry:
        return adding.write_off(order, words=said["words"], key=said["key"], by=request.user)

    return _answer(request, order, write, write_off_form=WriteOffForm(request.POST))


@require_POST
@open_to(OWNER)
def tip(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    form = TipForm(request.POST, order=order, shop=money.the_shop())

    def write(said: dict[str, Any]) -> Entry:
        return adding.take_tip(
            order, minor=said["amount"], payer=form.payers[said["payer"]], method=said["method"],
            key=said["key"], by=request.user,
        )  # fmt: skip

    return _answer(request, order, write, tip_form=form)


@require_POST
@open_to(OWNER)
def proposal(request: SignedIn, number: int, noun: str) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    if noun not in NOUNS:
        raise Http404
    form = ProposalForm(request.POST, noun=noun)

    def write(said: dict[str, Any]) -> Entry:
        key = proposed.key_of(order, noun, said["key"])
        return proposed.take(order, noun, taxed=said["taxed"] == "yes", key=key, by=request.user)

    return _answer(request, order, write, proposal_form=form)


@require_POST
@open_to(OWNER)
def giving(request: SignedIn, number: int, receipt: int) -> HttpResponse:
    entry = _payment(number, receipt)
    form = GiveBackForm(request.POST, receipt=receipt, shop=money.the_shop())

    def write(said: dict[str, Any]) -> Entry:
        return giving_back.give_back(
            entry, minor=said["amount"], method=said["method"], key=said["key"], by=request.user
        )

    assert entry.order is not None
    return _answer(request, entry.order, write, back_form=form)


@require_POST
@open_to(OWNER)
def bounce(request: SignedIn, number: int, receipt: int) -> HttpResponse:
    return _undo(request, number, lambda: paid_together.bounced(_payment(number, receipt), by=request.user))


@require_POST
@open_to(OWNER)
def entry_reversal(request: SignedIn, number: int, pk: int) -> HttpResponse:
    entry = get_object_or_404(Entry, order__number=number, pk=pk, kind__in=giving_back.CAN_BE_TAKEN_BACK)
    return _undo(request, number, lambda: paid_together.take_back(entry, by=request.user))


@require_POST
@open_to(OWNER)
def calling_off(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    order.cancel(by=request.user)
    tell(request, "The order is called off. Nothing is taken off the account until you say so.")
    return redirect("order-account", number)


def _payment(number: int, receipt: int) -> Entry:
    paid = Entry.objects.filter(kind=Entry.Kind.PAYMENT)
    return get_object_or_404(paid, order__number=number, receipt_number=receipt)


def _answer(
    request: SignedIn, order: Order, write: Callable[[dict[str, Any]], Entry], **sent: forms.Form
) -> HttpResponse:
    ((name, form),) = sent.items()
    if not form.is_valid():
        return account.page(request, order.number, status=422, **{name: form})
    try:
        (entry,) = papers.with_papers(lambda: (write(form.cleaned_data),), by=request.user)
    except money.CannotPay as fault:
        form.add_error("amount" if "amount" in form.fields else None, str(fault))
        return account.page(request, order.number, status=422, **{name: form})
    except EntryConflict as fault:
        return account.page(request, order.number, status=409, refused=str(fault))
    with_number = f" Receipt {entry.receipt_number}." if entry.receipt_number else ""
    tell(request, f"{entry.words}: it is on the account.{with_number}")
    return redirect("order-account", order.number)


def _undo(request: SignedIn, number: int, undo: Callable[[], tuple[Entry, ...]]) -> HttpResponse:
    try:
        entries = papers.with_papers(undo, by=request.user)
    except (money.CannotPay, EntryConflict) as fault:
        return account.page(request, number, status=409, refused=str(fault))
    tell(request, " ".join(f"{each.words}." for each in entries))
    return redirect("order-account", number)
