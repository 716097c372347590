"""Find any shirt by scan or number, and put it somewhere with one tap."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from orders.bag import finding, places
from orders.bag.incidents import FIRST_WORDS
from orders.bench import stopping
from orders.forms.places import PutForm
from orders.models import Block, HeatTool, Incident, Order, Place, Shirt, Shop
from orders.planning import garment_of, piece_of, shirts_of
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import new_client_id
from planner.care import (
    Setting,
    hard_items,
    instead_of_cloth,
    kept_out,
    needs,
    setting,
    wash_partners,
)


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def find(request: SignedIn, shop: Shop) -> HttpResponse:
    typed = request.GET.get("code", "").strip()
    if not typed:
        return render(request, "find/page.html", {"typed": "", "missing": missing()})
    return answer(request, shop, typed)


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def code(request: SignedIn, shop: Shop, code: str) -> HttpResponse:
    return answer(request, shop, code)


def answer(request: SignedIn, shop: Shop, typed: str) -> HttpResponse:
    """Answer with the shirt, the bag, or a page that says what to do (404)."""
    found = finding.find(typed)
    if isinstance(found, finding.FoundBag):
        return redirect("bag-places", found.order.number)
    if isinstance(found, finding.Unknown):
        told = {"unknown": found, "typed": found.code, "missing": missing()}
        return render(request, "find/page.html", told, status=404)
    return render(request, "find/found.html", shown(found, shop))


def missing() -> list[Shirt]:
    """Return shirts that nobody can find: one without a tag may be one of them."""
    lost = (
        Shirt.objects.filter(state=Shirt.State.MISSING)
        .select_related("bag")
        .prefetch_related("bag__orders", "photos")
    )
    return list(lost.order_by("bag", "number")[:12])


def shown(found: finding.Found, shop: Shop) -> dict[str, Any]:
    """Return what the page of a found shirt shows."""
    shirt, piece = found.shirt, found.piece
    stays = list(shirt.stays.newest_first()[:20])
    garment, of = garment_of(shirt), piece_of(piece) if piece else None
    care = needs(garment, of)
    tool = HeatTool.objects.the_usual()
    at = setting(tool, care.heat)
    return {
        "found": found,
        "order": found.order,
        "shirt": shirt,
        "piece": piece,
        "photo": (piece.photo if piece else None) or next(iter(shirt.photos.all()), None),
        "now": stays[0] if stays else None,
        "before": stays[1:],
        "places": Place.choices,
        "washes_with": washing_of(shirt, found.order),
        "first": FIRST_WORDS[""],
        "report_id": new_client_id(),
        "report_to": reverse("find-incident", args=[found.code]),
        "report_words": Incident.What.choices,
        "may_be_put": shirt.state in places.HERE,
        "care": care,
        "tool": tool,
        "setting": at if isinstance(at, Setting) else None,
        "hard": hard_items(garment, of),
        "instead": instead_of_cloth(garment),
        "reasons": stopping.reasons_for(piece or shirt, unit="F" if shop.unit == "in" else "C"),
        "its_block": Block.objects.filter(piece=piece).first() if piece else None,
        "also": [each for each in shirt.bag.orders.all() if each != found.order],
        "incidents": shirt.incidents.order_by("-at"),
        "shop": shop,
    }


def washing_of(shirt: Shirt, order: Order) -> str:
    """Say with which others of its quilt a shirt may be washed, or why it is not."""
    others = {f"S{each.pk}": each for each in shirts_of(order)}
    garments = [garment_of(each) for each in others.values()]
    mine = next((each for each in garments if each.id == f"S{shirt.pk}"), None)
    if mine is None or shirt.state != Shirt.State.IN_WORK:
        return ""
    for each in kept_out([mine]):
        return each.why
    with_it = [str(others[name]) for name in wash_partners(mine, garments)]
    return f"Washed with {', '.join(with_it)}." if with_it else "Washed alone."


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def place(request: SignedIn, shop: Shop, code: str) -> HttpResponse:
    """Put the shirt of a tag somewhere."""
    found = finding.find(code)
    if not isinstance(found, finding.Found):
        raise Http404
    form = PutForm(
        {
            "place": request.POST.get("place", ""),
            "words": request.POST.get("words", ""),
            "shirt": [found.shirt.pk],
        },
        shirts=[found.shirt],
    )
    if not form.is_valid():
        fault = str(next(iter(form.errors.values()))[0])
        return render(request, "find/found.html", shown(found, shop) | {"fault": fault}, status=422)
    places.put([found.shirt], form.cleaned_data["place"], by=request.user, words=form.cleaned_data["words"])
    tell(request, f"{found.code} is {Place(form.cleaned_data['place']).label}.")
    return redirect("find-code", found.code)
