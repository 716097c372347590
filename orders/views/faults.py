"""Pages that went wrong: what happened, what to do next, and the number that stands in the log."""

from __future__ import annotations

import errno
import sys

from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent
from django.db import OperationalError
from django.http import HttpRequest, HttpResponse
from django.template import loader
from django.views.decorators.csrf import requires_csrf_token

TOO_MUCH = (RequestDataTooBig, TooManyFieldsSent, TooManyFilesSent)


def page(request: HttpRequest, template: str, *, status: int) -> HttpResponse:
    """Draw a page of words without asking the database for anything."""
    number = getattr(request, "number", "")
    return HttpResponse(loader.render_to_string(template, {"number": number}), status=status)


@requires_csrf_token
def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    if isinstance(exception, TOO_MUCH):
        return too_large(request)
    return page(request, "400.html", status=400)


@requires_csrf_token
def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return page(request, "403.html", status=403)


def form_from_elsewhere(request: HttpRequest, reason: str = "") -> HttpResponse:
    return page(request, "403_csrf.html", status=403)


@requires_csrf_token
def not_here(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return page(request, "404.html", status=404)


def not_by_this_way(request: HttpRequest) -> HttpResponse:
    return page(request, "405.html", status=405)


def too_large(request: HttpRequest) -> HttpResponse:
    return page(request, "413.html", status=413)


@requires_csrf_token
def fault(request: HttpRequest) -> HttpResponse:
    """Answer a fault of ours, or of the disk: Django calls this while the fault is being handled."""
    raised = sys.exc_info()[1]
    if is_full_disk(raised):
        return page(request, "507.html", status=507)
    if isinstance(raised, OperationalError) and "locked" in str(raised):
        return page(request, "503.html", status=503)
    return page(request, "500.html", status=500)


def is_full_disk(raised: BaseException | None) -> bool:
    if isinstance(raised, OSError):
        return raised.errno in (errno.ENOSPC, errno.EDQUOT)
    return isinstance(raised, OperationalError) and "disk is full" in str(raised)
