"""From the plan of an order to a price that is told: reckoned first, then frozen as a quote."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from django.db import transaction

from orders import planning
from orders.bag.lacking import not_measured_or_logged, what_is_missing
from orders.models import Event, Exemption, ExtraLine, Order, Person, Quote, Shop, issue_quote
from orders.models.design import fingerprint
from orders.quilt.quilt_looks import quilt_of
from orders.templatetags.shop import long_day
from orders.templatetags.shop import money as written
from planner.brief import Brief, as_json
from planner.estimate import StageMinutes
from planner.plan import Offer, plan
from planner.plan.booking import book, order_of, quilter_for
from planner.price import Costs, Line, Pricing, Terms, lines, price
from planner.problems import BadInput, Limit, Problem
from planner.quilt import Quilt
from planner.schedule import Promise
from planner.units import Money, show_length

GAP = "[the maker’s own words on changes, on cancelling, and on keeping a finished quilt]"
UNIT_WORDS = {"in": "inches", "cm": "centimeters"}


class CannotQuote(Exception):
    """No price can be told yet; `reasons` are sentences that say what is missing."""

    def __init__(self, *reasons: str) -> None:
        super().__init__(" ".join(reasons))
        self.reasons = reasons


@dataclass(frozen=True)
class Prospect:
    """A quote as it would be now. A day is None where none was found or none is wanted.

    `answer_by` is the last day on which the work could still begin and keep `planned_for`.
    """

    quilt: Quilt | None
    pricing: Pricing
    costs: Costs
    minutes: tuple[StageMinutes, ...]
    fits_by: date | None = None
    not_before: date | None = None
    wanted: date | None = None
    planned_for: date | None = None
    answer_by: date | None = None
    why_not_earlier: str = ""
    to_buy: tuple[tuple[str, int], ...] = ()
    problems: tuple[Problem, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def room(self) -> int | None:
        """Days between the day it fits by and the day wanted; below 0 it does not fit."""
        return (self.wanted - self.fits_by).days if self.wanted and self.fits_by else None

    @property
    def spent(self) -> int:
        """Minutes of all the work."""
        return self.costs.minutes


def prospect(order: Order, shop: Shop) -> Prospect:
    """Reckon the quote of an order's layout as it stands today; outside any transaction."""
    if order.kind == Order.Kind.REPAIR:
        return _of_a_repair(order, shop)
    brief, quilt = _asked(order, shop)
    try:
        offer = plan(brief, today=shop.today(), limit=_limit()).options[0]
        pricing = priced(offer, brief, order, shop)
    except BadInput as fault:
        raise _said_plainly(fault) from fault
    wanted = order.needed_by - timedelta(days=order.cushion()) if order.needed_by else None
    fits_by, not_before = _days(offer, brief)
    planned = max(wanted, fits_by) if wanted and fits_by else fits_by
    assert offer.costs is not None
    return Prospect(
        quilt=quilt,
        pricing=pricing,
        costs=offer.costs,
        minutes=offer.minutes,
        fits_by=fits_by,
        not_before=not_before,
        wanted=wanted,
        planned_for=planned,
        answer_by=_answer_by(offer, brief, planned, until=_valid_until(shop)),
        why_not_earlier=offer.why_not_earlier,
        to_buy=tuple(_to_buy(offer)),
        problems=tuple(each for each in offer.problems if "net_at_aim" not in each.figures),
        notes=tuple(not_measured_or_logged(order)),
    )


def _of_a_repair(order: Order, shop: Shop) -> Prospect:
    """A repair has no layout: its price is what the owner writes."""
    rules, extras = shop.shop_rules(), _extras(order, shop)
    if not extras:
        raise CannotQuote("A repair has no layout to reckon from. Add a line that says what it costs.")
    none = Money(0, shop.currency)
    costs = Costs(none, none, none, 0, rules.overhead, rules.aim)
    try:
        return Prospect(None, price(extras, terms_for(order, rules.terms), costs), costs, ())
    except BadInput as fault:
        raise _said_plainly(fault) from fault


