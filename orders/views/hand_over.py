"""The hand-over: what has to be in order before a quilt leaves."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from orders import papers
from orders.account.money import the_shop
from orders.customer import handing_over
from orders.forms.going import WayForm
from orders.forms.handing_over import HandOverForm, KeepOffForm
from orders.models import Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.rooms import room


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
def hand_over(request: SignedIn, number: int) -> HttpResponse:
    shown = room(request, number, "account")
    order, stands = shown["order"], handing_over.checklist(shown["order"])
    if order.handed_over_at is not None:
        return redirect("order-account", number)
    form = HandOverForm(request.POST if request.method == "POST" else None, stands=stands)
    if request.method == "POST" and handed_over(request, order, form):
        return redirect("order-account", number)
    form.ask_plainly()
    is_kept_off = handing_over.is_the_day_to_keep_off(order)
    status = 422 if form.is_bound else 200
    shown |= {"stands": stands, "form": form, "is_kept_off": is_kept_off}
    shown["way_form"] = WayForm(initial={"way": order.leaving})
    return render(request, "hand_over/page.html", shown, status=status)


@require_POST
@open_to(OWNER)
def keep_off(request: SignedIn, number: int) -> HttpResponse:
    """Write down the day on which it must not leave the shop, or take it out."""
    order = get_object_or_404(Order, number=number)
    form = KeepOffForm(request.POST, today=the_shop().today())
    if not form.is_valid():
        return account.page(request, number, status=422, keep_off_form=form)
    order.keep_off(form.cleaned_data["day"], by=request.user)
    tell(request, "Written down: it does not leave on that day." if order.not_on else "No day is kept off.")
    return redirect("order-account", number)


def handed_over(request: SignedIn, order: Order, form: HandOverForm) -> bool:
    """Hand it over, or put all that is in the way beside its question at once."""
    by = request.user
    if not form.is_valid():
        form.say(handing_over.faults_of(order, form.stands, form.answers()))
        return False
    try:
        handing_over.hand_over(order, form.answers(), by=by)
    except handing_over.NotYet as fault:
        form.say(fault.faults)
        return False
    papers.receipt(order, by=by)
    papers.care(order, by=by)
    papers.hand_over(order, by=by)
    tell(request, f"Handed to {order.handed_to}. Receipt, care card and hand-over note are below.")
    return True
