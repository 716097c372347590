"""The Quilt room: cloth chosen for its parts, and set aside."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST

from orders.cloth import cloth_needs, cloth_room
from orders.models import Order, Shop
from orders.quilt import drawn, layouts, quilt_room
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.quilt import order_and_shop, to_room
from orders.views.stale import refuse_stale


@require_POST
@open_to(OWNER)
@refuse_stale
def cloth(request: SignedIn, number: int) -> HttpResponse:
    """Choose a cloth for a part of the quilt; an empty name takes it out."""
    order, shop = order_and_shop(number)
    role, name = request.POST.get("role", ""), request.POST.get("cloth", "")
    shelf = quilt_room.shelf(order)
    on_shelf = {each.name for each in shelf}
    version = request.POST.get("version", "")
    if role not in cloth_needs.ROLES or (name and name not in on_shelf) or not version.isdecimal():
        tell(request, "That cloth is not on the shelf any more. Choose another one.")
        return to_room(number, "cloth")
    words = cloth_room.words_for(role, name)
    layouts.dress(order, {role: name}, words, version=int(version), by=request.user)
    if request.htmx:  # type: ignore[attr-defined]
        return at_once(request, order, shop, cloth_room.picked(order, shop, shelf, role=role))
    return to_room(number, "cloth", role=role)


def at_once(request: SignedIn, order: Order, shop: Shop, shown: dict[str, Any]) -> HttpResponse:
    """Answer a pick with the picture; what it takes is counted in a second call."""
    more = {"order": order, "shop": shop, "is_owner": True, "settling": bool(shown["pick"])}
    answer = render(request, "quilt/cloth_floor.html", shown | more)
    # Asked for by a part of the page that stays: the next pick may replace this answer at any time.
    answer["HX-Trigger-After-Settle"] = "cloth-picked"
    return answer


@require_POST
@open_to(OWNER)
@refuse_stale
def theme(request: SignedIn, number: int) -> HttpResponse:
    """Write down that the customer asked for a themed print, or that she did not."""
    order, _ = order_and_shop(number)
    version = request.POST.get("version", "")
    seen = int(version) if version.isdecimal() else -1
    wanted = request.POST.get("theme") == "yes"
    cloth_needs.ask_for_theme(order, wanted=wanted, version=seen, by=request.user)
    return to_room(number, "cloth", role=request.POST.get("role", ""))


@require_POST
@open_to(OWNER)
def setting_aside(request: SignedIn, number: int) -> HttpResponse:
    order, shop = order_and_shop(number)
    facts = drawn.room_of(order, shop)
    if facts.quilt is None or facts.offer is None:
        tell(request, "Choose a layout first; what it takes follows from it.")
        return to_room(number, "layout")
    needs = cloth_needs.needs_of(facts.offer, order, quilt_room.shelf(order))
    cloth_needs.set_aside(order, needs, by=request.user)
    waiting = [need.cloth for need in needs if need.waits_for_yes]
    but = f" But {waiting[0]} waits for her yes to cut it." if waiting else ""
    tell(request, f"All that this quilt takes is set aside.{but}")
    return to_room(number, "materials")
