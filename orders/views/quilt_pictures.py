"""The quilt picture by itself: a page to look at it in several ways, and a file to send beside the words."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from orders import papers
from orders.quilt import drawn, quilt_print
from orders.quilt.quilt_scenes import ways_to_look
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.notices import tell
from orders.views.quilt import order_and_shop, to_room
from orders.views.rooms import room as head_of_room
from orders.yes import yes_room
from orders.yes import yes_to_picture as yes_to_picture_of
from orders.yes.asked_picture import Asked, asked_of


@require_safe
@open_to(OWNER, HELPER)
def file(request: SignedIn, number: int) -> HttpResponse:
    """Send the picture as a file to go beside the words; nothing goes to whom it is still a surprise."""
    order, shop = order_and_shop(number)
    room = drawn.room_of(order, shop)
    if room.quilt is None:
        raise Http404
    if order.customer.is_quiet(on=shop.today()):
        return shown(request, number, status=409)
    caption = yes_room.caption_of(order, room.quilt, shop)
    jpeg = quilt_print.jpeg_of(room.quilt, drawn.view_of(room), caption=caption)
    name = f"quilt-{order.number}.jpg"
    return HttpResponse(
        jpeg, content_type="image/jpeg", headers={"Content-Disposition": f'attachment; filename="{name}"'}
    )


@require_safe
@open_to(OWNER, HELPER)
def page(request: SignedIn, number: int) -> HttpResponse:
    """Show the picture as whoever says yes to it sees it: as it was asked about, or as it would be."""
    return shown(request, number)


def shown(request: SignedIn, number: int, *, status: int = 200) -> HttpResponse:
    """Draw the page of the picture; without one it leads to the layouts."""
    head = head_of_room(request, number, "quilt")
    order, shop = head["order"], head["shop"]
    room = drawn.room_of(order, shop)
    if room.quilt is None:
        tell(request, "There is no picture yet. Choose a layout first.")
        return to_room(number, "layout")
    stands = yes_room.to_picture(order, room.quilt, unit=shop.unit)
    asked = asked_of(stands.version) if stands.is_asked and stands.version else None
    shown = asked or Asked(0, room.quilt, yes_to_picture_of.shown_of(room))
    chalked = [block for each in stands.changes for block in each.blocks]
    told = head | {"asked": shown, "to_picture": stands}
    told |= ways_to_look(shown, request.GET, unit=shop.unit, chalked=chalked)
    told["from_colors"] = drawn.drawn_from_colors(shown.quilt, shown.view())
    return render(request, "quilt/asked.html", told, status=status)


@require_POST
@open_to(OWNER)
def paper(request: SignedIn, number: int) -> HttpResponse:
    """Make the paper of the picture that was asked about, to be looked at and signed."""
    order, _ = order_and_shop(number)
    version = order.versions.filter(replaced_at=None).order_by("-number").first()
    if version is None:
        tell(request, "Ask for the yes first; the paper is of the picture that was asked about.")
        return to_room(number, "yes")
    return redirect("paper", papers.picture(version, by=request.user).number)
