"""The Quilt room: a mixed layout looked for in the background, with its progress and its end."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from orders.quilt import mixing
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.quilt import order_and_shop, to_room


@require_POST
@open_to(OWNER)
def mixed(request: SignedIn, number: int) -> HttpResponse:
    """Begin to look for a mixed layout."""
    order, shop = order_and_shop(number)
    mixing.look(order, unit=shop.unit)
    tell(request, "Mixed sizes are being looked for. You can go on with something else.")
    return to_room(number, "mixed")


@require_POST
@open_to(OWNER)
def ending(request: SignedIn, number: int) -> HttpResponse:
    """Stop looking, and keep the best so far among the ways."""
    order, _ = order_and_shop(number)
    tell(request, mixing.stop(order))
    return to_room(number, "layout")


@require_safe
@open_to(OWNER, HELPER)
def progress(request: SignedIn, number: int) -> HttpResponse:
    """Tell how far the search is; once it has ended, the whole room is asked for again."""
    order, _ = order_and_shop(number)
    search = mixing.search_of(order)
    if not request.htmx:  # type: ignore[attr-defined]
        return to_room(number, "mixed")
    if search is None or not search.is_open:
        return HttpResponse(headers={"HX-Refresh": "true"})
    facts = {"order": order, "mixed_search": search, "is_owner": request.user.role == OWNER}
    return render(request, "quilt/mixing.html", facts)
