"""The books: what came in, what was charged, who owes, and what an hour of finished work brought."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from django.db.models import Max, Q, QuerySet, Sum

from orders.models import Account, Entry, Order, Posting, Quote, Shop
from orders.money import METHODS, PAID_INTO, SOLD, moved
from planner.units import decimals, round_exactly

COLUMNS = ("day", "receipt", "what", "order", "payer", "words", "method", "from", "to", "amount", "currency")
STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")


@dataclass(frozen=True)
class Owed:
    """An order with money open on it, and for how many days nothing moved."""

    order: Order
    minor: int
    since: date
    days: int


@dataclass(frozen=True)
class Job:
    """A finished order: minutes quoted and spent, and what an hour brought before and after overhead."""

    order: Order
    quoted: int
    spent: int
    net: int
    hour: int | None
    wage: int | None


@dataclass(frozen=True)
class Sheet:
    """One month. Amounts in minor units; `by_method` is what came in less what went back."""

    first: date
    by_method: tuple[tuple[str, int], ...]
    taken: int
    charged: int
    tax: int
    receipts: tuple[Entry, ...]

    @property
    def before(self) -> date:
        """The first day of the month before."""
        return (self.first - timedelta(days=1)).replace(day=1)

    @property
    def after(self) -> date:
        """The first day of the month after."""
        return following(self.first)


def following(first: date) -> date:
    """Return the first day of the next month."""
    return (first + timedelta(days=31)).replace(day=1)


def entries_of(first: date) -> QuerySet[Entry]:
    """Return a month's entries with all that is shown of them."""
    month = Entry.objects.filter(day__gte=first, day__lt=following(first))
    return month.select_related("order", "payer", "reverses").prefetch_related("postings").order_by("pk")


def sheet(first: date) -> Sheet:
    """Return the sheet of the month that begins on `first`."""
    entries = list(entries_of(first))
    taken = [(entry.method, moved(entry.postings.all(), [Account.OWED], PAID_INTO)) for entry in entries]
    methods = tuple((each, sum(minor for method, minor in taken if method == each)) for each in METHODS)
    return Sheet(
        first=first,
        by_method=tuple((each, minor) for each, minor in methods if minor),
        taken=sum(minor for _, minor in taken),
        charged=sum(moved(entry.postings.all(), SOLD, [Account.OWED]) for entry in entries),
        tax=sum(moved(entry.postings.all(), [Account.TAX], [Account.OWED]) for entry in entries),
        receipts=tuple(entry for entry in entries if entry.receipt_number),
    )


def owed(*, on: date) -> list[Owed]:
    """Return the orders with money open, those first where nothing has moved for longest."""
    rows = (
        Posting.objects.filter(entry__order__isnull=False)
        .values("entry__order")
        .annotate(
            open=Sum("minor", filter=Q(into=Account.OWED), default=0)
            - Sum("minor", filter=Q(out_of=Account.OWED), default=0),
            since=Max("entry__day"),
        )
        .filter(open__gt=0)
    )
    found = {row["entry__order"]: row for row in rows}
    orders = Order.objects.filter(pk__in=found).select_related("customer")
    all_of_them = [
        Owed(order, row["open"], row["since"], (on - row["since"]).days)
        for order in orders
        for row in [found[order.pk]]
    ]
    return sorted(all_of_them, key=lambda each: (-each.days, each.order.number))


def jobs(first: date, shop: Shop) -> list[Job]:
    """Return what was handed over in a month and what its hours brought."""
    begins, ends = (_midnight(day, shop) for day in (first, following(first)))
    done = (
        Order.objects.put_away()
        .filter(handed_over_at__gte=begins, handed_over_at__lt=ends)
        .annotate(spent_minutes=Sum("stages__spent", default=0))
        .order_by("number")
    )
    agreed = {quote.order_id: quote for quote in Quote.objects.agreed().filter(order__in=done)}
    overhead = shop.shop_rules().overhead.on(60).minor
    return [
        _job(order, agreed[order.pk], overhead, spent=order.spent_minutes)
        for order in done
        if order.pk in agreed
    ]


def _midnight(day: date, shop: Shop) -> datetime:
    return datetime.combine(day, time(), ZoneInfo(shop.time_zone))


def _job(order: Order, quote: Quote, overhead: int, *, spent: int) -> Job:
    hour = round_exactly(Fraction((quote.net - quote.paid_out) * 60, spent)) if spent else None
    return Job(
        order=order,
        quoted=sum(minutes for _, minutes in quote.minutes),
        spent=spent,
        net=quote.net,
        hour=hour,
        wage=hour - overhead if hour is not None else None,
    )


def as_csv(entries: Iterable[Entry]) -> str:
    """Return the entries as RFC 4180 text: a header, one row a posting, CRLF at each end.

    Text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows([_plain(cell) for cell in row] for entry in entries for row in _rows(entry))
    return out.getvalue()


def _rows(entry: Entry) -> Iterator[tuple[str, ...]]:
    for each in entry.postings.all():
        yield (
            entry.day.isoformat(),
            str(entry.receipt_number or ""),
            entry.kind,
            str(entry.order or ""),
            str(entry.payer or ""),
            entry.words,
            entry.method,
            each.out_of,
            each.into,
            _amount(each.minor, entry.currency),
            entry.currency,
        )


def _amount(minor: int, currency: str) -> str:
    places = decimals(currency)
    whole, rest = divmod(minor, 10**places)
    return f"{whole}.{rest:0{places}d}" if places else str(whole)


def _plain(cell: str) -> str:
    return f"'{cell}" if cell.startswith(STARTS_A_FORMULA) else cell
