"""A number for each request: it stands on a page that went wrong and in the log beside what happened."""

from __future__ import annotations

import logging
import re
import secrets
from collections.abc import Callable
from contextvars import ContextVar
from typing import Any

from django.http import HttpRequest, HttpResponse

from orders.views import faults

log = logging.getLogger("site.faults")
_number = ContextVar("number", default="-")
MOST_BYTES = 200 * 1024 * 1024  # of one request: a bag's photos sent at once
MOST_DRAINED = 1024 * 1024 * 1024  # read to its end first, so that the browser gets to see our words
MEGABYTE = 1024 * 1024


def numbered(answer: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Number each request, and write a line for each one that went wrong."""

    def answer_numbered(request: HttpRequest) -> HttpResponse:
        request.number = new_number()  # type: ignore[attr-defined]
        token = _number.set(request.number)  # type: ignore[attr-defined]
        try:
            response = in_words(request, answer(request))
            if went_wrong(response):
                write_line(request, response)
            return response
        finally:
            _number.reset(token)

    return answer_numbered


def not_too_large(answer: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Refuse what is far larger than any bag of photos before it is stored anywhere."""

    def answer_unless_too_large(request: HttpRequest) -> HttpResponse:
        size = int(request.META.get("CONTENT_LENGTH") or 0)
        if size <= MOST_BYTES:
            return answer(request)
        drain(request, size)
        return faults.too_large(request)

    return answer_unless_too_large


def drain(request: HttpRequest, size: int) -> None:
    """Read what is still coming and drop it; a browser cut off in the middle shows no page at all."""
    if size <= MOST_DRAINED:
        while request.read(MEGABYTE):
            pass


def new_number() -> str:
    """Return eight figures that can be read out over the telephone."""
    return f"{secrets.randbelow(10_000):04}-{secrets.randbelow(10_000):04}"


def in_words(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """Give an answer that would be a bare status its page."""
    if response.status_code != 405 or response.content:
        return response
    page = faults.not_by_this_way(request)
    page.headers["Allow"] = response.headers["Allow"]
    return page


def went_wrong(response: HttpResponse) -> bool:
    return response.status_code >= 400 and response.status_code != 422


def write_line(request: HttpRequest, response: HttpResponse) -> None:
    level = logging.WARNING if response.status_code not in (404, 405) else logging.INFO
    # The person as far as already known: a fault may be one of the very database that would tell.
    person = getattr(getattr(request, "_cached_user", None), "pk", None)
    path = without_secrets(request.path)
    log.log(level, "%s %s %s person %s", response.status_code, request.method, path, person or "-")


def without_secrets(path: str) -> str:
    """Return a path fit for the log: a private link's token is left out, and no line can be broken."""
    plain = path.encode("unicode_escape").decode("ascii")
    return re.sub(r"[A-Za-z0-9_-]{20,}", "…", plain)[:200]


class WithNumber(logging.Filter):
    """Puts the number of the request on each line written while it is answered."""

    def filter(self, record: logging.LogRecord) -> bool:
        record.number = _number.get()
        request: Any = getattr(record, "request", None)
        if isinstance(request, HttpRequest) and record.args:
            shown = without_secrets(request.path)
            args = record.args if isinstance(record.args, tuple) else ()
            record.args = tuple(shown if arg == request.path else arg for arg in args)
        return True
