"""An enquiry that never became an order is forgotten."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from orders.customer import old_enquiries
from orders.models import Enquiry, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def forgetting(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    """Tell what would go; a second tap lets it go."""
    found = get_object_or_404(Enquiry.objects.known().filter(order=None), pk=pk)
    if request.method == "POST":
        old_enquiries.forget_enquiry(found, by=request.user)
        tell(request, "Forgotten. That somebody asked stays, without a name.")
        return redirect("quilts")
    told = {
        "shop": shop,
        "enquiry": found,
        "mails": found.mails.count(),
        "estimates": old_enquiries.estimates_of(Enquiry.objects.filter(pk=pk)).count(),
        "is_penciled": found.is_penciled(on=shop.today()),
    }
    return render(request, "enquiry/forgetting.html", told)
