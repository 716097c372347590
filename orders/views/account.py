"""The Account room: quote, money, papers."""

from __future__ import annotations

from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from orders.account.account import account_of
from orders.customer import people, way_home
from orders.forms.going import LikeForm
from orders.forms.handing_over import KeepOffForm
from orders.forms.her_page import PeopleForm
from orders.forms.papers import UnclaimedForm
from orders.forms.who_pays import RestingForm, WhoPaysForm
from orders.views.callers import OWNER, SignedIn, open_to
from orders.views.rooms import room

# Forms of the price that is still to be told; when one comes back, that price is shown.
REDRAWS = frozenset({"line_form", "hours_form", "parts_form", "together_form"})


@require_safe
@open_to(OWNER)
def account(request: SignedIn, number: int) -> HttpResponse:
    return page(request, number)


def page(request: SignedIn, number: int, *, status: int = 200, **forms: Any) -> HttpResponse:
    """Draw the room; forms that came back take the place of fresh ones."""
    shown = room(request, number, "account")
    anew = request.GET.get("quote") == "new" or not REDRAWS.isdisjoint(forms)
    shown["keep_off_form"] = KeepOffForm(initial={"day": shown["order"].not_on}, today=shown["today"])
    shown["people_form"] = PeopleForm(order=shown["order"], today=shown["today"])
    shown["payers_form"] = WhoPaysForm(order=shown["order"], shop=shown["shop"])
    shown["resting_form"] = RestingForm()
    shown["unclaimed_form"] = UnclaimedForm(today=shown["today"])
    shown["link_names"] = people.names_on(shown["order"])
    before = way_home.made_before(shown["order"])
    shown["like_form"] = LikeForm(patterns=before) if shown["order"].accepted_at is None and before else None
    shown |= account_of(shown["order"], shown["shop"], anew=anew) | forms
    shown["link"] = request.session.pop("link given out", "") if request.method == "GET" else ""
    return render(request, "account/page.html", shown, status=status)
