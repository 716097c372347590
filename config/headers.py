"""What every page tells the browser beside its text."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

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


def private_pages(answer: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Let a page run nothing but the site's own files, and let nobody keep a copy of it on the way."""

    def answer_privately(request: HttpRequest) -> HttpResponse:
        response = answer(request)
        response.headers["Content-Security-Policy"] = POLICY
        response.headers["Permissions-Policy"] = "geolocation=(), microphone=(), payment=()"
        response.headers.setdefault("Cache-Control", "no-store")
        return response

    return answer_privately
