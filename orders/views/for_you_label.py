"""The words for the sewn label, written on the customer's page."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from orders.customer import for_you
from orders.forms.for_you import LabelForm
from orders.models import Shop
from orders.views.callers import ANYONE, open_to
from orders.views.for_you import show
from orders.views.her_link import for_her, privately
from orders.yes.yes_to_picture import TooLate


@require_POST
@open_to(ANYONE)
@for_her
def label(request: HttpRequest, shop: Shop, order: Any) -> HttpResponse:
    """Keep her words, or bring the page back with what is in the way."""
    form = LabelForm(request.POST)
    if not form.is_valid():
        return show(request, status=422, label_form=form)
    try:
        for_you.write_label(order, form.cleaned_data["words"], name=for_you.seat_at(order).name)
    except TooLate as fault:
        return show(request, status=409, refused=str(fault))
    return privately(redirect("for-you"))
