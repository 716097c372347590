"""What the Account room of an order shows: prices told and to be told, money, papers, the customer's link."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from orders.account import (
    agreeing,
    earning,
    money,
    paid_together,
    parts_due,
    portions,
    quoting,
    told_together,
)
from orders.account.account_lines import ledger_of
from orders.customer import sending
from orders.customer.reach import can_be_reached
from orders.forms.money import (
    AcceptanceForm,
    AgreedPaymentForm,
    ExemptionForm,
    ExtraLineForm,
    TogetherPaymentForm,
)
from orders.forms.pricing import HoursForm, PartsForm, TogetherForm
from orders.models import Exemption, Order, Paper, Quote, Shop
from planner.price import by_hand


@dataclass(frozen=True)
class Told:
    """A quote that was issued, what it is worth today, and its paper."""

    quote: Quote
    standing: str
    paper: Paper | None

    @property
    def shape(self) -> str:
        """The mark of its standing."""
        return {"accepted": "done", "open": "wait", "expired": "late"}.get(self.standing, "rest")


def account_of(order: Order, shop: Shop, *, anew: bool) -> dict[str, Any]:
    """Return all below the head of the room; a price is only reckoned while none is agreed, or anew."""
    papers = list(order.papers.all())
    told = [_told(quote, papers, on=shop.today()) for quote in order.quotes.all()]
    agreed = next((each for each in told if each.standing == "accepted"), None)
    waiting = next((each for each in told if each.standing in ("open", "expired")), None)
    reckon = order.cancelled_at is None and order.handed_over_at is None and (anew or agreed is None)
    owing = money.owing_of(order, deposit=agreed.quote.deposit if agreed else 0)
    is_open = waiting is not None and waiting.standing == "open"
    ledger = ledger_of(order, agreed.quote if agreed else None, owing, shop)
    first = next((each for each in ledger["shares"] if each.left > 0), None)
    words = sending.words_for(order, waiting.quote if waiting and is_open else None, owing, shop)
    return {
        "told": told,
        "agreed": agreed,
        "waiting": waiting,
        "owing": owing,
        **ledger,
        "parts": portions.parts_of(waiting.quote) if waiting else [],
        "papers": papers,
        "links": order.links.open_on(shop.today()),
        "can_be_reached": can_be_reached(),
        "words": words,
        "sent": order.messages.newest_first()[:3],
        "sms": sending.as_text_message(order, words, shop=shop),
        "line_form": ExtraLineForm(shop=shop),
        "payment_form": _payment_form(order, shop, owing, first=first),
        **_paid_together(order, agreed, shop),
        "yes_form": AcceptanceForm(names=agreeing.names_for(waiting.quote.all_told() if waiting else [])),
        "dues": _dues(agreed, owing),
        **(_reckoned(order, shop, waiting) if reckon else _as_agreed(order, agreed, shop)),
    }


def _payment_form(
    order: Order, shop: Shop, owing: money.Owing, *, first: money.Share | None
) -> AgreedPaymentForm | None:
    return AgreedPaymentForm(order=order, shop=shop, due=owing.due, first=first) if owing.due else None


def _told(quote: Quote, papers: list[Paper], *, on: date) -> Told:
    paper = next((each for each in papers if each.made_of.get("quote") == quote.pk), None)
    return Told(quote, quote.standing(on=on), paper)


def _reckoned(order: Order, shop: Shop, waiting: Told | None) -> dict[str, Any]:
    extra_lines = list(order.extra_lines.all())
    exempt = Exemption.objects.filter(order=order).first()
    said = {"words": exempt.words, "proof": exempt.proof} if exempt else {}
    try:
        now = quoting.prospect(order, shop)
    except quoting.CannotQuote as reasons:
        by_hour = HoursForm(shop=shop) if order.kind == Order.Kind.REPAIR else None
        return {"reasons": reasons.reasons, "extra_lines": extra_lines, "hours_form": by_hour}
    return {
        "now": now,
        "exempt": exempt,
        "exemption_form": ExemptionForm(initial=said),
        "usual_lines": by_hand(),
        "hours_form": HoursForm(shop=shop),
        "parts_form": PartsForm(order=order, today=shop.today()),
        "together_form": _together(order, waiting),
        "extra_lines": extra_lines,
        "wage": earning.to_come(now),
        "has_changed": waiting is not None and _differs(waiting.quote, now),
    }


def _paid_together(order: Order, agreed: Told | None, shop: Shop) -> dict[str, Any]:
    """One sum for all that was told together, where anything is open and somebody pays for all of it."""
    quotes = paid_together.agreed_with(agreed.quote if agreed else None)
    owings = paid_together.owing_together(quotes)
    due = sum(each.deposit_left for each in owings) or sum(max(each.balance, 0) for each in owings)
    payers = paid_together.payers_of(quotes) if due else {}
    if not payers:
        return {"together_payment": None}
    form = TogetherPaymentForm(order=order, shop=shop, due=due, payers=payers)
    return {"together_payment": form, "paid_as_one": [each.order for each in quotes]}


def _dues(agreed: Told | None, owing: money.Owing) -> tuple[parts_due.Due, ...]:
    owed = owing.balance + owing.paid
    return parts_due.dues_of(agreed.quote, owed=owed, paid=owing.paid) if agreed else ()


def _together(order: Order, waiting: Told | None) -> TogetherForm | None:
    others = told_together.can_be_told_with(order)
    chosen = [each["order"] for each in waiting.quote.together] if waiting else []
    return TogetherForm(others=others, chosen=chosen) if others else None


def _differs(quote: Quote, now: quoting.Prospect) -> bool:
    """What is told together has its cents divided over all of it, so its deposit is not looked at."""
    deposit = now.pricing.deposit.minor if not quote.together else quote.deposit
    priced = (quote.total, quote.deposit, quote.layout, quote.planned_for)
    layout = quoting.layout_mark(now.quilt) if now.quilt else ""
    return priced != (now.pricing.total.minor, deposit, layout, now.planned_for)


def _as_agreed(order: Order, agreed: Told | None, shop: Shop) -> dict[str, Any]:
    if agreed is None or order.cancelled_at is not None:
        return {}
    wage = earning.agreed(order, agreed.quote, shop)
    return {"wage": wage} if wage else {}
