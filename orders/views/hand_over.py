"""The hand-over: what has to be in order before a quilt leaves."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from orders import handing_over, papers
from orders.forms.handing_over import HandOverForm
from orders.models import Order
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
    if request.method == "POST" and form.is_valid() and handed_over(request, order, form):
        return redirect("order-account", number)
    form.ask_plainly()
    status = 422 if form.is_bound else 200
    return render(request, "hand_over/page.html", shown | {"stands": stands, "form": form}, status=status)


def handed_over(request: SignedIn, order: Order, form: HandOverForm) -> bool:
    by = request.user
    try:
        handing_over.hand_over(order, form.answers(), by=by)
    except handing_over.NotYet as fault:
        form.say(fault.faults)
        return False
    papers.receipt(order, by=by)
    papers.care(order, by=by)
    tell(request, f"Handed to {order.handed_to}. The receipt and the care card are below.")
    return True
