"""The calendar as a phone reads it, at an address that nobody can guess."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from orders.days.calendar_feed import calendar_text
from orders.models import Feed, Shop
from orders.views.callers import ANYONE, open_to


@require_safe
@open_to(ANYONE)
def calendar(request: HttpRequest, token: str) -> HttpResponse:
    """Give the calendar out; unknown and closed are the same nothing."""
    shop, feed = Shop.objects.the(), Feed.objects.opened_by(token)
    if shop is None or feed is None:
        raise Http404
    text = calendar_text(shop, now=timezone.now())
    answer = HttpResponse(text, content_type="text/calendar; charset=utf-8")
    answer.headers["Content-Disposition"] = 'inline; filename="batting-order.ics"'
    answer.headers["Cache-Control"] = "private, no-store"
    answer.headers["X-Robots-Tag"] = "noindex"
    return answer
