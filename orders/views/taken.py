"""The shop in one file: asked for, made in the background, fetched by its owner alone."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.http import FileResponse, Http404, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from orders.keep import taken
from orders.models import Errand, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.her_link import privately
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def take_along(request: SignedIn, shop: Shop) -> HttpResponse:
    if request.method == "POST":
        taken.ask_for_shop(by=request.user)
        tell(request, "The shop is being put into one file. It lies below once it is made.")
        return redirect("workroom-take-along")
    return render(request, "workroom/take_along.html", {"shop": shop, "made": taken.made_for_shop()})


@require_safe
@open_to(OWNER)
def fetch(request: SignedIn, pk: int) -> HttpResponseBase:
    """Send a file that was made; the address alone opens nothing, and nothing keeps a copy on the way."""
    errand = get_object_or_404(Errand, pk=pk, kind__in=(taken.SHOP, taken.ONE), state=Errand.State.DONE)
    try:
        file = open(taken.file_for(errand), "rb")  # noqa: SIM115  # the answer closes it
    except FileNotFoundError:
        raise Http404 from None
    assert errand.ended_at is not None  # it is done
    made_on = errand.ended_at.astimezone(ZoneInfo(Shop.objects.get().time_zone)).date()
    what = "shop" if errand.kind == taken.SHOP else f"customer-{errand.payload['customer']}"
    answer = FileResponse(
        file,
        content_type="application/zip",
        as_attachment=True,
        filename=f"{what}-{made_on}.zip",
    )
    return privately(answer)
