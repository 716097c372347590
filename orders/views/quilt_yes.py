"""The Quilt room: her yes to cut, her yes to the picture, asked for, written down and taken back."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_POST

from orders.account.agreeing import NotTheirs
from orders.forms.picture import PictureSaidForm, WishSaidForm
from orders.forms.quilt import YesToCutForm
from orders.models import CannotAgree, DesignVersion
from orders.planning import piece_id
from orders.quilt import layouts
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.quilt import order_and_shop, show, to_room
from orders.yes import yes_to_cut as yes_to_cut_of
from orders.yes import yes_to_picture as yes_to_picture_of
from orders.yes.yes_to_cut import Said


@require_POST
@open_to(OWNER)
def question(request: SignedIn, number: int) -> HttpResponse:
    """Ask for the yes to the picture as it stands: it is kept as it is from now on."""
    order, shop = order_and_shop(number)
    try:
        yes_to_picture_of.ask(order, shop, by=request.user)
    except yes_to_picture_of.NoPicture as fault:
        tell(request, str(fault))
        return to_room(number, "layout")
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
    """Write down her yes to the picture that the page showed."""
    order, _ = order_and_shop(number)
    asks = not order.memorial and not hasattr(order, "leave_to_move")
    form = PictureSaidForm(request.POST, asks_to_move=asks)
    if not form.is_valid():
        return show(request, number, status=422, picture_form=form)
    said = form.cleaned_data
    words = yes_to_picture_of.Said(said["said_by"], said["how"], form.moving)
    return write(request, number, form, lambda: yes_to_picture_of.say(
        order, said["number"], words, by=request.user
    ), name="picture_form")  # fmt: skip


@require_POST
@open_to(OWNER)
def her_wish(request: SignedIn, number: int) -> HttpResponse:
    """Write down what she wishes instead; it is no yes."""
    order, _ = order_and_shop(number)
    form = WishSaidForm(request.POST, prefix="wish")
    if not form.is_valid():
        return show(request, number, status=422, her_wish_form=form)
    said = form.cleaned_data
    words = yes_to_picture_of.Said(said["said_by"], said["how"])
    return write(request, number, form, lambda: yes_to_picture_of.wish(
        order, said["number"], said["words"], words, by=request.user
    ), name="her_wish_form")  # fmt: skip


def write(request: SignedIn, number: int, form: Any, deed: Callable[[], Any], *, name: str) -> HttpResponse:
    """Do it, or bring the form back as it was typed: with the newer picture, or beside a name not theirs."""
    try:
        deed()
    except NotTheirs as fault:
        form.add_error("said_by", str(fault))
        return show(request, number, status=422, **{name: form})
    except yes_to_picture_of.TooLate as fault:
        form.add_error(None, str(fault))
        return show(request, number, status=409, **{name: for_the_newest(form, number)})
    return to_room(number, "yes")


def for_the_newest(form: Any, number: int) -> Any:
    """Let a form that comes back speak of the picture that is asked about now; the rest stays as typed."""
    newest = DesignVersion.objects.filter(order__number=number).order_by("-number").first()
    form.data = form.data.copy()
    form.data[form.add_prefix("number")] = str(newest.number if newest else "")
    return form


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
