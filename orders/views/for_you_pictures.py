"""The pictures on the customer's page, each light enough for a phone far away; her cookie opens them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from orders.customer import for_you, light_pictures
from orders.models import Photo
from orders.models.photo import SIZES
from orders.views.callers import ANYONE, open_to
from orders.views.her_link import opened, privately
from orders.views.photos import answer
from orders.yes import her_picture


@require_safe
@open_to(ANYONE)
def whole(request: HttpRequest, number: int) -> HttpResponse:
    """Send the picture she is asked about as one photo of all of it, and no picture of before."""
    _, order = opened(request)
    sees = order is not None and for_you.seat_at(order).sees_the_quilt
    asked = her_picture.asked_of(order) if sees else None
    if asked is None or asked.number != number or not asked.has_photos:
        raise Http404
    return as_webp(light_pictures.top(asked))


@require_safe
@open_to(ANYONE)
def photo(request: HttpRequest, number: int, size: int) -> HttpResponseBase:
    """Send a photo of the quilt in work."""
    _, order = opened(request)
    if order is None or size not in SIZES or not for_you.may_see_photos(order, for_you.seat_at(order)):
        raise Http404
    found = get_object_or_404(Photo.objects.of(order), pk=number)
    return lightly(request, found, size, light_pictures.photo)


def lightly(
    request: HttpRequest, found: Photo, size: int, lighten: Callable[[Path], bytes]
) -> HttpResponseBase:
    """Send a photo in few bytes; whoever calls this has asked who may see it."""
    try:
        return as_webp(lighten(found.rendition(size)))
    except FileNotFoundError:
        return privately(answer(request, found, size))


def as_webp(made: bytes) -> HttpResponse:
    """Return a picture as an answer that nobody keeps."""
    return privately(HttpResponse(made, content_type="image/webp"))
