"""The block drawn over a shirt: looked at, moved by finger, arrow keys or numbers, and kept."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from orders.bag import cropping
from orders.bag.keeping import is_plain
from orders.bag.panels import label_of
from orders.forms.crop import CropForm, name_of, word_of
from orders.forms.two_phones import differences, with_version
from orders.models import ApprovedPiece, Order, Piece, Shop, Stale
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.measuring import panel_of
from orders.views.notices import tell
from planner.units import Size


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def crop(request: SignedIn, shop: Shop, *, number: int, shirt: int, side: str) -> HttpResponse:
    order, piece = get_object_or_404(Order, number=number), panel_of(number, shirt, side)
    blocks = cropping.blocks_for(piece, order)
    if request.method != "POST":
        block = asked(request.GET.get("block"), blocks)
        return page(request, shop, order, piece, block=block)
    form = CropForm(request.POST, piece=piece, blocks=blocks, unit=shop.unit)
    if not form.is_valid():
        block = asked(request.POST.get("block"), blocks)
        return page(request, shop, order, piece, block=block, form=form, status=422)
    try:
        cropping.keep_crop(
            piece, form.block, order, seen=form.cleaned_data["version"], by=request.user, unit=shop.unit,
            **form.facts(),
        )  # fmt: skip
    except Stale:
        now = fresh(piece, blocks, form.block, shop)
        both = {"form": with_version(form, piece.version), "differences": differences(form, now)}
        return page(request, shop, order, piece, block=form.block, **both, status=409)
    except cropping.CannotCrop as fault:
        return page(request, shop, order, piece, block=form.block, form=form, refused=str(fault), status=409)
    tell(request, said(piece))
    answer = redirect("shirt-crop", number, shirt, side)
    answer["Location"] += f"?block={word_of(form.block)}"
    return answer


def said(piece: Piece) -> str:
    """Say what was kept, and that a yes to another crop does not cover it."""
    if ApprovedPiece.objects.standing().filter(piece=piece).exists():
        return f"{piece.name} is kept so. Where it differs from the yes, ask again before the cut."
    return f"{piece.name} is kept so."


def asked(word: str | None, blocks: tuple[Size, ...]) -> Size:
    """Return the block that was asked for, else the first."""
    return next((block for block in blocks if word_of(block) == word), blocks[0])


def fresh(piece: Piece, blocks: tuple[Size, ...], block: Size, shop: Shop) -> CropForm:
    """Return the form as the record stands."""
    return CropForm(initial=CropForm.of(piece, block), piece=piece, blocks=blocks, unit=shop.unit)


def page(
    request: SignedIn,
    shop: Shop,
    order: Order,
    piece: Piece,
    *,
    block: Size,
    status: int = 200,
    **change: Any,
) -> HttpResponse:
    """Answer with the photo and the block over it; `change` puts a form that came back in its place."""
    blocks = cropping.blocks_for(piece, order)
    over = cropping.drawn_over(piece, block, order, unit=shop.unit)
    shown = {
        "order": order,
        "shirt": piece.shirt,
        "piece": piece,
        "photo": piece.photo,
        "label": label_of(piece.side),
        "is_plain": is_plain(piece),
        "block_name": name_of(block, shop.unit),
        "over": over,
        "lines": [(name, " ".join(f"{x},{y}" for x, y in points)) for name, points in over.lines],
        "form": fresh(piece, blocks, block, shop),
    }
    return render(request, "crop/page.html", shown | change, status=status)
