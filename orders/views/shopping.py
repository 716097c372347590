"""The shopping list: what to buy for all quilts, by when, and what was bought."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders.cloth import quarters, shopping
from orders.forms.shopping import BoughtForm, QuartersBoughtForm
from orders.models import Cloth, Shop
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.uploads import client_id_of, new_client_id


@require_safe
@open_to(OWNER, HELPER)
@in_the_shop
def shopping_list(request: SignedIn, shop: Shop) -> HttpResponse:
    return list_page(request, shop)


def list_page(
    request: SignedIn, shop: Shop, *, of: int | None = None, status: int = 200, **forms: Any
) -> HttpResponse:
    """Show the list; a form that came back stands at its cloth."""
    found = shopping.shopping_list(shop)
    lines = [(line, _forms(line, shop) | (forms if line.cloth.pk == of else {})) for line in found.lines]
    sheet = {
        "shop": shop,
        "today": shop.today(),
        "lines": lines,
        "total": found.total,
        "being_reckoned": found.being_reckoned,
        "is_by_the_strip": any(line.is_beyond_the_sum for line in found.lines),
        "is_asked_again": "HX-Request" in request.headers,
        "unserved": found.unserved,
        "is_owner": request.user.role == OWNER,
    }
    return render(request, "shelf/shopping.html", sheet, status=status)


def _forms(line: shopping.Line, shop: Shop) -> dict[str, Any]:
    length = {"length": line.buy, "client_id": new_client_id()}
    count = {"count": line.quarters, "client_id": new_client_id()}
    return {
        "form": BoughtForm(unit=shop.unit, initial=length, auto_id=f"bought-{line.cloth.pk}-%s"),
        "quarters_form": QuartersBoughtForm(initial=count, auto_id=f"quarters-{line.cloth.pk}-%s"),
    }


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def bought(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Put what was bought on the shelf, for the quilts that wait for it."""
    cloth = get_object_or_404(Cloth.objects.in_use(), pk=pk, garment=None)
    form = BoughtForm(request.POST, unit=shop.unit, auto_id=f"bought-{pk}-%s")
    if not form.is_valid():
        return list_page(request, shop, of=pk, form=form, status=422)
    said = form.cleaned_data
    tap_id = client_id_of(form) or new_client_id()
    shopping.bought(cloth, said["length"], by=request.user, client_id=tap_id, lot=said["lot"])
    tell(request, f"{cloth} is on the shelf, and kept for the quilts that wait for it.")
    return redirect("shopping")


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def quarters_bought(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Put fat quarters that were bought on the shelf, each as a piece."""
    cloth = get_object_or_404(Cloth.objects.in_use(), pk=pk, garment=None)
    form = QuartersBoughtForm(request.POST, auto_id=f"quarters-{pk}-%s")
    if not form.is_valid():
        return list_page(request, shop, of=pk, quarters_form=form, status=422)
    count = form.cleaned_data["count"]
    quarters.bought(cloth, count, by=request.user, client_id=client_id_of(form) or new_client_id())
    tell(request, f"{count} fat quarter{'' if count == 1 else 's'} of {cloth} on the shelf.")
    return redirect("shopping")
