"""The Quilt room: the layout, block by block, and the size that is wished."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from orders.cloth import cloth_room
from orders.forms.quilt import WishForm, YesToCutForm, wish_form
from orders.models import Order, Shop
from orders.quilt import arranging_room, drawn, finishing, layouts, mixing, quilt_room, quilt_wall, ways
from orders.quilt.block_moves import CannotMove
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.rooms import room
from orders.views.stale import refuse_stale
from orders.yes import yes_room


@require_safe
@open_to(OWNER, HELPER)
def quilt(request: SignedIn, number: int) -> HttpResponse:
    return wall(request, number) if is_about_the_wall(request) else show(request, number)


def wall(request: SignedIn, number: int, *, status: int = 200, **forms: Any) -> HttpResponse:
    """Draw the picture and its label alone, for which nothing has to be reckoned."""
    order, shop = order_and_shop(number)
    facts = drawn.wall_of(order, shop)
    context = {"order": order, "shop": shop, "is_owner": request.user.role == OWNER}
    context |= quilt_wall.shown(facts, forms.pop("query", request.GET))
    answer = render(request, "quilt/picture.html", context | forms, status=status)
    answer["HX-Push-Url"] = "false"  # the address stays that of the page, whatever was swapped in it
    if "drawn" in request.GET:
        answer["HX-Trigger-After-Swap"] = "drawn-anew"  # then the page asks for what follows from it
    return answer


def show(request: SignedIn, number: int, *, status: int = 200, **forms: Any) -> HttpResponse:
    """Draw the room; `forms` are those that came back with a fault, the others are fresh."""
    context = room(request, number, "quilt")
    order, shop = context["order"], context["shop"]
    facts = drawn.room_of(order, shop)
    cloths = quilt_room.shelf(order)
    to_cut = yes_room.to_cut(order, facts.quilt, facts.pieces)
    said = {"said_by": order.approver}
    context |= {
        "facts": facts,
        "cloths": cloths,
        "to_cut": to_cut,
        "wish_form": wish_form(order, shop.unit),
        "cut_form": YesToCutForm(names=to_cut.to_ask, initial={**said, "pieces": to_cut.to_ask}),
    }
    context |= quilt_room.shown(facts, forms.pop("query", request.GET))
    context |= cloth_room.shown(facts, cloths, role=request.GET.get("role", ""))
    context |= yes_room.shown(facts)
    context |= arranging_room.shown(facts)
    if facts.quilt is not None:
        context["binding_ways"] = finishing.binding_ways(order, shop, facts.quilt, cloths)
    if (nearest := quilt_room.nearest_size(facts)) and context["is_owner"]:
        context |= {"nearest": nearest, "nearest_form": wish_form(order, shop.unit, size=nearest)}
    context["mixed_search"] = mixing.search_of(order)
    context["mixed_before"] = mixing.found_before(order, facts.quilt)
    return render(request, "quilt/page.html", context | forms, status=status)


@require_POST
@open_to(OWNER)
@refuse_stale
def wish(request: SignedIn, number: int) -> HttpResponse:
    order, shop = order_and_shop(number)
    form = WishForm(request.POST, unit=shop.unit)
    if not form.is_valid():
        return show(request, number, status=422, wish_form=form)
    layouts.wish(order, version=form.cleaned_data["version"], by=request.user, **form.wishes())
    tell(request, "These are the ways to that size.")
    return to_room(number, "layout")


@require_POST
@open_to(OWNER)
@refuse_stale
def layout(request: SignedIn, number: int) -> HttpResponse:
    """Take the way whose button was pressed."""
    order, shop = order_and_shop(number)
    facts = drawn.room_of(order, shop)
    offer = ways.offer_with(facts, request.POST.get("way", ""))
    if offer is None:
        tell(
            request, "That way is no longer on offer: the shirts, the cloth or the size changed. Look again."
        )
        return to_room(number, "layout")
    words = f"{ways.name_of(offer.layout.quilt)} chosen"
    try:
        layouts.choose(
            order, offer.layout.quilt, words, minutes=offer.minutes, seen=seen_in(request), by=request.user
        )
    except CannotMove as reason:
        tell(request, str(reason))
        return to_room(number, "layout")
    return to_room(number, "picture")


def order_and_shop(number: int) -> tuple[Order, Shop]:
    shop = Shop.objects.the()
    order = get_object_or_404(Order, number=number)
    assert shop is not None
    return order, shop


def seen_in(request: SignedIn) -> int:
    """Return the move a page was looking at; what is no number is older than any."""
    typed = request.POST.get("seen", "")
    return int(typed) if typed.isdecimal() and len(typed) < 10 else -1


def is_about_the_wall(request: SignedIn) -> bool:
    """Say whether the page that asks wants its picture swapped and no more."""
    return getattr(request, "htmx", None) is not None and request.htmx.target in ("picture", "hung-quilt")  # type: ignore[attr-defined]


def to_room(number: int, section: str, **query: str) -> HttpResponse:
    wanted = f"?{urlencode(query)}" if query else ""
    return HttpResponseRedirect(f"{reverse('order-quilt', args=[number])}{wanted}#{section}")
