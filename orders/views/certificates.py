"""Gift certificates: what is still owed on each, and a new one sold."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from orders import papers
from orders.account import giving_back
from orders.forms.ledger import CertificateForm
from orders.models import Certificate, EntryConflict, Paper, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def certificates(request: SignedIn, shop: Shop) -> HttpResponse:
    form = CertificateForm(request.POST if request.method == "POST" else None, shop=shop)
    status = 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            said = form.cleaned_data
            try:
                entry = giving_back.sell_certificate(
                    minor=said["amount"], bought_by=said["bought_by"], given_to=said["given_to"],
                    method=said["method"], key=said["key"], by=request.user,
                )  # fmt: skip
            except EntryConflict as fault:
                form.add_error(None, str(fault))
                status = 409
            else:
                papers.deposit(entry, by=request.user)
                tell(request, f"{entry.certificate} is written.")
                return redirect("books-certificates")
    found = list(Certificate.objects.with_left())
    printed = Paper.objects.of_certificates()
    for each in found:
        each.paper = printed.get(each.number)
    told = {"shop": shop, "form": form, "certificates": found, "owed": sum(each.left for each in found)}
    return render(request, "books/certificates.html", told, status=status)