def _asked(order: Order, shop: Shop) -> tuple[Brief, Quilt]:
    quilt = quilt_of(order)
    reasons = tuple(what_is_missing(order, quilt))
    if reasons or quilt is None:
        raise CannotQuote(*reasons)
    try:
        brief = planning.brief_for(order, shop, drawn=quilt)
    except BadInput as fault:
        raise _said_plainly(fault) from fault
    return replace(brief, wish=replace(brief.wish, style="mixed")), quilt  # so only what is drawn is answered


def _said_plainly(fault: BadInput) -> CannotQuote:
    if fault.field == "lines":
        return CannotQuote("The discounts come to more than the price. Take one out.")
    return CannotQuote(
        f"The layout, the bag and the shelf do not agree: {fault.message} Draw the layout again."
    )


def _limit() -> Limit:
    return Limit(effort=planning.EFFORT)


def priced(offer: Offer, brief: Brief, order: Order, shop: Shop) -> Pricing:
    """Return the price of an offer with the owner's own lines of the order."""
    return _priced(offer, brief, _extras(order, shop), terms_for(order, brief.shop.terms))


def terms_for(order: Order, terms: Terms) -> Terms:
    """Return the terms of an order: without tax once the proof of an exemption is here, not before."""
    proved = Exemption.objects.filter(order=order).exclude(proved_at=None).exists()
    return replace(terms, taxes=()) if proved else terms


def tax_words(order: Order) -> list[str]:
    """Return what a quote says about an exemption that somebody spoke of."""
    found = Exemption.objects.filter(order=order).first()
    if found is None:
        return []
    if found.proved_at is None:
        return [f"No tax is said to be due ({found.words}). It stays on the price until the proof is here."]
    return [f"No tax is on it: {found.words}. Proof seen: {found.proof}."]


def _priced(offer: Offer, brief: Brief, extras: tuple[Line, ...], terms: Terms) -> Pricing:
    assert offer.costs is not None
    made = lines(offer.layout.quilt, brief.bag, brief.shop.rules, extras=extras)
    return price(made, terms, offer.costs)


def _extras(order: Order, shop: Shop) -> tuple[Line, ...]:
    return tuple(
        Line.of(each.words, Money(each.minor, shop.currency), kind=each.kind)
        for each in order.extra_lines.all()
    )


def _days(offer: Offer, brief: Brief) -> tuple[date | None, date | None]:
    if not isinstance(offer.promise, Promise):
        return None, None
    return brief.work.date_of(offer.promise.day), brief.work.date_of(offer.promise.not_before)


def _answer_by(offer: Offer, brief: Brief, planned: date | None, *, until: date) -> date | None:
    """Return the last day found on which the work can begin and still be done by the day planned."""
    if planned is None:
        return None
    origin, last = brief.work.origin, min(planned, until)

    def keeps(days: int) -> bool:
        day = origin + timedelta(days=days)
        new = order_of(brief, offer.minutes, out=quilter_for(offer.layout.quilt, brief), today=day)
        promised = book(brief.work, new, limit=_limit(), seed=0)
        return isinstance(promised, Promise) and brief.work.date_of(promised.day) <= planned

    found = _last_that(keeps, (last - origin).days)
    return origin + timedelta(days=found) if found else None


def _last_that(holds: Callable[[int], bool], most: int) -> int:
    """Return the largest number found, 0 to `most`, that holds, by halving; 0 when none does."""
    least = 0
    while least < most:
        middle = (least + most + 1) // 2
        least, most = (middle, most) if holds(middle) else (least, middle - 1)
    return least


def _to_buy(offer: Offer) -> Iterator[tuple[str, int]]:
    cloth = offer.layout.quilt.cloth
    bought = {cloth[role]: made.buy for role, made in offer.cuts.items()}
    bought |= {each.cloth: each.buy for each in offer.backing[:1]}
    bought |= {each.cloth: each.buy for each in offer.batting[:1]}
    bought |= {each.cloth: each.buy for each in offer.interfacing[:1]}
    return ((name, length) for name, length in sorted(bought.items()) if length)


