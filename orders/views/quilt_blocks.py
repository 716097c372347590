"""The Quilt room: what is done with a single block and with the border, taken back and done again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_POST

from orders.forms.block import BorderForm, PanelForm, StripsForm
from orders.forms.finishing import FinishForm
from orders.forms.quilt import LeaveOutForm, MoveForm
from orders.models import Order, Piece
from orders.quilt import altering, finishing, layouts
from orders.quilt.block_moves import CannotMove
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.quilt import is_about_the_wall, order_and_shop, seen_in, show, to_room, wall
from orders.views.stale import refuse_stale

Verb = Callable[[Order, dict[str, Any]], object]


@require_POST
@open_to(OWNER)
@refuse_stale
def trade(request: SignedIn, number: int) -> HttpResponse:
    return move(request, number, lambda order, form: layouts.trade(
        order, form["block"], form["other"], seen=form["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def turn(request: SignedIn, number: int) -> HttpResponse:
    return move(request, number, lambda order, form: layouts.turn(
        order, form["block"], seen=form["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def leaving_out(request: SignedIn, number: int) -> HttpResponse:
    form, query = LeaveOutForm(request.POST), tapped(request, "leave")
    if not form.is_valid():
        return answered(request, number, status=422, leave_form=form, query=query)
    said = form.cleaned_data
    return do(request, number, query, lambda order: layouts.leave_out(
        order, said["block"], why=said["why"], seen=said["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def strips(request: SignedIn, number: int) -> HttpResponse:
    """Put strips round the shirt of a block, or take them off."""
    _, shop = order_and_shop(number)
    form, query = StripsForm(request.POST, unit=shop.unit), tapped(request, "strips")
    if not form.is_valid():
        return answered(request, number, status=422, strips_form=form, query=query)
    said, frame = form.cleaned_data, form.frame
    return do(request, number, query, lambda order: altering.add_strips(
        order, said["block"], frame, seen=said["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def panel(request: SignedIn, number: int) -> HttpResponse:
    """Show another side, or another shirt, in a block."""
    order, _ = order_and_shop(number)
    form, query = PanelForm(request.POST), tapped(request, "side")
    if not form.is_valid():
        return answered(request, number, status=422, cannot="Tap the one that is shown here.", query=query)
    said = form.cleaned_data
    piece = piece_or_404(order, str(said["piece"]))
    return do(request, number, query, lambda order: altering.show_instead(
        order, said["block"], piece, seen=said["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def border(request: SignedIn, number: int) -> HttpResponse:
    _, shop = order_and_shop(number)
    form = BorderForm(request.POST, unit=shop.unit)
    if not form.is_valid():
        return show(request, number, status=422, border_form=form)
    seen, widths = form.cleaned_data["seen"], form.widths
    return do(request, number, {}, lambda order: altering.add_border(
        order, **widths, seen=seen, by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def finish(request: SignedIn, number: int) -> HttpResponse:
    """Binding straight or on the bias, sleeve and label, and how it is quilted, as the customer asked."""
    form = FinishForm(request.POST)
    if not form.is_valid():
        return show(request, number, status=422, finish_form=form)
    return do(request, number, {}, lambda order: finishing.finish(
        order, **form.said, seen=form.cleaned_data["seen"], by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def bringing_back(request: SignedIn, number: int) -> HttpResponse:
    """Want a piece again: it lies on plain cloth that it fits, or finds its block in the next layout."""
    order, _ = order_and_shop(number)
    piece = piece_or_404(order, request.POST.get("piece", ""))
    done = altering.bring_back(order, piece, seen=seen_in(request), by=request.user)
    if done:
        return to_room(number, "picture")
    tell(request, f"{piece.name} is wanted again. Choose a way to lay it out with a block for it.")
    return to_room(number, "layout")


@require_POST
@open_to(OWNER)
@refuse_stale
def undoing(request: SignedIn, number: int) -> HttpResponse:
    return do(request, number, {}, lambda order: layouts.undo(
        order, seen=seen_in(request), by=request.user
    ))  # fmt: skip


@require_POST
@open_to(OWNER)
@refuse_stale
def redoing(request: SignedIn, number: int) -> HttpResponse:
    typed = request.POST.get("move", "")
    again = int(typed) if typed.isdecimal() and len(typed) < 10 else -1
    return do(request, number, {}, lambda order: layouts.redo(
        order, again, seen=seen_in(request), by=request.user
    ))  # fmt: skip


def move(request: SignedIn, number: int, make: Verb) -> HttpResponse:
    """Make a move with a block that needs no form of its own."""
    form, query = MoveForm(request.POST), tapped(request, "trade" if request.POST.get("other") else "")
    if not form.is_valid():
        return answered(request, number, status=422, cannot="Choose a block first.", query=query)
    return do(request, number, query, lambda order: make(order, form.cleaned_data))


def do(
    request: SignedIn, number: int, query: dict[str, str], make: Callable[[Order], object]
) -> HttpResponse:
    """Make a move; where it cannot be made, say why on the page (422)."""
    order, _ = order_and_shop(number)
    try:
        make(order)
    except CannotMove as reason:
        return answered(request, number, status=422, cannot=str(reason), query=query)
    return to_room(number, "picture", **({"drawn": "anew"} if is_about_the_wall(request) else {}))


def answered(request: SignedIn, number: int, *, status: int, **forms: Any) -> HttpResponse:
    """Answer with the picture alone where that was asked for, else with the room."""
    page = wall if is_about_the_wall(request) else show
    return page(request, number, status=status, **forms)


def tapped(request: SignedIn, act: str) -> dict[str, str]:
    """Return which block a form was about, so that its label hangs there again."""
    return {"block": request.POST.get("block", ""), "act": act}


def piece_or_404(order: Order, typed: str) -> Piece:
    """Return the piece that a form names, if the order may use it."""
    piece = next((each for each in layouts.pieces_of(order) if str(each.pk) == typed), None)
    if piece is None:
        raise Http404
    return piece
