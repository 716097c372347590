"""Quotes of an order: issued, said yes to, taken back; and the lines the owner adds."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders import papers
from orders.account import agreeing, quoting
from orders.account.money import names_that_pay, the_shop
from orders.forms.money import AcceptanceForm, ExemptionForm, ExtraLineForm
from orders.models import CannotAccept, Exemption, Order, Quote
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell


@require_POST
@open_to(OWNER)
def issue(request: SignedIn, number: int) -> HttpResponse:
    order, by = get_object_or_404(Order, number=number), request.user
    try:
        quote = quoting.issue(order, the_shop(), by=by)
    except quoting.CannotQuote:
        return account.page(request, number, status=422)
    papers.quote(quote, by=by)
    tell(request, f"Quote {quote.number} stands as it is told, until {quote.valid_until:%-d %B}.")
    return redirect("order-account", number)


@require_POST
@open_to(OWNER)
def acceptance(request: SignedIn, number: int, version: int) -> HttpResponse:
    quote = _quote(number, version)
    form = AcceptanceForm(request.POST, names=names_that_pay(quote.order))
    if not form.is_valid():
        return account.page(request, number, status=422, yes_form=form)
    said_by, how = form.cleaned_data["said_by"], form.cleaned_data["how"]
    by = request.user
    try:
        agreeing.accept(quote, said_by=said_by, how=how, by=by)
    except CannotAccept as fault:
        return account.page(request, number, status=409, refused=str(fault))
    tell(request, f"{said_by} said yes to quote {quote.number}. The work is laid out.")
    return redirect("order-account", number)


@require_POST
@open_to(OWNER)
def withdrawal(request: SignedIn, number: int, version: int) -> HttpResponse:
    quote, by = _quote(number, version), request.user
    quote.withdraw(by=by)
    tell(request, f"Quote {quote.number} is taken back.")
    return redirect("order-account", number)


@require_POST
@open_to(OWNER)
def line(request: SignedIn, number: int) -> HttpResponse:
    order, by = get_object_or_404(Order, number=number), request.user
    form = ExtraLineForm(request.POST, shop=the_shop())
    if not form.is_valid():
        return account.page(request, number, status=422, line_form=form)
    said = form.cleaned_data
    quoting.add_line(order, words=said["words"], kind=said["kind"], minor=said["amount"], by=by)
    return redirect(f"{reverse('order-account', args=[number])}?quote=new#price")


@require_POST
@open_to(OWNER)
def line_removal(request: SignedIn, number: int, pk: int) -> HttpResponse:
    order, by = get_object_or_404(Order, number=number), request.user
    quoting.take_out_line(order, pk, by=by)
    return redirect(f"{reverse('order-account', args=[number])}?quote=new#price")


@require_POST
@open_to(OWNER)
def exemption(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    form = ExemptionForm(request.POST)
    if not form.is_valid():
        return account.page(request, number, status=422, exemption_form=form)
    said = form.cleaned_data
    found = Exemption.objects.claim(order, words=said["words"], proof=said["proof"], by=request.user)
    stays = "the next quote has no tax" if found.proved_at else "tax stays on until the proof is here"
    tell(request, f"Written down; {stays}.")
    return redirect(f"{reverse('order-account', args=[number])}?quote=new#price")


@require_POST
@open_to(OWNER)
def exemption_removal(request: SignedIn, number: int) -> HttpResponse:
    order = get_object_or_404(Order, number=number)
    Exemption.objects.drop(order, by=request.user)
    return redirect(f"{reverse('order-account', args=[number])}?quote=new#price")


def _quote(number: int, version: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("order"), order__number=number, number=version)
