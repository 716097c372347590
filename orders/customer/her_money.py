"""The money on a customer's page: all of it, or her own part where several pay. Nobody reads another's."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from orders.account import agreeing
from orders.account.money import PAID_INTO, Owing, moved, names_that_pay, owing_from
from orders.account.parts_due import Due, dues_of, dues_of_share
from orders.account.portions import of_the_quote
from orders.customer.people import Seat
from orders.models import Account, Entry, Order, Posting, Quote
from orders.models.question import Question
from orders.yes.yes_to_picture import TooLate
from planner.price import parts_in_turn, portions_in_turn
from planner.units import Money

CHANGES = (Entry.Kind.ADDED, Entry.Kind.CREDIT, Entry.Kind.WRITE_OFF)


@dataclass(frozen=True)
class HerMoney:
    """Minor units. `total` is hers to pay of `of_all`; they are equal where nobody else pays.

    `changes` are of the whole, and `of_all` is before what was taken off; `dues` are hers.
    """

    total: int
    of_all: int
    payments: tuple[tuple[date, int], ...]
    balance: int
    first: int
    is_settled: bool
    changes: tuple[tuple[date, str, int], ...] = ()
    dues: tuple[Due, ...] = ()

    @property
    def over(self) -> int:
        """What was paid beyond what is asked for now, 0 where nothing was."""
        return max(0, -self.balance)

    @property
    def agreed(self) -> int:
        """What the price came to before anything was added or taken off."""
        return self.of_all - sum(minor for _, _, minor in self.changes if minor > 0)

    @property
    def now(self) -> int:
        """What the whole comes to with all that was added and taken off."""
        return self.agreed + sum(minor for _, _, minor in self.changes)


def money_of(order: Any, seat: Seat, agreed: Quote | None, *, currency: str) -> HerMoney:
    """Return what stands on her page about money; one query."""
    before = _told_before(order, agreed) if seat.pays_a_part else []
    rows = list(_postings(order, before))
    mine = [each for each in rows if each.entry.order_id == order.pk]
    owing = owing_from(mine, deposit=agreed.deposit if agreed else 0)
    payments, changes = tuple(_payments(mine, seat)), tuple(_changes(mine))
    if not seat.pays_a_part:
        due, settled = owing.deposit_left, owing.is_settled
        dues = dues_of(agreed, owed=owing.balance + owing.paid, paid=owing.paid) if agreed else ()
        told = (owing.charged, owing.charged, payments, owing.balance, due, settled)
        return HerMoney(*told, changes=changes, dues=dues)
    others = [owing_from(_of(rows, number), deposit=0) for number in before]
    part = _parts([*others, owing], seat, currency)
    paid = sum(minor for _, minor in payments)
    settled = owing.charged > 0 and part == paid
    hers = dues_of_share(agreed, seat.shares, seat.mine or 0, owed=part, paid=paid) if agreed else ()
    first = min(max(_deposit_of(seat, agreed) - paid, 0), max(part - paid, 0)) if agreed else 0
    return HerMoney(part, owing.charged, payments, part - paid, first, settled, changes, hers)


def _parts(owings: Sequence[Owing], seat: Seat, currency: str) -> int:
    """Her part of the last of these accounts, the cents divided as over all of them."""
    dues = [Money(each.charged - each.credited - each.written_off, currency) for each in owings]
    assert seat.mine is not None
    return portions_in_turn(dues, seat.shares)[-1][seat.mine].minor


def _deposit_of(seat: Seat, quote: Quote) -> int:
    """Her part of what is paid first."""
    assert seat.mine is not None
    parts = [Money(each, quote.currency) for each in (quote.deposit, quote.total - quote.deposit)]
    return parts_in_turn(parts, seat.shares)[0][seat.mine].minor


def part_of(quote: Quote | None, seat: Seat) -> int | None:
    """Return what somebody who pays with others would pay of a quote; None for whoever pays it all."""
    if quote is None or not seat.pays_a_part or seat.mine is None:
        return None
    return of_the_quote(quote, seat.shares)[seat.mine]


def _told_before(order: Any, agreed: Quote | None) -> list[int]:
    """The numbers of the orders whose price was told together with this one's, and before it."""
    numbers = [int(each["order"]) for each in agreed.together] if agreed else []
    return numbers[: numbers.index(order.number)] if order.number in numbers else []


def _postings(order: Any, before: list[int]) -> Iterable[Posting]:
    if not before:
        return sorted(_OF_HERS.ask(order=order.pk), key=lambda each: each.pk)
    found = Posting.objects.filter(entry__order__number__in=[order.number, *before])
    return found.select_related("entry__reversed_by", "entry__order").order_by("pk")


# Put in order here: asked to, SQLite reads every posting there is in their order, and drops the others.
_OF_HERS = Question(
    lambda order: (
        Posting.objects.filter(entry__order=order)
        .select_related("entry__reversed_by", "entry__order")
        .order_by()
    ),
    order=int,
)


def _of(rows: Iterable[Posting], number: int) -> list[Posting]:
    return [each for each in rows if each.entry.order is not None and each.entry.order.number == number]


def _changes(rows: Iterable[Posting]) -> Iterable[tuple[date, str, int]]:
    """What was added to the price or taken off it since, and stands: day, words, above or below nothing."""
    sums: dict[int, list[Posting]] = {}
    for each in rows:
        stands = not (each.entry.reverses_id or hasattr(each.entry, "reversed_by"))
        if stands and each.entry.kind in CHANGES:
            sums.setdefault(each.entry_id, []).append(each)
    for group in sums.values():
        entry = group[0].entry
        minor = sum(leg.minor if leg.into == Account.OWED else -leg.minor for leg in group)
        yield entry.day, entry.words, minor


def _payments(rows: Iterable[Posting], seat: Seat) -> Iterable[tuple[date, int]]:
    """What came in and stayed, hers alone where others pay too; one taken back is told neither way."""
    for each in rows:
        if each.entry.reverses_id or hasattr(each.entry, "reversed_by"):
            continue
        if seat.pays_a_part and each.entry.payer_id != seat.customer:
            continue
        minor = moved([each], [Account.OWED], PAID_INTO)
        if minor:
            yield each.entry.day, minor


def say_yes_to_price(order: Order, number: int, *, name: str) -> None:
    """Take the yes to a quote on the page."""
    quote = order.quotes.filter(number=number).first()
    if quote is None:
        raise TooLate("That quote is not here. Look at the page again.")
    agreeing.accept(quote, said_by=agreeing.name_among(names_that_pay(order), name), how="page", by=None)
