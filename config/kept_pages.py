"""Pages that were looked at and of which nothing has changed since: answered again from memory.

A page is kept under the stamp of the records as it was before it was drawn, and under everything else that
it may depend on: whose it is, and as what; all cookies and what the session holds; the address with its
question; what the browser takes; the minute, since pages tell minutes that run. Only pages that are named
here are kept, each of them drawn from the records alone.
"""

from __future__ import annotations

import hashlib
import re
from collections import OrderedDict
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from threading import Lock
from typing import Any
from uuid import uuid4

from django.conf import settings
from django.contrib.messages import get_messages
from django.core.exceptions import MiddlewareNotUsed
from django.db import DatabaseError, connection
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.utils import timezone

from config.headers import squeezed
from orders import stamp

OF_THE_SHOP = {"today", "quilts", "order-bag", "order-quilt", "order-bench", "order-account"}
HERS = {"for-you"}
MOST_PAGES, MOST_BYTES = 200, 20 * 1024 * 1024
# A key by which a form that is sent twice counts once: two drawings never share one. Other names of one
# drawing alone would not be told from names of records, so a page that has such is not kept.
KEY = re.compile(rb'value="([0-9a-f]{32})"')
NAME = re.compile(rb'value="[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}"')


@dataclass(frozen=True)
class Page:
    """A page as it was sent, squeezed unless it has keys, and what it was drawn from."""

    drawn_from: tuple[str, str]
    content: bytes
    headers: tuple[tuple[str, str], ...]
    has_form: bool

    def answer(self, request: HttpRequest) -> HttpResponse:
        """Return it as the view and the parts of the site round it would."""
        if self.has_form:
            request.META["CSRF_COOKIE_NEEDS_UPDATE"] = True
        response = HttpResponse(with_fresh_keys(self.content))
        for name, value in self.headers:
            response.headers[name] = value
        return response


class Shelf:
    """Keeps the pages looked at last, as far as there is room for them."""

    def __init__(self) -> None:
        self._pages: OrderedDict[str, Page] = OrderedDict()
        self._bytes, self._lock = 0, Lock()

    def find(self, place: str, drawn_from: tuple[str, str]) -> Page | None:
        with self._lock:
            page = self._pages.get(place)
            if page is None or page.drawn_from != drawn_from:
                return None
            self._pages.move_to_end(place)
            return page

    def put(self, place: str, page: Page) -> None:
        with self._lock:
            self._take(place)
            self._pages[place], self._bytes = page, self._bytes + len(page.content)
            while len(self._pages) > MOST_PAGES or self._bytes > MOST_BYTES:
                self._take(next(iter(self._pages)))

    def clear(self) -> None:
        with self._lock:
            self._pages.clear()
            self._bytes = 0

    def _take(self, place: str) -> None:
        gone = self._pages.pop(place, None)
        self._bytes -= len(gone.content) if gone else 0


shelf = Shelf()


class KeptPages:
    """Answers with a kept page after the door was passed, and before anything is drawn."""

    def __init__(self, answer: Callable[[HttpRequest], HttpResponseBase]) -> None:
        if settings.DEBUG:
            raise MiddlewareNotUsed  # templates change under the site
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        response = self.answer(request)
        wanted = getattr(request, "to_keep", None)
        if wanted is not None and isinstance(response, HttpResponse) and may_be_kept(request, response):
            if not KEY.search(response.content):
                squeezed(request, response)
            has_form = bool(request.META.get("CSRF_COOKIE_NEEDS_UPDATE"))
            place, drawn_from = wanted
            shelf.put(place, Page(drawn_from, response.content, tuple(response.items()), has_form))
        return response

    def process_view(self, request: HttpRequest, *view: Any) -> HttpResponse | None:
        """Answer from memory, or note under what to keep the page that is now drawn."""
        name = request.resolver_match.url_name if request.resolver_match else None
        if request.method != "GET" or not (name in HERS or (name in OF_THE_SHOP and is_signed_in(request))):
            return None
        if len(get_messages(request)):
            return None
        place, drawn_from = place_of(request), (stamp_now(), minute_now())
        if not drawn_from[0]:
            return None
        page = shelf.find(place, drawn_from)
        if page is None:
            request.to_keep = place, drawn_from  # type: ignore[attr-defined]
        return page.answer(request) if page else None


def with_fresh_keys(content: bytes) -> bytes:
    """Return a page with keys of its own; in squeezed bytes there are none."""
    return KEY.sub(lambda found: b'value="%s"' % uuid4().hex.encode(), content)


def is_signed_in(request: HttpRequest) -> bool:
    return bool(request.user.is_authenticated and request.user.is_active)


def may_be_kept(request: HttpRequest, response: HttpResponse) -> bool:
    """Say whether an answer is a page that says the same to the next who asks alike."""
    is_page = response.status_code == 200 and response.headers.get("Content-Type", "").startswith("text/html")
    said: Any = get_messages(request)
    is_once = bool(response.cookies) or request.session.modified or said.added_new
    return is_page and not response.streaming and not is_once and not NAME.search(response.content)


def place_of(request: HttpRequest) -> str:
    """Return what stands for one page of one person in one browser; none of its secrets can be read there."""
    who: Any = request.user
    told = [
        request.scheme, request.get_host(), request.get_full_path(),
        who.pk, getattr(who, "role", ""), request.session.session_key,
        sorted(request.session.items()), request.META.get("HTTP_COOKIE", ""),
        request.headers.get("Accept-Encoding", ""),
        sorted((name, value) for name, value in request.headers.items() if name.startswith("Hx-")),
    ]  # fmt: skip
    return hashlib.sha256(repr(told).encode()).hexdigest()


def minute_now() -> str:
    return f"{timezone.now():%F %H:%M}"  # every zone's day begins with one


def stamp_now() -> str:
    """Return the stamp of the records; where there is none nothing is kept."""
    with suppress(DatabaseError):
        return stamp.now(connection)
    return ""
