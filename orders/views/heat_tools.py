"""The irons and presses of the shop, in the workroom."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from orders.forms.places import ToolForm
from orders.models import Event, HeatTool, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def new(request: SignedIn, shop: Shop) -> HttpResponse:
    usual = {"kind": "press", "unit": "F" if shop.unit == "in" else "C", "hotter": 0, "step": 5}
    return _tool_page(request, ToolForm(request.POST or None, initial=usual), None)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def tool(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    found = get_object_or_404(HeatTool.objects.in_use(), pk=pk)
    return _tool_page(request, ToolForm(request.POST or None, instance=found), found)


def _tool_page(request: SignedIn, form: ToolForm, found: HeatTool | None) -> HttpResponse:
    if request.method == "POST" and form.is_valid():
        kept = form.save()
        Event.objects.note("heat tool", by=request.user, tool=kept.name, hotter=kept.hotter)
        tell(request, f"{kept.name.capitalize()}: kept.")
        return redirect("workroom")
    told = {"form": form, "tool": found}
    return render(request, "workroom/tool.html", told, status=422 if request.method == "POST" else 200)


@require_POST
@open_to(OWNER)
def usual(request: SignedIn, pk: int) -> HttpResponse:
    found = get_object_or_404(HeatTool.objects.in_use(), pk=pk)
    found.be_usual(by=request.user)
    tell(request, f"The {found.name} is the usual one now.")
    return redirect("workroom")


@require_POST
@open_to(OWNER)
def away(request: SignedIn, pk: int) -> HttpResponse:
    found = get_object_or_404(HeatTool, pk=pk)
    found.put_away(by=request.user)
    tell(request, f"The {found.name} is put away.")
    return redirect("workroom")
