"""A made-up shop to look round in, before the real one opens; and away with it again."""

from __future__ import annotations

from contextlib import suppress

from django.contrib import messages
from django.contrib.auth import logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from orders.demo.shop import NotADemo, close_demo, open_demo
from orders.views.callers import ANYONE, OWNER, open_to


@require_POST
@open_to(ANYONE)
def opening(request: HttpRequest) -> HttpResponse:
    """Open the made-up shop while nobody is in the place at all."""
    with suppress(NotADemo):  # somebody has a real shop here by now; the door says what there is
        open_demo()
    return redirect("sign-in")


@require_POST
@open_to(OWNER)
def closing(request: HttpRequest) -> HttpResponse:
    """Empty the made-up shop, so that a real one can open."""
    try:
        close_demo()
    except NotADemo as fault:
        messages.error(request, str(fault))
        return redirect("workroom")
    logout(request)
    return redirect("first-owner")
