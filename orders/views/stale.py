"""The one place where a form is refused because somebody else was there first."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from orders.models import Stale

OURS = ("csrfmiddlewaretoken", "version", "seen")


def refuse_stale(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Answer an older form with a page (409) that keeps what was typed and leads to how it stands now."""

    @wraps(view)
    def answered(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        try:
            return view(request, *args, **kwargs)
        except Stale:
            typed = {name: request.POST.getlist(name) for name in request.POST if name not in OURS}
            back = request.META.get("HTTP_REFERER", "")
            page = back if back.startswith(request.build_absolute_uri("/")) else "/"
            return render(request, "stale.html", {"typed": typed, "page": page}, status=409)

    return answered
