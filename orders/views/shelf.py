"""The shelf: what cloth there is, and what of it is spoken for."""

from __future__ import annotations

from itertools import groupby

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.cloth import cloth_looks, cloth_shelf
from orders.forms.shelf import KINDS, ClothForm, ClothPieceForm, NewClothForm, board_of
from orders.forms.two_phones import differences, with_version
from orders.models import Cloth, ClothPiece, Shop, Stale
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import client_id_of, keep, new_client_id, received


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def shelf(request: SignedIn, shop: Shop) -> HttpResponse:
    cloths = sorted(
        Cloth.objects.on_the_shelf(), key=lambda cloth: (rank(cloth.kind), cloth.kind, cloth.name)
    )
    groups = [(board, list(each)) for board, each in groupby(cloths, lambda cloth: board_of(cloth.kind))]
    shown = {"shop": shop, "groups": groups, "is_owner": request.user.role == OWNER}
    return render(request, "shelf/page.html", shown)


def rank(kind: str) -> int:
    """Return where a kind stands on the page: as in the list it is picked from, own words last."""
    order = [word for word, _ in KINDS]
    return order.index(kind) if kind in order else len(order)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def new(request: SignedIn, shop: Shop) -> HttpResponse:
    if request.method != "POST":
        return render(
            request, "shelf/new.html", {"form": NewClothForm(unit=shop.unit, currency=shop.currency)}
        )
    form = NewClothForm(request.POST, request.FILES, unit=shop.unit, currency=shop.currency)
    form.is_valid()
    photo = None if "photo" in form.errors else received(form, by=request.user)
    if form.errors:
        keep(form, photo)
        return render(request, "shelf/new.html", {"form": form, "kept": photo}, status=422)
    length = form.cleaned_data["length"]
    made = cloth_shelf.add_cloth(by=request.user, photo=photo, length=length, **form.facts)
    tell(
        request, f"{made} is on the shelf." if length else f"{made} is on the list. Say how much lies there."
    )
    return redirect("cloth", made.pk)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def cloth(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = get_object_or_404(Cloth.objects.with_pieces(), pk=pk)
    if request.method != "POST":
        return cloth_page(request, shop, found)
    form = ClothForm(request.POST, request.FILES, unit=shop.unit, currency=shop.currency, cloth=found)
    photo = received(form, by=request.user, of=found) if form.is_valid() else None
    if form.errors:
        return cloth_page(request, shop, found, form=form, status=422)
    try:
        seen = form.cleaned_data["version"] or 0
        cloth_shelf.write_cloth(found, seen=seen, by=request.user, photo=photo, **form.facts)
    except Stale:
        now = fresh_form(found, shop)
        both = {"form": with_version(form, found.version), "differences": differences(form, now)}
        return cloth_page(request, shop, found, **both, status=409)
    tell(request, "Kept.")
    return redirect("cloth", pk)


def fresh_form(found: Cloth, shop: Shop) -> ClothForm:
    """Return a cloth's form as the record stands."""
    initial = ClothForm.of(found, shop.currency)
    return ClothForm(initial=initial, unit=shop.unit, currency=shop.currency, cloth=found)


def cloth_page(
    request: SignedIn, shop: Shop, found: Cloth, *, status: int = 200, **change: object
) -> HttpResponse:
    shown = {
        "shop": shop,
        "cloth": found,
        "seen": cloth_looks.in_words(found, unit=shop.unit),
        "form": fresh_form(found, shop),
        "piece_form": ClothPieceForm(unit=shop.unit, initial={"client_id": new_client_id()}),
    }
    return render(request, "shelf/cloth.html", shown | change, status=status)


@require_POST
@open_to(OWNER)
@in_the_shop
def pieces(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = get_object_or_404(Cloth.objects.with_pieces(), pk=pk)
    form = ClothPieceForm(request.POST, unit=shop.unit)
    if not form.is_valid():
        return cloth_page(request, shop, found, piece_form=form, status=422)
    said = form.cleaned_data
    piece = found.put_on_shelf(
        said["length"], width=said["width"], by=request.user, client_id=client_id_of(form)
    )
    tell(request, f"Put on the shelf: {found}.", undo=reverse("cloth-piece-end", args=[pk, piece.pk]))
    return redirect("cloth", pk)


@require_POST
@open_to(OWNER, HELPER)
def piece_end(request: SignedIn, pk: int, piece: int) -> HttpResponse:
    found = get_object_or_404(ClothPiece.objects.select_related("cloth"), pk=piece, cloth=pk)
    found.use_up(by=request.user)
    tell(request, f"Used up: a piece of {found.cloth}.", undo=reverse("cloth-piece-back", args=[pk, piece]))
    return page_after(request, pk)


def page_after(request: SignedIn, pk: int) -> HttpResponse:
    """Go back to the cloth, or to the shelf for a helper, who sees no prices."""
    return redirect("cloth", pk) if request.user.role == OWNER else redirect("shelf")


@require_POST
@open_to(OWNER, HELPER)
def piece_back(request: SignedIn, pk: int, piece: int) -> HttpResponse:
    found = get_object_or_404(ClothPiece.objects.select_related("cloth"), pk=piece, cloth=pk)
    found.lay_back(by=request.user)
    tell(request, f"On the shelf again: a piece of {found.cloth}.")
    return page_after(request, pk)


@require_POST
@open_to(OWNER)
def away(request: SignedIn, pk: int) -> HttpResponse:
    found = get_object_or_404(Cloth, pk=pk)
    found.put_away(by=request.user)
    tell(request, f"{found} is off the list.", undo=reverse("cloth-back", args=[pk]))
    return redirect("shelf")


@require_POST
@open_to(OWNER)
def back(request: SignedIn, pk: int) -> HttpResponse:
    found = get_object_or_404(Cloth, pk=pk)
    found.bring_back(by=request.user)
    tell(request, f"{found} is back on the list.")
    return redirect("cloth", pk)
