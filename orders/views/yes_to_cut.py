"""The yes to cut at the table: a big tap for the pile, a tap a name for the shirts asked about singly."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from orders.account.agreeing import NotTheirs
from orders.forms.yes import DeciderForm, HowForm, NameForm, PileForm, SinglyForm, shirts_in
from orders.models import CannotAgree, Consent, Order, Piece, Shirt
from orders.quilt import quilt_looks
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.stale import refuse_stale
from orders.views.uploads import keep, received
from orders.yes import asking, yes_to_cut
from orders.yes.asking import pieces_to_ask
from orders.yes.yes_to_cut import Said


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def table(request: SignedIn, number: int) -> HttpResponseBase:
    if request.method != "POST":
        return show(request, number)
    return pile(request, number)


def show(request: SignedIn, number: int, *, status: int = 200, **forms: Any) -> HttpResponse:
    """Lay the pieces on the table; `forms` are those that came back with a fault."""
    told = room(request, number, "bag")
    order = told["order"]
    asked = asking.asking_of(order, quilt_looks.quilt_of(order))
    told |= {
        "asking": asked,
        "pile_form": PileForm(pieces=[each.piece.pk for each in asked.to_ask]),
        "decider_form": DeciderForm(initial={"name": order.approver, "version": order.version}),
        "singly_form": SinglyForm(shirts=shirts_in(asked)),
    }
    return render(request, "yes/table.html", told | forms, status=status)


@open_to(OWNER)
def pile(request: SignedIn, number: int) -> HttpResponse:
    """Write the yes of the one who decides to all that is shown but what is ticked."""
    order = get_object_or_404(Order, number=number)
    pieces = {piece.pk: piece for piece in pieces_to_ask(order)}
    form = PileForm(request.POST, request.FILES, pieces=pieces)
    said = said_in(form, order.approver, request)
    if said is None:
        return show(request, number, status=422, pile_form=form)
    try:
        written = yes_to_cut.say_for_pile(order, [pieces[pk] for pk in form.agreed], said, by=request.user)
    except CannotAgree as fault:
        form.add_error(None, str(fault))
        return show(request, number, status=422, pile_form=form)
    if written is not None:
        count = written.approved_pieces.count()
        tell(request, f"{order.approver} said yes to {count} {'piece' if count == 1 else 'pieces'}.")
    return redirect("cut-yes", number)


@require_POST
@open_to(OWNER)
def one(request: SignedIn, number: int, pk: int) -> HttpResponse:
    """Write one named yes to one piece."""
    order = get_object_or_404(Order, number=number)
    piece = piece_of(order, pk)
    form = NameForm(request.POST, request.FILES)
    said = said_in(form, form["name"].value() or "", request)
    if said is None:
        return show(request, number, status=422, pile_form=form)
    try:
        written = yes_to_cut.say_for_one(order, piece, said, by=request.user)
    except (NotTheirs, CannotAgree) as fault:
        return show(request, number, status=422, refused=str(fault))
    if written is not None:
        tell(request, f"{written.said_by} said yes to {piece.name}.")
    return to_singles(number)


@require_POST
@open_to(OWNER)
def withdrawal(request: SignedIn, number: int) -> HttpResponse:
    """Take a yes back, or the part of it that was for one piece."""
    order = get_object_or_404(Order, number=number)
    piece, consent = (request.POST.get(name, "") for name in ("piece", "consent"))
    if piece.isdecimal():
        found = piece_of(order, int(piece))
        done = yes_to_cut.take_back_piece(order, found, by=request.user)
        tell(request, f"The yes to {found.name} is taken back." if done else f"{found.name} is cut already.")
    else:
        said = order.consents.filter(kind=Consent.Kind.CUT)
        yes = get_object_or_404(said, pk=consent if consent.isdecimal() else None)
        yes.withdraw(by=request.user)
        tell(request, f"The yes of {yes.said_by} is taken back. What was cut stays cut; the rest may not be.")
    return redirect("cut-yes", number)


@require_POST
@open_to(OWNER)
@refuse_stale
def decider(request: SignedIn, number: int) -> HttpResponse:
    """Write down whose yes counts."""
    order = get_object_or_404(Order, number=number)
    form = DeciderForm(request.POST)
    if not form.is_valid():
        return show(request, number, status=422, decider_form=form)
    said = form.cleaned_data
    yes_to_cut.name_approver(order, said["name"], seen=said["version"], by=request.user)
    tell(request, f"From now on the yes is {said['name']}’s to give.")
    return redirect("cut-yes", number)


@require_POST
@open_to(OWNER)
def singly(request: SignedIn, number: int) -> HttpResponse:
    """Ask about a shirt by itself, or with the pile again."""
    order = get_object_or_404(Order, number=number)
    shirts = {each.pk: each for each in Shirt.objects.of_order(number)}
    usual = request.POST.get("usual", "")
    if usual:
        shirt = get_object_or_404(Shirt.objects.of_order(number), pk=usual if usual.isdecimal() else None)
        yes_to_cut.ask_as_usual(shirt, by=request.user)
        tell(request, f"Shirt {shirt} is one of the pile again. Its yes is asked for with the others.")
        return redirect("cut-yes", number)
    form = SinglyForm(request.POST, shirts=shirts.values())
    if not form.is_valid():
        return show(request, order.number, status=422, singly_form=form)
    said = form.cleaned_data
    shirt = shirts[int(said["shirt"])]
    yes_to_cut.ask_singly(
        shirt, said["names"], for_the_day=said["for_the_day"], why=said["why"], by=request.user
    )
    tell(request, f"Shirt {shirt} is asked about by itself from now on.")
    return to_singles(number)


def piece_of(order: Order, pk: int) -> Piece:
    """Return a piece of one of the order's bags, or 404."""
    pieces = Piece.objects.select_related("shirt__asked_singly").filter(shirt__bag__orders=order)
    return get_object_or_404(pieces, pk=pk)


def said_in(form: HowForm, name: str, request: SignedIn) -> Said | None:
    """Return what a form says of a yes, or None with its faults; a good photo is kept either way."""
    form.is_valid()
    photo = received(form, by=request.user)
    if form.errors:
        keep(form, photo)
        return None
    said = form.cleaned_data
    return Said(name, said["how"], for_the_day=said["for_the_day"], photo=photo)


def to_singles(number: int) -> HttpResponse:
    response = redirect("cut-yes", number)
    response["Location"] += "#singles"
    return response
