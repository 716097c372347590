"""What is counted and measured at the bench: pins and needles before finishing, the sides of the top."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from orders import papers
from orders.bench import needles, top_size
from orders.forms.sewn import NeedlesForm, TopForm
from orders.models import Shop
from orders.quilt.blocks import drawn_quilt
from orders.views.bench import bench_room
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.rooms import room


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def needle_count(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Write how many pins and needles came back."""
    form = NeedlesForm(request.POST)
    if not form.is_valid():
        return _again(request, shop, number, needle_form=form)
    told = bench_room(request, shop, number)
    needles.count(told["order"], form.counted, by=request.user)
    lacking = needles.why_not_finished(told["order"])
    tell(request, lacking or "All pins and needles are back. It may be finished.")
    return redirect("order-bench", number)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def top(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Write the sides of the top as they were measured."""
    form = TopForm(request.POST, unit=shop.unit)
    if not form.is_valid():
        return _again(request, shop, number, top_form=form)
    told = bench_room(request, shop, number)
    quilt = drawn_quilt(told["order"])
    for side, fault in (top_size.why_not(form.measured, quilt, unit=shop.unit) if quilt else {}).items():
        form.add_error(side, fault)
    if form.errors:
        return _again(request, shop, number, top_form=form)
    top_size.measure(told["order"], form.measured, by=request.user)
    wavy = form.measured.wavy
    words = "Borders, backing and binding follow the top as it was sewn."
    if wavy:
        words += f" The {' and '.join(wavy)} edge is off the middle: ease it in, do not stretch it."
    tell(request, words)
    return redirect("order-bench", number)


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def quilter_sheet(request: SignedIn, shop: Shop, number: int) -> HttpResponse:
    """Print what goes with the top to whoever quilts it."""
    order = room(request, number, "bench")["order"]
    if drawn_quilt(order) is None:
        raise Http404
    return redirect("paper", papers.quilter_sheet(order, by=request.user).number)


def _again(request: SignedIn, shop: Shop, number: int, **forms: Any) -> HttpResponse:
    return render(request, "bench/page.html", bench_room(request, shop, number) | forms, status=422)
