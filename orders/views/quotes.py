"""Quotes of an order: issued, said yes to, taken back; and the lines the owner adds."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from orders import papers
from orders.account import agreeing, hourly, parts_due, quoting, told_together
from orders.account.money import the_shop
from orders.forms.money import AcceptanceForm, ExemptionForm, ExtraLineForm
from orders.forms.pricing import HoursForm, PartsForm, TogetherForm
from orders.models import CannotAccept, Exemption, Order, Quote
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell


@require_POST
@open_to(OWNER)
def issue(request: SignedIn, number: int) -> HttpResponse:
    order, by = get_object_or_404(Order, number=number), request.user
    form = TogetherForm(request.POST, others=told_together.can_be_told_with(order))
    if not form.is_valid():
        return account.page(request, number, status=422, together_form=form)
    try:
        quote = quoting.issue(order, the_shop(), by=by, also=form.orders())
    except quoting.CannotQuote as reasons:
        form.add_error("also", str(reasons))
        return account.page(request, number, status=422, together_form=form)
    papers.quote(quote, by=by)
    tell(request, f"Quote {quote.number} stands as it is told, until {quote.valid_until:%-d %B}.")
    return redirect("order-account", number)


@require_POST
@open_to(OWNER)
def acceptance(request: SignedIn, number: int, version: int) -> HttpResponse:
    quote = _quote(number, version)
    form = AcceptanceForm(request.POST, names=agreeing.names_for(quote.all_told()))
    if not form.is_valid():
        return account.page(request, number, status=422, yes_form=form)
    said_by, how = form.cleaned_data["said_by"], form.cleaned_data["how"]
    by = request.user
    try:
        agreeing.accept(quote, said_by=said_by, how=how, by=by)
    except CannotAccept as fault:
        return account.page(request, number, status=409, refused=str(fault))
    laid_out = " The work is laid out." if any(each.minutes for each in quote.all_told()) else ""
    tell(request, f"{said_by} said yes to quote {quote.number}.{laid_out}")
    return redirect("order-account", number)


@require_POST
@open_to(OWNER)
def withdrawal(request: SignedIn, number: int, version: int) -> HttpResponse:
    quote, by = _quote(number, version), request.user
    told_together.withdraw(quote, by=by)
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
def hours(request: SignedIn, number: int) -> HttpResponse:
    order, by, shop = get_object_or_404(Order, number=number), request.user, the_shop()
    form = HoursForm(request.POST, shop=shop)
    if not form.is_valid():
        return account.page(request, number, status=422, hours_form=form)
    said = form.cleaned_data
    hourly.put(
        order, said["words"], minutes=said["hours"], an_hour=said["an_hour"], most=said["most"],
        currency=shop.currency, by=by,
    )  # fmt: skip
    return redirect(f"{reverse('order-account', args=[number])}?quote=new#price")


@require_POST
@open_to(OWNER)
def parts(request: SignedIn, number: int) -> HttpResponse:
    order, by = get_object_or_404(Order, number=number), request.user
    form = PartsForm(request.POST, order=order, today=the_shop().today())
    if not form.is_valid():
        return account.page(request, number, status=422, parts_form=form)
    parts_due.name_days(order, form.cleaned_data["days"], by=by)
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
