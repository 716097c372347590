"""Pages that only a shop can have: until it is set up, the owner is led to its questions."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpResponse
from django.shortcuts import redirect, render

from orders.models import Person, Shop
from orders.views.callers import SignedIn


def in_the_shop(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Hand the shop to the view; where there is none yet, go and set it up."""

    @wraps(view)
    def inside(request: SignedIn, *args: Any, **kwargs: Any) -> HttpResponse:
        shop = Shop.objects.the()
        if shop is not None:
            return view(request, shop, *args, **kwargs)
        if request.user.role == Person.Role.OWNER:
            return redirect("set-up")
        return render(request, "set_up/not_yet.html")

    return inside
