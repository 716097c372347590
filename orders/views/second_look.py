"""The second look: each piece of a memorial or a contested shirt is looked at twice before the blade."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders.models import Order, Shop
from orders.quilt import quilt_looks
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room
from orders.yes import asking, yes_to_cut


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def looks(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    told = room(request, number, "bench")
    order = told["order"]
    found = asking.to_look_at(order, quilt_looks.quilt_of(order))
    return render(request, "yes/looks.html", told | {"looked": found})


@require_POST
@open_to(OWNER, HELPER)
def done(request: SignedIn, number: int, pk: int) -> HttpResponse:
    """Write that whoever is signed in looked at a piece."""
    order = get_object_or_404(Order, number=number)
    piece = next((each for each in asking.pieces_to_ask(order) if each.pk == pk), None)
    if piece is None:
        raise Http404
    yes_to_cut.look(order, piece, by=request.user)
    tell(request, f"{request.user} looked at {piece.name}.")
    return redirect("bench-look", number)