def issue(order: Order, shop: Shop, *, by: Person) -> Quote:
    """Freeze the quote as it stands; sent twice, it is the first one again."""
    now = prospect(order, shop)
    told: dict[str, Any] = {
        "planned_for": now.planned_for,
        "depends_on": "\n".join([depends_on(now, shop), *tax_words(order)]),
        "terms": shop.terms_text.strip() or GAP,
        "settling": shop.settling,
        "size": size_in_words(now.quilt, shop) if now.quilt else "",
        "minutes": [[each.stage, each.minutes] for each in now.minutes],
        "paid_out": now.costs.paid_out.minor,
        "layout": layout_mark(now.quilt) if now.quilt else "",
    }
    with transaction.atomic():
        Order.objects.select_for_update().get(pk=order.pk)
        last = order.quotes.newest_first().first()
        if last and last.standing(on=shop.today()) == "open" and _is_told_already(last, now.pricing, told):
            return last
        return issue_quote(order, now.pricing, by=by, valid_until=_valid_until(shop), **told)


def _is_told_already(last: Quote, pricing: Pricing, told: Mapping[str, object]) -> bool:
    words = [(line.words, line.amount.minor) for line in pricing.lines]
    same_lines = [(line["words"], line["amount"]) for line in last.lines] == words
    same_sums = (last.total, last.deposit) == (pricing.total.minor, pricing.deposit.minor)
    return same_lines and same_sums and all(getattr(last, name) == value for name, value in told.items())


def _valid_until(shop: Shop) -> date:
    return shop.today() + timedelta(days=shop.quote_valid_days)


def layout_mark(quilt: Quilt) -> str:
    """Return the mark by which a layout is known to be the one that was priced."""
    return fingerprint(as_json(quilt))


@transaction.atomic
def add_line(order: Order, *, words: str, kind: str, minor: int, by: Person) -> ExtraLine:
    """Add a line to the quotes to come; the same line sent twice stands once. A discount lowers the price."""
    signed = -minor if kind == ExtraLine.Kind.CREDIT else minor
    Order.objects.select_for_update().get(pk=order.pk)
    line, is_new = order.extra_lines.get_or_create(
        words=words, kind=kind, minor=signed, defaults={"added_by": by}
    )
    if is_new:
        Event.objects.note("line added", by=by, order=order, words=words, minor=signed)
    return line


@transaction.atomic
def take_out_line(order: Order, line: int, *, by: Person) -> None:
    """Leave a line out of the quotes to come; quotes that were issued keep it."""
    for each in order.extra_lines.filter(pk=line):
        each.delete()
        Event.objects.note("line taken out", by=by, order=order, words=each.words, minor=each.minor)


def size_in_words(quilt: Quilt, shop: Shop) -> str:
    """Return a finished size as it is told: `50 across, 66 down, before the first wash, in inches`."""
    across, down = (_figure(side, shop.unit) for side in (quilt.size.width, quilt.size.height))
    return f"{across} across, {down} down, before the first wash, in {UNIT_WORDS[shop.unit]}"


def _figure(ticks: int, unit: str) -> str:
    return show_length(ticks, unit=unit, rounding="nearest").removeprefix("about ").removesuffix(f" {unit}")


def depends_on(now: Prospect, shop: Shop) -> str:
    """Return what the day planned for depends on, a sentence a line, none that was not reckoned."""
    told = []
    if now.planned_for is None:
        told.append("The day is agreed once the shop has named one.")
    elif now.answer_by:
        told.append(f"Your yes: an answer by {long_day(now.answer_by)} keeps the date.")
    else:
        told.append("Your yes: the work waits for it.")
    if now.pricing.deposit.minor:
        told.append(f"The deposit: {written(now.pricing.deposit.minor, shop)} holds your spot.")
    if now.to_buy:
        told.append("Cloth that still has to be bought comes in time.")
    return "\n".join(told).replace("\N{NO-BREAK SPACE}", " ")
