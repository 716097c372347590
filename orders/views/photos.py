"""Photos as pages show them: a rendition, or a drawing in its place until it is made."""

from __future__ import annotations

from django.http import FileResponse, Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_safe

from orders.background.photos import open_rendition
from orders.models import Consent, Parcel, Photo
from orders.models.photo import SIZES
from orders.quilt.panel_photos import PANEL_SIZES, jpeg_of, quad_in
from orders.templatetags.photos import shown
from orders.views.callers import HELPER, OWNER, open_to

KEPT = "private, max-age=31536000, immutable"


@require_safe
@open_to(OWNER, HELPER)
def picture(request: HttpRequest, number: int, size: int) -> HttpResponseBase:
    return answer(request, photo_for(request, number, size), size)


@require_safe
@open_to(OWNER, HELPER)
def part(request: HttpRequest, number: int, size: int) -> HttpResponse:
    return render(request, "parts/photo.html", shown(photo_for(request, number, size), size))


def photo_for(request: HttpRequest, number: int, size: int) -> Photo:
    """Return a photo that the one who asks may see: one with a number or an address is the owner's alone."""
    found = photo_of(number, size)
    if getattr(request.user, "role", None) != OWNER and shows_how_to_reach(found):
        raise Http404
    return found


def shows_how_to_reach(photo: Photo) -> bool:
    """Say whether a photo is of a message or of the label of a parcel."""
    return Consent.objects.filter(photo=photo).exists() or Parcel.objects.filter(box=photo).exists()


@require_safe
@open_to(OWNER, HELPER)
def panel(request: HttpRequest, number: int, corners: str, size: int) -> HttpResponse:
    return lay_flat(photo_of(number, SIZES[-1]).sha256, corners, size)


def lay_flat(sha256: str, corners: str, size: int) -> HttpResponse:
    """Send the part of a photo between four corners; whoever calls this has asked who may see it."""
    quad = quad_in(corners)
    picture = jpeg_of(sha256, quad, size) if quad and size in PANEL_SIZES else None
    if picture is None:
        raise Http404
    response = HttpResponse(picture, content_type="image/jpeg")
    response.headers["Cache-Control"] = KEPT
    return response


def photo_of(number: int, size: int) -> Photo:
    if size not in SIZES:
        raise Http404
    return get_object_or_404(Photo.objects.with_things(), pk=number)


def answer(request: HttpRequest, photo: Photo, size: int) -> HttpResponseBase:
    """Send a rendition; whoever calls this has asked already whether the caller may see the photo."""
    file = open_rendition(photo, size)
    if file is None:
        drawing = render(request, "parts/photo_waiting.svg", shown(photo, size))
        drawing.headers["Content-Type"] = "image/svg+xml"
        return drawing
    response = FileResponse(file, content_type="image/jpeg", filename=f"photo-{photo.pk}-{size}.jpg")
    # The bytes under this address never change, but they are for this caller alone.
    response.headers["Cache-Control"] = KEPT
    return response
