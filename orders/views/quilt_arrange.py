"""The Quilt room: blocks pinned and unpinned, and the others rearranged."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from orders.forms.arrange import RearrangeForm
from orders.quilt import arranging, arranging_room, layouts
from orders.quilt.block_moves import CannotMove
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.quilt import order_and_shop, show, to_room
from orders.views.quilt_blocks import move
from orders.views.stale import refuse_stale


@require_POST
@open_to(OWNER)
@refuse_stale
def pinning(request: SignedIn, number: int) -> HttpResponse:
    return move(request, number, lambda order, form: layouts.pin(
        order, form["block"], seen=form["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def unpinning(request: SignedIn, number: int) -> HttpResponse:
    return move(request, number, lambda order, form: layouts.unpin(
        order, form["block"], seen=form["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def rearranging(request: SignedIn, number: int) -> HttpResponse:
    order, shop = order_and_shop(number)
    form = RearrangeForm(request.POST, names=arranging_room.names_in(order), unit=shop.unit)
    if not form.is_valid():
        return show(request, number, status=422, rearrange_form=form)
    try:
        words = arranging.rearrange(order, form.asked(), seen=form.cleaned_data["seen"], by=request.user)
    except CannotMove as reason:
        form.add_error(None, str(reason))
        return show(request, number, status=422, rearrange_form=form)
    tell(request, words)
    return to_room(number, "picture")


@require_POST
@open_to(OWNER)
@refuse_stale
def ending(request: SignedIn, number: int) -> HttpResponse:
    """Stop the search and take the best so far."""
    order, _ = order_and_shop(number)
    tell(request, arranging.stop(order, by=request.user))
    return to_room(number, "picture")


@require_safe
@open_to(OWNER, HELPER)
def progress(request: SignedIn, number: int) -> HttpResponse:
    """Tell how far the search is; once it has ended, the page asks for what has changed in the room."""
    order, _ = order_and_shop(number)
    under_way = arranging.in_the_background(order)
    if not request.htmx:  # type: ignore[attr-defined]
        return to_room(number, "rearrange")
    goes_on = under_way is not None and under_way.is_open
    facts = {"order": order, "under_way": under_way, "is_owner": request.user.role == OWNER}
    return render(request, "quilt/rearranging.html" if goes_on else "quilt/rearranged.html", facts)
