"""The customer’s page of the yes to cut: each piece as it lies, and a yes to all but what is crossed out."""

from __future__ import annotations

from functools import partial
from typing import Any

from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders.account.agreeing import NotTheirs
from orders.customer import for_you, light_pictures
from orders.forms.yes import HerYesForm
from orders.models import CannotAgree, Photo, Shop
from orders.models.photo import SIZES
from orders.quilt.quilt_looks import quilt_of
from orders.views.callers import ANYONE, open_to
from orders.views.for_you_pictures import lightly
from orders.views.her_link import closed, for_her, opened, privately
from orders.yes import asking, yes_to_cut
from orders.yes.yes_to_cut import Said


@require_safe
@open_to(ANYONE)
def page(request: HttpRequest) -> HttpResponse:
    return show(request)


@for_her
def show(request: HttpRequest, shop: Shop, order: Any, *, status: int = 200, **more: Any) -> HttpResponse:
    if not for_you.seat_at(order).sees_the_quilt:
        return closed()
    asked = asking.asking_of(order, quilt_of(order))
    context = {
        "order": order,
        "shop": shop,
        "asking": asked,
        "is_open": is_open(order),
        "form": HerYesForm(pieces=[each.piece.pk for each in asked.to_ask]),
        **more,
    }
    response = render(request, "yes/for_you.html", context, status=status)
    response.headers["Referrer-Policy"] = "same-origin"
    return privately(response)


@require_POST
@open_to(ANYONE)
@for_her
def pile(request: HttpRequest, shop: Shop, order: Any) -> HttpResponse:
    """Take her yes to all that was shown but what she ticked."""
    if not for_you.seat_at(order).sees_the_quilt:
        return closed()
    pieces = {piece.pk: piece for piece in asking.pieces_to_ask(order)}
    form = HerYesForm(request.POST, pieces=pieces)
    if not form.is_valid():
        return show(request, status=422, form=form)
    agreed = [pieces[pk] for pk in form.agreed]
    return write(request, order, form, lambda said: yes_to_cut.say_for_pile(order, agreed, said, by=None))


@require_POST
@open_to(ANYONE)
@for_her
def one(request: HttpRequest, shop: Shop, order: Any, pk: int) -> HttpResponse:
    """Take one named yes to one piece."""
    if not for_you.seat_at(order).sees_the_quilt:
        return closed()
    piece = next((each for each in asking.pieces_to_ask(order) if each.pk == pk), None)
    if piece is None:
        raise Http404
    form = HerYesForm({**request.POST.dict(), "piece": [pk]}, pieces=[pk])
    if not form.is_valid():
        return show(request, status=422, one_form=form, one=pk)
    return write(
        request, order, form, lambda said: yes_to_cut.say_for_one(order, piece, said, by=None), one=pk
    )


def write(request: HttpRequest, order: Any, form: HerYesForm, verb: Any, **of: int) -> HttpResponse:
    """Write the yes, or bring the page back with whose yes it would be."""
    if not is_open(order):
        return show(request, status=409, refused="This order is closed. Ask the shop.")
    name = "one_form" if of else "form"
    try:
        verb(Said(form.cleaned_data["name"], "page"))
    except NotTheirs as fault:
        form.add_error("name", str(fault))
        return show(request, status=422, **{name: form}, **of)
    except CannotAgree as fault:
        return show(request, status=409, refused=str(fault))
    return privately(redirect("for-you-cut"))


@require_safe
@open_to(ANYONE)
def photo(request: HttpRequest, number: int, size: int) -> HttpResponseBase:
    """Send a photo of a shirt that she is asked about."""
    _, order = opened(request)
    if order is None or size not in SIZES or not for_you.seat_at(order).sees_the_quilt:
        raise Http404
    pieces = asking.pieces_to_ask(order)
    hers = {piece.shirt_id for piece in pieces}
    of_the_work = Q(order=order) if for_you.may_see_photos(order, for_you.seat_at(order)) else Q()
    photos = Photo.objects.filter(Q(shirt__in=hers) | of_the_work)
    lighten = partial(light_pictures.small, among=len(pieces))
    return lightly(request, get_object_or_404(photos, pk=number), size, lighten)


def is_open(order: Any) -> bool:
    """Say whether anything may still be agreed."""
    return order.handed_over_at is None and order.cancelled_at is None
