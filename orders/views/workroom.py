"""The workroom: the shop itself, part by part."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders import papers
from orders.forms.kept import KeptPart
from orders.forms.settling import SettlingPart
from orders.forms.signing_in import SigningInPart
from orders.forms.words import WordsPart
from orders.forms.workroom import FactsPart, HelperForm, Part, QuilterPart, RatesPart, TermsPart
from orders.forms.workroom_cloth import ClothPart
from orders.forms.workroom_lists import MinutesPart, PricesPart, WeekForm
from orders.forms.workroom_tax import TaxesPart
from orders.models import HeatTool, Person, Shop
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.in_shop import in_the_shop
from orders.views.notices import tell
from orders.workroom import everything_in_care, let_go, take_back, take_on

PARTS: dict[str, type[Part]] = {
    "shop": FactsPart,
    "prices": PricesPart,
    "rates": RatesPart,
    "cloth": ClothPart,
    "tax": TaxesPart,
    "terms": TermsPart,
    "after": SettlingPart,
    "words": WordsPart,
    "kept": KeptPart,
    "minutes": MinutesPart,
    "quilter": QuilterPart,
    "signing-in": SigningInPart,
}


@require_safe
@open_to(OWNER)
@in_the_shop
def workroom(request: SignedIn, shop: Shop) -> HttpResponse:
    people = Person.objects.select_related("week").order_by("-is_active", "-role", "pk")
    rules = shop.shop_rules()
    told = {"shop": shop, "people": people, "rules": rules, "deposit": rules.terms.deposit * 100}
    told["shrinkage"] = rules.allowances.shrinkage / 10
    told["tools"] = HeatTool.objects.in_use()
    return render(request, "workroom/page.html", told)


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def part(request: SignedIn, shop: Shop, name: str) -> HttpResponse:
    if name not in PARTS:
        raise Http404
    form = PARTS[name](request.POST if request.method == "POST" else None, shop=shop)
    if request.method == "POST" and form.kept(by=request.user):
        tell(request, f"{form.title}: kept.")
        return redirect("workroom")
    return render(request, "workroom/part.html", {"form": form, "shop": shop}, status=_status(form))


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
def week(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    person = get_object_or_404(Person.objects.select_related("week"), pk=pk)
    form = WeekForm(request.POST if request.method == "POST" else None, person=person, shop=shop)
    if form.is_valid():
        form.write(by=request.user)
        tell(request, f"{person}’s week: kept.")
        return redirect("workroom")
    return render(request, "workroom/week.html", {"form": form, "person": person}, status=_status(form))


@require_http_methods(["GET", "HEAD", "POST"])
@open_to(OWNER)
@in_the_shop
@sensitive_post_parameters("password")
def helper(request: SignedIn, shop: Shop) -> HttpResponse:
    form = HelperForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        said = form.cleaned_data
        made = take_on(said["name"], password=said["password"], stages=said["stages"], by=request.user)
        tell(request, f"{made} can sign in. Set the hours next.")
        return redirect("workroom-week", made.pk)
    return render(request, "workroom/helper.html", {"form": form}, status=_status(form))


@require_POST
@open_to(OWNER)
@in_the_shop
def leave(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    person = get_object_or_404(Person, pk=pk, role=Person.Role.HELPER)
    let_go(person, by=request.user)
    tell(request, f"{person} cannot sign in any more.")
    return redirect("workroom")


@require_POST
@open_to(OWNER)
@in_the_shop
def comeback(request: SignedIn, shop: Shop, pk: int) -> HttpResponse:
    person = get_object_or_404(Person, pk=pk, role=Person.Role.HELPER)
    take_back(person, by=request.user)
    tell(request, f"{person} can sign in again.")
    return redirect("workroom")


@require_safe
@open_to(OWNER)
@in_the_shop
def care(request: SignedIn, shop: Shop) -> HttpResponse:
    told = {"shop": shop, "today": shop.today(), "bags": everything_in_care()}
    return render(request, "workroom/care.html", told)


@require_POST
@open_to(OWNER)
@in_the_shop
def care_paper(request: SignedIn, shop: Shop) -> HttpResponse:
    """Print the list for whoever must bring every bag home."""
    return redirect("paper", papers.in_care(by=request.user).number)


def _status(form: Any) -> int:
    return 422 if form.is_bound else 200
