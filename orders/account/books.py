"""The books: what came in, what was charged, who owes, and what an hour of finished work brought."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import Max, Q, QuerySet, Sum
from django.db.models.functions import TruncMonth

from orders.account.earning import changed_since, earned_by
from orders.account.money import CREDITED, METHODS, MONEY, SOLD, moved
from orders.models import Account, Entry, Order, Posting, Quote, Shop
from planner.brief import ShopRules


@dataclass(frozen=True)
class Owed:
    """An order with money open on it, and for how many days nothing moved."""

    order: Order
    minor: int
    since: date
    days: int


@dataclass(frozen=True)
class Step:
    """One stage of a finished order: minutes quoted and spent."""

    kind: str
    quoted: int
    spent: int


@dataclass(frozen=True)
class Job:
    """A finished order: minutes quoted and spent, and what an hour brought before and after overhead.

    `net` is the price before tax with what was added and taken off since.

    `net_next` before tax would have brought the aim for the minutes it took; `steps` are the
    stages that took other than was quoted, the widest apart first.
    """

    order: Order
    quoted: int
    spent: int
    net: int
    hour: int | None
    wage: int | None
    net_next: int | None = None
    steps: tuple[Step, ...] = ()


@dataclass(frozen=True)
class Period:
    """A month or a year; `until` is the first day after it."""

    first: date
    until: date

    @property
    def is_year(self) -> bool:
        """Say whether it is longer than a month."""
        return self.until != following(self.first)

    @property
    def name(self) -> str:
        """2027-05 or 2027, as addresses have it."""
        return f"{self.first:%Y}" if self.is_year else f"{self.first:%Y-%m}"

    @property
    def before(self) -> date:
        """The first day of the month, or year, before."""
        last = self.first - timedelta(days=1)
        return last.replace(month=1, day=1) if self.is_year else last.replace(day=1)


def month_of(first: date) -> Period:
    """Return the month that begins on a day."""
    return Period(first, following(first))


def year_of(year: int) -> Period:
    """Return a year."""
    return Period(date(year, 1, 1), date(year + 1, 1, 1))


def following(first: date) -> date:
    """Return the first day of the next month."""
    return (first + timedelta(days=31)).replace(day=1)


@dataclass(frozen=True)
class Moves:
    """What moved between two accounts, summed: the month, the way it was paid, from, to, minor units."""

    first: date
    method: str
    out_of: str
    into: str
    minor: int


@dataclass(frozen=True)
class Sums:
    """What a month or a year came to, in minor units; `by_method` is what came in less what went back.

    `tax` is what was charged less what credits took off; certificates sold are owed, not earned.
    """

    by_method: tuple[tuple[str, int], ...]
    taken: int
    charged: int
    tax: int
    credited: int
    written_off: int
    tips: int
    certificates_sold: int
    certificates_used: int


@dataclass(frozen=True)
class Sheet:
    """One month or year: its sums, and for a year those of each month."""

    period: Period
    sums: Sums
    months: tuple[tuple[date, Sums], ...] = ()


def sheet(period: Period) -> Sheet:
    """Return what a period came to, from the postings alone."""
    moves = _moves(period)
    months = sorted({each.first for each in moves}) if period.is_year else []
    by_month = [(first, _sums([each for each in moves if each.first == first])) for first in months]
    return Sheet(period, _sums(moves), tuple(by_month))


def _moves(period: Period) -> list[Moves]:
    rows = (
        Posting.objects.filter(entry__day__gte=period.first, entry__day__lt=period.until)
        .annotate(month=TruncMonth("entry__day"))
        .values_list("month", "entry__method", "out_of", "into")
        .annotate(sum=Sum("minor"))
        .order_by("month")
    )
    return [Moves(*row) for row in rows]


def _sums(moves: list[Moves]) -> Sums:
    methods = [each for each in (*METHODS, "") if any(row.method == each for row in moves)]
    came_in = [(each, _came_in([row for row in moves if row.method == each])) for each in methods]
    return Sums(
        by_method=tuple((each, minor) for each, minor in came_in if minor),
        taken=_came_in(moves),
        charged=moved(moves, SOLD, [Account.OWED]),
        tax=moved(moves, [Account.TAX], [Account.OWED]) - moved(moves, [Account.OWED], [Account.TAX_CREDIT]),
        credited=moved(moves, [Account.OWED], CREDITED),
        written_off=moved(moves, [Account.OWED], [Account.WRITTEN_OFF]),
        tips=moved(moves, [Account.TIPS], MONEY),
        certificates_sold=moved(moves, [Account.CERTIFICATES], [*MONEY, Account.BEFORE]),
        certificates_used=moved(moves, [Account.OWED], [Account.CERTIFICATES]),
    )


def _came_in(moves: list[Moves]) -> int:
    into = sum(each.minor for each in moves if each.into in MONEY)
    return into - sum(each.minor for each in moves if each.out_of in MONEY)


def entries_of(period: Period) -> QuerySet[Entry]:
    """Return a period's entries with all that is written of them."""
    found = Entry.objects.filter(day__gte=period.first, day__lt=period.until)
    return found.select_related("order", "payer").prefetch_related("postings").order_by("pk")


