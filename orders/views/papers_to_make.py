"""Papers that are made when they are asked for."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from orders import papers
from orders.account.money import the_shop
from orders.account.proposed import ready_since
from orders.forms.papers import UnclaimedForm
from orders.models import Enquiry, Order
from orders.views import account
from orders.views.callers import OWNER, SignedIn, open_to

ASKED_FOR = {
    "materials": papers.materials,
    "care-card": papers.care,
    "hand-over-note": papers.hand_over,
    "booklet": papers.booklet,
    "party-card": papers.party_card,
    "receipt": papers.receipt,
}


@require_POST
@open_to(OWNER)
def make(request: SignedIn, number: int, noun: str) -> HttpResponse:
    """Make one of the papers that need no more to be said."""
    order = get_object_or_404(Order, number=number)
    if noun not in ASKED_FOR:
        raise Http404
    return redirect("paper", ASKED_FOR[noun](order, by=request.user).number)


@require_POST
@open_to(OWNER)
def unclaimed(request: SignedIn, number: int) -> HttpResponse:
    """Make the notice about a quilt that is finished and still here."""
    order, shop = get_object_or_404(Order, number=number), the_shop()
    if order.handed_over_at is not None or ready_since(order, shop) is None:
        return account.page(request, number, status=409, refused=NOT_WAITING)
    form = UnclaimedForm(request.POST, today=shop.today())
    if not form.is_valid():
        return account.page(request, number, status=422, unclaimed_form=form)
    return redirect("paper", papers.unclaimed(order, **form.cleaned_data, by=request.user).number)


@require_POST
@open_to(OWNER)
def estimate(request: SignedIn, pk: int) -> HttpResponse:
    """Make the paper of an enquiry's band; one without a band goes back to be reckoned."""
    try:
        made = papers.estimate(get_object_or_404(Enquiry.objects.known(), pk=pk), by=request.user)
    except papers.NoBand:
        return redirect("enquiry", pk)
    return redirect("paper", made.number)


NOT_WAITING = "Such a notice is for a quilt that is finished and still in the shop."
