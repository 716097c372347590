"""From the plan of an order to a price that is told: reckoned first, then frozen as a quote."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from django.db import transaction

from orders import planning
from orders.account.chosen_way import rules_for, way_of
from orders.account.days_found import NOT_BEGUN, LongerLook, answer_by, best_known, days_of, longer_look
from orders.account.own_lines import extras_of, pillow_hint, pillows_of
from orders.account.parts_due import parts_due
from orders.account.quote_words import GAP, depends_on, size_in_words, tax_words
from orders.account.told_together import let_go, lock
from orders.bag.lacking import not_measured_or_logged, what_is_missing
from orders.models import Event, Exemption, ExtraLine, Order, Person, Quote, Shop, issue_quote
from orders.models.design import fingerprint
from orders.quilt.quilt_looks import quilt_of
from planner.brief import Brief, as_json
from planner.estimate import StageMinutes
from planner.plan import Offer
from planner.plan.back import back_kind
from planner.price import Costs, Line, Pricing, Terms, lines, price, told_together
from planner.problems import BadInput, Problem
from planner.quilt import Quilt
from planner.units import Money

Told = tuple[Order, dict[str, Any]]


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
    longer: LongerLook = NOT_BEGUN
    why_not_earlier: str = ""
    to_buy: tuple[tuple[str, int], ...] = ()
    problems: tuple[Problem, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def room(self) -> int | None:
        """Days between the day it fits by and the day wanted; below 0 it does not fit."""
        return (self.wanted - self.fits_by).days if self.wanted and self.fits_by else None

    @property
    def may_be_sooner(self) -> bool:
        """Whether the day told was found only at a glance, and is not proved to be the first."""
        is_told = self.fits_by is not None and self.planned_for == self.fits_by
        return is_told and self.fits_by != self.not_before and self.longer.state != "over"

    @property
    def spent(self) -> int:
        """Minutes of all the work."""
        return self.costs.minutes


def prospect(order: Order, shop: Shop) -> Prospect:
    """Reckon the quote of an order's layout as it stands today; outside any transaction."""
    if order.kind == Order.Kind.REPAIR or _is_by_the_pillow(order, shop):
        return _without_layout(order, shop)
    brief, quilt = _asked(order, shop)
    try:
        offer = planning.drawn_at_once(brief, today=shop.today())
        pricing = priced(offer, brief, order, shop)
    except BadInput as fault:
        raise _said_plainly(fault) from fault
    wanted = order.needed_by - timedelta(days=order.cushion()) if order.needed_by else None
    longer = longer_look(order, shop)
    fits_by, not_before = best_known(days_of(offer, brief), longer)
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
        answer_by=answer_by(offer, brief, planned, until=_valid_until(shop)),
        longer=longer,
        why_not_earlier=offer.why_not_earlier,
        to_buy=tuple(_to_buy(offer)),
        problems=tuple(each for each in offer.problems if "net_at_aim" not in each.figures),
        notes=tuple(not_measured_or_logged(order)),
    )


def _without_layout(order: Order, shop: Shop) -> Prospect:
    """Its price is what the owner writes, and what the price list has for a pillow."""
    rules = rules_for(shop.shop_rules(), way_of(order))
    made = (*pillows_of(order, shop), *extras_of(order, shop))
    if not made:
        raise CannotQuote("A repair has no layout to reckon from. Add a line that says what it costs.")
    none = Money(0, shop.currency)
    minutes = sum(each.minutes or 0 for each in order.extra_lines.all())
    costs = Costs(none, none, none, minutes, rules.overhead, rules.aim)
    try:
        return Prospect(None, price(made, terms_for(order, rules.terms), costs), costs, ())
    except BadInput as fault:
        raise _said_plainly(fault) from fault


def _is_by_the_pillow(order: Order, shop: Shop) -> bool:
    return bool(pillows_of(order, shop)) and quilt_of(order) is None


def _asked(order: Order, shop: Shop) -> tuple[Brief, Quilt]:
    quilt = quilt_of(order)
    reasons = tuple(what_is_missing(order, quilt))
    if reasons or quilt is None:
        raise CannotQuote(*reasons, *pillow_hint(order, quilt))
    try:
        brief = planning.brief_for(order, shop, drawn=quilt)
    except BadInput as fault:
        raise _said_plainly(fault) from fault
    return brief, quilt


def _said_plainly(fault: BadInput) -> CannotQuote:
    if fault.field == "lines":
        return CannotQuote("The discounts come to more than the price. Take one out.")
    return CannotQuote(
        f"The layout, the bag and the shelf do not agree: {fault.message} Draw the layout again."
    )


def priced(offer: Offer, brief: Brief, order: Order, shop: Shop) -> Pricing:
    """Return the price of an offer with the owner's own lines of the order."""
    return _priced(offer, brief, extras_of(order, shop), terms_for(order, brief.shop.terms))