def receipts_of(period: Period) -> QuerySet[Entry]:
    """Return a period's receipts, each with its `amount`, in one query."""
    found = Entry.objects.filter(day__gte=period.first, day__lt=period.until, receipt_number__isnull=False)
    return found.select_related("order").annotate(amount=Sum("postings__minor")).order_by("receipt_number")


def owed(*, on: date) -> list[Owed]:
    """Return the orders with money open, those first where nothing has moved for longest."""
    into = Sum("entries__postings__minor", filter=Q(entries__postings__into=Account.OWED), default=0)
    out_of = Sum("entries__postings__minor", filter=Q(entries__postings__out_of=Account.OWED), default=0)
    found = Order.objects.annotate(open=into - out_of, since=Max("entries__day")).filter(open__gt=0)
    told = [Owed(each, each.open, each.since, (on - each.since).days) for each in found]
    return sorted(told, key=lambda each: (-each.days, each.order.number))


def jobs(period: Period, shop: Shop) -> list[Job]:
    """Return what was handed over in a period and what its hours brought."""
    begins, ends = (_midnight(day, shop) for day in (period.first, period.until))
    agreed = (
        Quote.objects.agreed()
        .filter(order__handed_over_at__gte=begins, order__handed_over_at__lt=ends)
        .select_related("order")
        .annotate(since=changed_since())
        .prefetch_related("order__stages")
        .order_by("order__number")
    )
    rules = shop.shop_rules()
    return [_job(quote, rules) for quote in agreed]


def _midnight(day: date, shop: Shop) -> datetime:
    return datetime.combine(day, time(), ZoneInfo(shop.time_zone))


def _job(quote: Any, rules: ShopRules) -> Job:
    spent_at = {stage.kind: stage.spent for stage in quote.order.stages.all()}
    spent, quoted = sum(spent_at.values()), dict(quote.minutes)
    steps = [Step(kind, quoted.get(kind, 0), spent_at.get(kind, 0)) for kind in {**quoted, **spent_at}]
    apart = [step for step in steps if step.spent and step.spent != step.quoted]
    earned = earned_by(quote, spent, rules, since=quote.since) if spent else None
    return Job(
        order=quote.order,
        quoted=sum(quoted.values()),
        spent=spent,
        net=quote.net + quote.since,
        hour=earned.hour.minor if earned else None,
        wage=earned.wage.minor if earned else None,
        net_next=earned.net_at_aim.minor if earned else None,
        steps=tuple(sorted(apart, key=lambda step: (-abs(step.spent - step.quoted), step.kind))),
    )
