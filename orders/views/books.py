"""The books: a sheet for each month and each year."""

from __future__ import annotations

import re
from datetime import date

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from orders.account import books as reckoning
from orders.account.books_file import as_csv
from orders.models import Shop
from orders.views.callers import OWNER, open_to
from orders.views.in_shop import in_the_shop


@require_safe
@open_to(OWNER)
@in_the_shop
def books(request: HttpRequest, shop: Shop) -> HttpResponse:
    today = shop.today()
    of = period(request.GET.get("year") or request.GET.get("month") or f"{today:%Y-%m}")
    return render(
        request,
        "books/page.html",
        {
            "shop": shop,
            "today": today,
            "sheet": reckoning.sheet(of),
            "period": of,
            "receipts": [] if of.is_year else reckoning.receipts_of(of),
            "owed": reckoning.owed(on=today),
            "jobs": reckoning.jobs(of, shop),
            "is_now": of.first <= today < of.until,
        },
    )


@require_safe
@open_to(OWNER)
def entries(request: HttpRequest, month_name: str) -> HttpResponse:
    of = period(month_name)
    text = as_csv(reckoning.entries_of(of))
    answer = HttpResponse(text, content_type="text/csv; charset=utf-8; header=present")
    answer.headers["Content-Disposition"] = f'attachment; filename="books-{of.name}.csv"'
    return answer


def period(name: str) -> reckoning.Period:
    """Return the month named 2027-05 or the year named 2027; another name is no page of ours."""
    try:
        if re.fullmatch(r"[1-9]\d{3}", name) and int(name) < 9999:
            return reckoning.year_of(int(name))
        return reckoning.month_of(date.fromisoformat(f"{name}-01"))
    except (ValueError, OverflowError):
        raise Http404 from None
