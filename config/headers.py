"""What every page tells the browser beside its text."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers
from django.utils.text import compress_string

# No inline script or style anywhere: only files of the site itself are run, drawn or asked for.
POLICY = "; ".join(
    [
        "default-src 'none'",
        *(f"{kind}-src 'self'" for kind in ("script", "style", "img", "font", "connect", "manifest")),
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    ]
)

SMALL_PAGE = 1400  # bytes: one packet either way
BLUR = 100  # bytes at most that say nothing, so that no length gives away what a page holds


def small_pages(answer: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Send a page squeezed to a browser that takes it so; pictures and papers are small as they are."""

    def answer_small(request: HttpRequest) -> HttpResponse:
        response = answer(request)
        is_page = response.headers.get("Content-Type", "").startswith("text/html")
        if response.streaming or not is_page or response.has_header("Content-Encoding"):
            return response
        return squeezed(request, response)

    return answer_small


def squeezed(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """Make a page small for the browser that asks, where it takes it so."""
    patch_vary_headers(response, ("Cookie", "Accept-Encoding"))
    takes_it = "gzip" in request.headers.get("Accept-Encoding", "")
    if takes_it and len(response.content) > SMALL_PAGE:
        response.content = compress_string(response.content, max_random_bytes=BLUR)
        response.headers["Content-Encoding"] = "gzip"
        response.headers["Content-Length"] = str(len(response.content))
    return response


def private_pages(answer: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Let a page run nothing but the site's own files, and let nobody keep a copy of it on the way."""

    def answer_privately(request: HttpRequest) -> HttpResponse:
        response = answer(request)
        response.headers["Content-Security-Policy"] = POLICY
        response.headers["Permissions-Policy"] = "geolocation=(), microphone=(), payment=()"
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    return answer_privately