def terms_for(order: Order, terms: Terms) -> Terms:
    """Return the terms of an order: as many parts as it has days for them, and no tax once that is proved."""
    if dues := parts_due(order):
        terms = replace(terms, instalments=len(dues))
    proved = Exemption.objects.filter(order=order).exclude(proved_at=None).exists()
    return replace(terms, taxes=()) if proved else terms


def _priced(offer: Offer, brief: Brief, extras: tuple[Line, ...], terms: Terms) -> Pricing:
    assert offer.costs is not None
    back = back_kind(offer.layout.quilt, brief)
    made = lines(offer.layout.quilt, brief.bag, brief.shop.rules, extras=extras, back=back)
    return price(made, terms, offer.costs)


def _to_buy(offer: Offer) -> Iterator[tuple[str, int]]:
    cloth = offer.layout.quilt.cloth
    bought = {cloth[role]: made.buy for role, made in offer.cuts.items()}
    bought |= {each.cloth: each.buy for each in offer.backing[:1]}
    bought |= {each.cloth: each.buy for each in offer.batting[:1]}
    bought |= {each.cloth: each.buy for each in offer.interfacing[:1]}
    return ((name, length) for name, length in sorted(bought.items()) if length)


def issue(order: Order, shop: Shop, *, by: Person, also: Sequence[Order] = ()) -> Quote:
    """Freeze the quote as it stands, with those of other orders beside it; sent twice, it is the first again.

    One yes counts for all that is told together, and their cents come out as one sum would.
    """
    found = [prospect(order, shop), *(_beside(each, shop) for each in also)]
    if also:
        found = _as_one(found, terms_for(order, shop.shop_rules().terms))
    told = _told((order, *also), found, shop)
    with transaction.atomic():
        lock(each for each, _ in told)
        last = [each.quotes.newest_first().first() for each, _ in told]
        if all(_is_told_already(each, facts, shop) for each, (_, facts) in zip(last, told, strict=True)):
            assert last[0] is not None
            return last[0]
        let_go(last, on=shop.today(), by=by)
        first = None
        for each, facts in told:
            made = issue_quote(each, by=by, valid_until=_valid_until(shop), told_with=first, **facts)
            first = first or made
    assert first is not None
    return first


def _beside(order: Order, shop: Shop) -> Prospect:
    try:
        return prospect(order, shop)
    except CannotQuote as why:
        raise CannotQuote(f"No. {order.number}: {why}") from why


def _told(orders: Sequence[Order], found: Sequence[Prospect], shop: Shop) -> list[Told]:
    parts = [_part(order, now.pricing) for order, now in zip(orders, found, strict=True)]
    for_all = {
        "terms": shop.terms_text.strip() or GAP,
        "settling": shop.settling,
        "dues": parts_due(orders[0]),
        "together": parts if len(parts) > 1 else [],
    }
    first = sum(each["deposit"] for each in parts)
    return [
        (order, _facts(now, order, shop, deposit=first) | for_all)
        for order, now in zip(orders, found, strict=True)
    ]


def _facts(now: Prospect, order: Order, shop: Shop, *, deposit: int) -> dict[str, Any]:
    return {
        "pricing": now.pricing,
        "planned_for": now.planned_for,
        "depends_on": "\n".join([depends_on(now, shop, deposit=deposit), *tax_words(order)]),
        "size": size_in_words(now.quilt, shop) if now.quilt else "",
        "minutes": [[each.stage, each.minutes] for each in now.minutes],
        "paid_out": now.costs.paid_out.minor,
        "layout": layout_mark(now.quilt) if now.quilt else "",
    }


def _as_one(found: Sequence[Prospect], terms: Terms) -> list[Prospect]:
    pricings = [now.pricing for now in found]
    as_one = told_together(pricings, deposit=terms.deposit, instalments=terms.instalments)
    return [replace(now, pricing=each) for now, each in zip(found, as_one, strict=True)]


def _part(order: Order, pricing: Pricing) -> dict[str, Any]:
    return {
        "order": order.number,
        "title": order.title,
        "total": pricing.total.minor,
        "deposit": pricing.deposit.minor,
        "instalments": [each.minor for each in pricing.instalments],
    }


def _is_told_already(last: Quote | None, facts: Mapping[str, Any], shop: Shop) -> bool:
    if last is None or last.standing(on=shop.today()) != "open":
        return False
    pricing = facts["pricing"]
    words = [(line.words, line.amount.minor) for line in pricing.lines]
    same_lines = [(line["words"], line["amount"]) for line in last.lines] == words
    parts = [each.minor for each in pricing.instalments]
    sums = (pricing.total.minor, pricing.deposit.minor, parts)
    same_sums = (last.total, last.deposit, last.instalments) == sums
    told = {"together": [], **facts}
    return (
        same_lines and same_sums and all(getattr(last, key) == told[key] for key in told if key != "pricing")
    )


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
