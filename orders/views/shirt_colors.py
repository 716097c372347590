"""The colors of a panel's shirt as its photo shows them, and one tap that corrects what was found."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders.colors import colors_seen, shirt_colors
from orders.forms.taps import TapForm
from orders.models import Piece
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.shirts import of_order


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
def colors(request: SignedIn, *, number: int, shirt: int, side: str) -> HttpResponse:
    piece = panel_of(number, shirt, side)
    if piece.photo is None or request.method != "POST":
        return page(request, number, piece)
    form = TapForm(request.POST, photo=piece.photo)
    if not form.is_valid():
        return page(request, number, piece, form=form, status=422)
    what = form.cleaned_data["what"]
    try:
        shirt_colors.tap(piece.photo, what, form.cleaned_data["at"], by=request.user)
    except ValueError as fault:
        form.add_error(None, str(fault))
        return page(request, number, piece, form=form, status=422)
    return redirect(f"{reverse('shirt-colors', args=[number, shirt, side])}?what={what}")


@require_POST
@open_to(OWNER, HELPER)
def again(request: SignedIn, *, number: int, shirt: int, side: str) -> HttpResponse:
    piece = panel_of(number, shirt, side)
    if piece.photo is not None:
        shirt_colors.forget_taps(piece.photo, by=request.user)
        tell(request, "What was tapped is forgotten.")
    return redirect("shirt-colors", number, shirt, side)


def panel_of(number: int, shirt: int, side: str) -> Piece:
    """Return a panel with its photo."""
    return get_object_or_404(of_order(number, shirt).pieces.select_related("photo"), side=side)


def page(
    request: SignedIn, number: int, piece: Piece, *, form: TapForm | None = None, status: int = 200
) -> HttpResponse:
    """Answer with the page, or with its middle for a page that waits for the reading."""
    shirt = of_order(number, piece.shirt.number)
    shown: dict[str, Any] = {
        "order": next(each for each in shirt.bag.orders.all() if each.number == number),
        "shirt": shirt,
        "piece": piece,
    }
    if piece.photo is not None:
        what = request.GET.get("what", "other")
        shown |= {
            "seen": colors_seen.of_panel(piece, piece.photo),
            "form": form or TapForm(initial={"what": what}, photo=piece.photo),
        }
    if request.headers.get("HX-Request"):
        if piece.photo is None:
            raise Http404
        return render(request, "colors/found.html", shown, status=status)
    return render(request, "colors/page.html", shown, status=status)
