"""Measuring at leisure: the panels that still want it, one size typed, or corners tapped on the photo."""

from __future__ import annotations

from typing import Any

from django.db.models import prefetch_related_objects
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders.bag import measuring
from orders.bag.keeping import is_plain
from orders.bag.panels import label_of
from orders.forms.measuring import SizeForm, TapsForm
from orders.forms.two_phones import differences, with_version
from orders.models import Order, Piece, Shirt, Shop, Stale
from orders.models.photo import SIZES
from orders.templatetags.fits import in_full
from orders.templatetags.photos import shown
from orders.templatetags.shop import measure
from orders.views.callers import HELPER, OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.views.photos import photo_for
from orders.views.rooms import room
from planner.problems import BadInput
from planner.units import Size


@require_safe
@open_to(OWNER, HELPER)
def wanting(request: SignedIn, number: int) -> HttpResponse:
    around = room(request, number, "bag")
    pieces = measuring.wanting(around["order"])
    prefetch_related_objects(pieces, "photo")
    panels = [(piece, label_of(piece.side), size_form(piece, around["shop"])) for piece in pieces]
    return render(request, "measuring/wanting.html", around | {"panels": panels})


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER, HELPER)
@in_the_shop
def panel(request: SignedIn, shop: Shop, *, number: int, shirt: int, side: str) -> HttpResponse:
    piece = panel_of(number, shirt, side)
    if request.method != "POST":
        return page(request, shop, number, piece)
    form = TapsForm(request.POST)
    reading = measured(form, piece, shop)
    if reading is None:
        return page(request, shop, number, piece, taps_form=form, status=422)
    try:
        measuring.write_reading(piece, reading, form.taps, seen=form.cleaned_data["version"], by=request.user)
    except Stale:
        return page(
            request, shop, number, piece, taps_form=with_version(form, piece.version), stale=True, status=409
        )
    tell(
        request, f"{piece.name}: {in_full(reading.size, shop)}, ± {measure(reading.plus_minus, shop)}. Kept."
    )
    return redirect("shirt-measuring", number, shirt, side)


def measured(form: TapsForm, piece: Piece, shop: Shop) -> measuring.Reading | None:
    """Return what the taps of a form give; what cannot be is a fault of the form."""
    if piece.photo is None:
        form.add_error(
            None, "There is no photo of this panel. Add one on the shirt’s page, or type the size."
        )
    if not form.is_valid() or piece.photo is None:
        return None
    try:
        return measuring.read(piece.photo, form.taps, unit=shop.unit)
    except BadInput as fault:
        form.add_error(None, measuring.why_refused(fault))
    except measuring.TooCoarse as fault:
        form.add_error(None, str(fault))
    return None


@require_POST
@open_to(OWNER, HELPER)
@in_the_shop
def typed(request: SignedIn, shop: Shop, *, number: int, shirt: int, side: str) -> HttpResponse:
    piece = panel_of(number, shirt, side)
    form = SizeForm(request.POST, unit=shop.unit, plain=is_plain(piece))
    if not form.is_valid():
        return page(request, shop, number, piece, size_form=form, status=422)
    try:
        measuring.write_typed(
            piece, form.cleaned_data["size"], seen=form.cleaned_data["version"], by=request.user
        )
    except Stale:
        now = size_form(piece, shop)
        both = {"size_form": with_version(form, piece.version), "differences": differences(form, now)}
        return page(request, shop, number, piece, **both, status=409)
    tell(request, f"{piece.name}: {in_full(form.cleaned_data['size'], shop)}. Kept.")
    return redirect(back_to(request, number, shirt, side))


def back_to(request: SignedIn, number: int, shirt: int, side: str) -> str:
    """Return the list of the bag to whoever typed there, else the panel's own page."""
    if "list" in request.POST:
        return reverse("order-measuring", args=[number])
    return reverse("shirt-measuring", args=[number, shirt, side])


@require_safe
@open_to(OWNER, HELPER)
def picture(request: HttpRequest, number: int) -> HttpResponseBase:
    """Send the whole picture, for the glass that is held over a corner."""
    photo = photo_for(request, number, SIZES[-1])
    if not photo.file.exists():
        drawing = render(request, "parts/photo_waiting.svg", shown(photo, measuring.SHOWN))
        drawing.headers["Content-Type"] = "image/svg+xml"
        return drawing
    answer = FileResponse(photo.file.open("rb"), content_type="image/jpeg")
    answer.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer


def panel_of(number: int, shirt: int, side: str) -> Piece:
    """Return a panel by its shirt's number within the bags of an order, or answer that it is not here."""
    found = get_object_or_404(Shirt.objects.of_order(number), number=shirt)
    return get_object_or_404(found.pieces.select_related("photo", "shirt", "order"), side=side)


def size_form(piece: Piece, shop: Shop) -> SizeForm:
    """Return the one field for both sides, as they stand once somebody has measured."""
    size = None if piece.sizes_are_usual else known_size(piece)
    initial = {"version": piece.version, "size": size}
    return SizeForm(initial=initial, unit=shop.unit, plain=is_plain(piece), auto_id=f"id_{piece.pk}_%s")


def known_size(piece: Piece) -> Size:
    """Return the print, or all the cloth of a plain piece."""
    if is_plain(piece):
        return Size(piece.free_left + piece.free_right, piece.free_top + piece.free_bottom)
    return Size(piece.print_width, piece.print_height)


def how_in_words(piece: Piece) -> str:
    """Say how a panel was measured, and what that leaves in doubt."""
    if piece.measured_how == "by hand":
        return "By hand"
    reference = (piece.taps or {}).get("reference", "")
    words = [f"From the photo, by {measuring.BY[reference]}"] if reference else []
    if "does not agree" in piece.measured_how:
        words.append("its corners do not agree with a whole picture: was it cut off, or is it another sheet?")
    if "not square" in piece.measured_how:
        words.append("its sides are uneven")
    return "; ".join(words)


def page(
    request: SignedIn, shop: Shop, number: int, piece: Piece, *, status: int = 200, **change: Any
) -> HttpResponse:
    """Answer with a panel's page for measuring; `change` puts forms that came back in place of fresh ones."""
    form = change.get("taps_form") or TapsForm(initial=TapsForm.of(piece))
    shown = {
        "order": get_object_or_404(Order, number=number),
        "shirt": piece.shirt,
        "piece": piece,
        "photo": piece.photo,
        "label": label_of(piece.side),
        "is_plain": is_plain(piece),
        "taps_form": form,
        "quads": quads_of(form),
        "size_form": size_form(piece, shop),
        "known": in_full(known_size(piece), shop),
        "how": how_in_words(piece),
        "is_coarse": piece.plus_minus > measuring.COARSE,
    }
    return render(request, "measuring/page.html", shown | change, status=status)


def quads_of(form: TapsForm) -> list[tuple[str, str]]:
    """Return each quad as the points of a polygon, as far as they are numbers."""
    drawn = []
    for quad, _, fields in form.groups():
        values = [str(field.value() or 0) for field in fields]
        pairs = zip(values[::2], values[1::2], strict=True)
        drawn.append((quad, " ".join(f"{x},{y}" for x, y in pairs)))
    return drawn
