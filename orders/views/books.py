"""The books: a sheet for each month."""

from __future__ import annotations

from datetime import date

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from orders import books as reckoning
from orders.models import Shop
from orders.views.callers import OWNER, open_to
from orders.views.in_shop import in_the_shop


@require_safe
@open_to(OWNER)
@in_the_shop
def books(request: HttpRequest, shop: Shop) -> HttpResponse:
    today = shop.today()
    first = month(request.GET.get("month") or f"{today:%Y-%m}")
    return render(
        request,
        "books/page.html",
        {
            "shop": shop,
            "today": today,
            "sheet": reckoning.sheet(first),
            "owed": reckoning.owed(on=today),
            "jobs": reckoning.jobs(first, shop),
            "is_this_month": first == today.replace(day=1),
        },
    )


@require_safe
@open_to(OWNER)
def entries(request: HttpRequest, month_name: str) -> HttpResponse:
    first = month(month_name)
    text = reckoning.as_csv(reckoning.entries_of(first))
    answer = HttpResponse(text, content_type="text/csv; charset=utf-8; header=present")
    answer.headers["Content-Disposition"] = f'attachment; filename="books-{first:%Y-%m}.csv"'
    return answer


def month(name: str) -> date:
    """Return the first day of a month named 2027-05; another name is no page of ours."""
    try:
        return date.fromisoformat(f"{name}-01")
    except ValueError:
        raise Http404 from None
