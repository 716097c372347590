"""The Quilt room: her yes to cut, her yes to the picture, asked for, written down and taken back."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from orders import layouts, quilt_looks, yes_room
from orders import yes_to_cut as yes_to_cut_of
from orders.agreeing import NotTheirs
from orders.forms.quilt import SaidForm, YesToCutForm
from orders.models import CannotAgree, Consent
from orders.planning import piece_id
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.quilt import order_and_shop, show, to_room
from orders.yes_to_cut import Said


@require_POST
@open_to(OWNER)
def question(request: SignedIn, number: int) -> HttpResponse:
    """Ask for the yes to the picture as it stands: it is kept as it is from now on."""
    order, _ = order_and_shop(number)
    design, quilt = layouts.drawn(order)
    if quilt is None:
        tell(request, "There is no picture to ask about yet. Choose a layout first.")
        return to_room(number, "layout")
    design.freeze(by=request.user)
    return to_room(number, "yes")


@require_POST
@open_to(OWNER)
def yes_to_cut(request: SignedIn, number: int) -> HttpResponse:
    order, _ = order_and_shop(number)
    pieces = {piece_id(piece): piece for piece in layouts.pieces_of(order)}
    form = YesToCutForm(request.POST, names=pieces)
    if not form.is_valid():
        return show(request, number, status=422, cut_form=form)
    said = form.cleaned_data
    asked = [pieces[name] for name in said["pieces"]]
    try:
        yes_to_cut_of.say_for_pile(order, asked, Said(said["said_by"], said["how"]), by=request.user)
    except NotTheirs as fault:
        form.add_error("said_by", str(fault))
        return show(request, number, status=422, cut_form=form)
    except CannotAgree as fault:
        form.add_error("pieces", str(fault))
        return show(request, number, status=422, cut_form=form)
    return to_room(number, "yes")


@require_POST
@open_to(OWNER)
def yes_to_picture(request: SignedIn, number: int) -> HttpResponse:
    order, _ = order_and_shop(number)
    form = SaidForm(request.POST)
    if not form.is_valid():
        return show(request, number, status=422, picture_form=form)
    asked = yes_room.to_picture(order, quilt_looks.quilt_of(order))
    if asked.version is None or not asked.is_current:
        tell(request, "The picture changed since it was asked about. Ask for her yes to the new one.")
        return to_room(number, "yes")
    said = form.cleaned_data
    Consent.objects.to_picture(asked.version, said_by=said["said_by"], how=said["how"], by=request.user)
    return to_room(number, "yes")


@require_POST
@open_to(OWNER)
def withdrawal(request: SignedIn, number: int) -> HttpResponse:
    """Take a yes back; what is cut is cut, the rest may not be."""
    order, _ = order_and_shop(number)
    typed = request.POST.get("consent", "")
    consent = get_object_or_404(order.consents, pk=typed if typed.isdecimal() else None)
    consent.withdraw(by=request.user)
    tell(
        request,
        "The yes is taken back. What was cut stays cut; nothing else may be until she says yes again.",
    )
    return to_room(number, "yes")
