"""Who may open a page: one line above each view says it."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponseBase

from orders.models import Person

View = Callable[..., HttpResponseBase]

ANYONE = "anyone"
OWNER = "owner"
HELPER = "helper"


class SignedIn(HttpRequest):
    """A request that passed the door: whoever asks is a person of the shop."""

    user: Person


def open_to(*callers: str) -> Callable[[View], View]:
    """Turn away whoever is not named: to the door when signed out, with a plain page otherwise."""

    def guard(view: View) -> View:
        @wraps(view)
        def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if ANYONE in callers or getattr(request.user, "role", None) in callers:
                return view(request, *args, **kwargs)
            if request.user.is_authenticated:
                raise PermissionDenied
            return redirect_to_login(request.get_full_path())

        guarded.callers = callers  # type: ignore[attr-defined]
        return guarded

    return guard
