"""The Quilt room: cloth, layout, materials, her yes."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from orders.views.callers import HELPER, OWNER, open_to
from orders.views.rooms import room


@require_safe
@open_to(OWNER, HELPER)
def quilt(request: HttpRequest, number: int) -> HttpResponse:
    return render(request, "quilt/page.html", room(request, number, "quilt"))
