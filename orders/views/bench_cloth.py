"""Cloth to cut for a quilt: its pictures, a list to tick, one tap when it was cut as on the sheet."""

from __future__ import annotations

from typing import Any

from django import forms
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders import papers
from orders.cloth import cloth_cutting
from orders.cloth.cutting import ClothCuts, cutting_list, without_cloth
from orders.cloth.cutting_picture import sheet_of
from orders.forms.lengths import LengthField
from orders.models import Order, Shop
from orders.planning import shelf
from orders.quilt.blocks import drawn_quilt
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.uploads import new_client_id


class CutForm(forms.Form):
    """One cloth was cut as on its sheet; `left` is what was measured, where it is not as reckoned."""

    sheet = forms.CharField(max_length=40, error_messages={"required": "Open the sheet again."})
    client_id = forms.SlugField(
        max_length=64, widget=forms.HiddenInput, error_messages={"required": "Open the sheet again."}
    )

    def __init__(self, *args: Any, unit: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["left"] = LengthField(unit=unit, label="Left of the last piece, measured", required=False)


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def cloth(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    return cloth_page(request, shop, number)


def cloth_page(
    request: SignedIn, shop: Shop, number: int, *, refused: str = "", form: Any = None, status: int = 200
) -> HttpResponse:
    """Show each cloth with its picture; `form` is what came back, and stands at the cloth it is about."""
    told = room(request, number, "bench")
    order = told["order"]
    cut = cloth_cutting.was_cut(order)
    every = [_shown(order, cuts, cut, shop) for cuts in cuts_of(order, shop)]
    sent = form["sheet"].value() if form is not None else ""
    again = [each for each in every if sent == each["print"] and not each["why_not"]]
    for each in again:
        each["form"] = form
    quilt = drawn_quilt(order)
    shown = told | {
        "cloths": every,
        "no_cloth": without_cloth(quilt, shop) if quilt else [],
        "refused": refused if not again else "",
        "tried": again[0]["print"] if again else "",
        "is_drawn": quilt is not None,
    }
    return render(request, "bench/cloth.html", shown, status=status)


def cuts_of(order: Order, shop: Shop) -> list[ClothCuts]:
    """Return how each cloth of an order is cut; nothing before there is a layout."""
    quilt = drawn_quilt(order)
    return cutting_list(quilt, shop, list(shelf(order)), order=order) if quilt else []


def _shown(order: Order, cuts: ClothCuts, cut: dict[str, Any], shop: Shop) -> dict[str, Any]:
    picture = sheet_of(cuts.facts, cuts.plan, unit=shop.unit) if cuts.facts and cuts.plan else None
    return {
        "cuts": cuts,
        "sheet": picture,
        "print": cloth_cutting.print_of(cuts),
        "why_not": cloth_cutting.why_not(order, cuts, cut),
        "cut": cut.get(cuts.cloth),
        "form": CutForm(
            unit=shop.unit, initial={"client_id": new_client_id()}, auto_id=f"cut-{cuts.cloth}-%s"
        ),
    }


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def done(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """All of one cloth was cut as on its sheet."""
    order = room(request, number, "bench")["order"]
    form = CutForm(request.POST, unit=shop.unit)
    if not form.is_valid():
        fault = str(next(iter(form.errors.values()))[0])
        return cloth_page(request, shop, number, refused=fault, form=form, status=422)
    said, sheet = form.cleaned_data, form.cleaned_data["sheet"]
    cuts = next((each for each in cuts_of(order, shop) if cloth_cutting.print_of(each) == sheet), None)
    if cuts is None:
        if cloth_cutting.is_known(said["client_id"]):
            return redirect("bench-cloth", number)
        fault = "The sheet has changed since it was opened, or it is cut already. Look at it again."
        return cloth_page(request, shop, number, refused=fault, status=409)
    try:
        cloth_cutting.cut_as_on_sheet(
            order, cuts, by=request.user, client_id=said["client_id"], left=said["left"]
        )
    except cloth_cutting.CannotBeCut as fault:
        form.add_error("left" if isinstance(fault, cloth_cutting.WrongLeft) else None, str(fault))
        return cloth_page(request, shop, number, refused=str(fault), form=form, status=422)
    tell(request, f"{cuts.cloth} is cut. What is left is back on the shelf with its size.")
    return redirect("bench-cloth", number)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def paper(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Print the cutting pictures, a cloth a page."""
    order = room(request, number, "bench")["order"]
    if drawn_quilt(order) is None:
        raise Http404
    return redirect("paper", papers.cloth_cuts(order, by=request.user).number)
