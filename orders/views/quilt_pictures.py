"""The quilt picture by itself: a page to look at it in several ways, and a file to send beside the words."""

from __future__ import annotations

from django.http import Http404, HttpResponse
from django.views.decorators.http import require_safe

from orders import drawn, quilt_print, yes_room
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.quilt import order_and_shop


@require_safe
@open_to(OWNER, HELPER)
def file(request: SignedIn, number: int) -> HttpResponse:
    """Send the picture as a file to go beside the words."""
    order, shop = order_and_shop(number)
    room = drawn.room_of(order, shop)
    if room.quilt is None:
        raise Http404
    caption = yes_room.caption_of(order, room.quilt, shop)
    jpeg = quilt_print.jpeg_of(room.quilt, drawn.view_of(room), caption=caption)
    name = f"quilt-{order.number}.jpg"
    return HttpResponse(
        jpeg, content_type="image/jpeg", headers={"Content-Disposition": f'attachment; filename="{name}"'}
    )
