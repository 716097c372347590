"""What forgetting a customer changes, kind by kind: done by `forgetting`, and foreseen by looking alone."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from django.db.models import Q, QuerySet
from django.utils import timezone

from orders.customer.hers import MONEY_PAPERS, Hers
from orders.customer.old_enquiries import LET_GO
from orders.customer.words_without_names import without
from orders.guards import FORGOTTEN
from orders.models import (
    ApprovedPiece,
    AskedPicture,
    AskedSingly,
    Certificate,
    Consent,
    Customer,
    Event,
    Exemption,
    ExtraLine,
    Incident,
    LeaveToMove,
    Link,
    Message,
    Move,
    Opening,
    Order,
    Parcel,
    Quote,
    Signature,
    Stage,
    Trip,
)

TELLING = ("said_by", "to", "name", "words", "why", "proof", "before", "address")  # facts of an event


@dataclass(frozen=True)
class Change:
    """Records, and what a column of theirs becomes: a value, or what a function makes of the old one.

    Where nothing is said of a column, the records go.
    """

    records: QuerySet[Any]
    become: Mapping[str, Any] = field(default_factory=dict)

    def of(self, name: str, old: Any) -> Any:
        """Return what an old value of a column becomes; a column that is not named keeps its own."""
        new = self.become.get(name, old)
        return new(old) if callable(new) else new

    def make(self) -> None:
        """Make the change; a record that stays as it was is not written."""
        if not self.become:
            self.records.delete()
        elif not any(callable(new) for new in self.become.values()):
            self.records.update(**self.become)
        else:
            for record in self.records:
                old = {name: getattr(record, name) for name in self.become}
                new = {name: self.of(name, value) for name, value in old.items()}
                if changed := {name: value for name, value in new.items() if value != old[name]}:
                    self.records.model._base_manager.filter(pk=record.pk).update(**changed)


def changes(hers: Hers, names: Mapping[str, str]) -> Iterator[Change]:
    """Yield every change in words; photographs, enquiries and files go by verbs of their own."""
    yield Change(Customer.objects.filter(pk=hers.customer.pk), _no_contact(hers.customer))
    for order in hers.orders:
        title = order.get_kind_display().capitalize()
        yield Change(hers.orders.filter(pk=order.pk), {"title": title})
    yield from _names(hers)
    yield from _on_orders_of_others(hers.customer)
    for records, fields in _words_that_stay(hers):
        yield Change(records, dict.fromkeys(fields, partial(without, names=names)))
    for records in (hers.of(Message), hers.of(Link), hers.mails):
        yield Change(records)
    given = Certificate.objects.filter(entries__payer=hers.customer).distinct()
    yield Change(given, dict.fromkeys(("bought_by", "given_to"), partial(_named, names=names)))
    yield from _events(hers, names)
    yield Change(hers.papers.exclude(kind__in=MONEY_PAPERS))
    yield Change(hers.papers, {"made_of": partial(without, names=names), "sha256": ""})


def foreseen(hers: Hers, names: Mapping[str, str]) -> Iterator[Change]:
    """Yield all that forgetting would change in words, for whoever only looks."""
    yield from changes(hers, names)
    yield Change(hers.enquiries, LET_GO)
    yield Change(hers.photos)


def _no_contact(customer: Customer) -> dict[str, Any]:
    return {
        "name": f"{FORGOTTEN} {customer.pk}",
        **dict.fromkeys(("email", "phone", "address", "notes"), ""),
        **dict.fromkeys(("may_show_pictures", "may_show_names"), False),
        "keep_quiet_until": None,
        "forgotten_at": timezone.now(),
        "version": customer.version + 1,
    }


def _names(hers: Hers) -> Iterator[Change]:
    """Replace names where records need one; the yes and who gave it stays a yes, of nobody by name."""
    empty = (
        "recipient",
        "collector",
        "label_words",
        "label_by",
        "discreet",
        "place",
        "occasion",
        "why_paused",
    )
    yield Change(hers.orders, {"approver": FORGOTTEN} | dict.fromkeys(empty, ""))
    yield Change(hers.orders.exclude(handed_to=""), {"handed_to": FORGOTTEN})
    yield Change(hers.bags, {"brought_by": FORGOTTEN, "notes": "", "allergies": ""})
    yield Change(hers.shirts, dict.fromkeys(("story", "found", "team"), ""))
    yield Change(hers.of(Consent), {"said_by": FORGOTTEN, "words": ""})
    yield Change(hers.of(ApprovedPiece).exclude(said_by=""), {"said_by": FORGOTTEN})
    yield Change(hers.of(LeaveToMove), {"said_by": FORGOTTEN})
    yield Change(hers.of(Quote).exclude(accepted_by=""), {"accepted_by": FORGOTTEN})
    yield Change(hers.of(Parcel), {"address": FORGOTTEN, "tracking": ""})
    yield Change(hers.of(Incident), dict.fromkeys(("words", "told_words", "answer"), ""))
    of_bags = {"bag__customer": hers.customer}
    yield Change(AskedSingly.objects.filter(shirt__bag__customer=hers.customer), {"names": [], "why": ""})
    yield Change(Opening.objects.filter(**of_bags), {"film": ""})
    yield Change(Signature.objects.filter(**of_bags), {"name": FORGOTTEN, "strokes": []})


def _on_orders_of_others(customer: Customer) -> Iterator[Change]:
    """Replace her name where she only paid a share, gave a yes or collected."""
    others = Order.objects.filter(payers__customer=customer).exclude(customer=customer)
    ids = list(others.values_list("pk", flat=True))
    for name in ("approver", "recipient", "collector", "handed_to"):
        yield Change(Order.objects.filter(pk__in=ids, **{name: customer.name}), {name: FORGOTTEN})
    yield Change(Consent.objects.filter(order__in=ids, said_by=customer.name), {"said_by": FORGOTTEN})
    yield Change(Quote.objects.filter(order__in=ids, accepted_by=customer.name), {"accepted_by": FORGOTTEN})


def _words_that_stay(hers: Hers) -> Iterator[tuple[QuerySet[Any], tuple[str, ...]]]:
    """Yield what is drawn, added, wished or left out: it keeps its sense with the names taken out."""
    yield hers.orders, ("wish", "cloth", "top")
    yield hers.shirts, ("flaws", "smell")
    yield hers.pieces, ("why_out",)
    yield hers.of(ExtraLine), ("words",)
    yield hers.of(Exemption), ("words",)
    yield hers.of(Incident), ("stage", "setting", "turned_to", "stopped")
    yield hers.of(Trip), ("what",)
    yield hers.of(Stage), ("batch",)
    yield Move.objects.filter(design__order__customer=hers.customer), ("words", "asked", "wants")
    yield AskedPicture.objects.filter(version__order__customer=hers.customer), ("shown",)


def _named(name: str, names: Collection[str]) -> str:
    return FORGOTTEN if name.strip() in names else name


def _events(hers: Hers, names: Collection[str]) -> Iterator[Change]:
    """Let go what events tell of people: of hers of anybody at all, of those she pays a share of, of her."""
    of_bags = Q(order=None, facts__bag__in=list(hers.bags.values_list("pk", flat=True)))
    mine = Event.objects.filter(Q(order__in=hers.orders) | of_bags)
    yield Change(mine, {"facts": partial(_facts_left, names=names, is_hers=True)})
    shared = Order.objects.filter(payers__customer=hers.customer).exclude(customer=hers.customer)
    of_others = Event.objects.filter(order__in=shared)
    yield Change(of_others, {"facts": partial(_facts_left, names=names, is_hers=False)})


def _facts_left(facts: dict[str, Any], names: Collection[str], *, is_hers: bool) -> dict[str, Any]:
    return {} if _tells_of(facts, names, is_hers=is_hers) else facts


def _tells_of(facts: dict[str, Any], names: Collection[str], *, is_hers: bool) -> bool:
    """Say whether an event names her or, of an order of hers, anybody at all."""
    text = str(facts).casefold()
    return any(name.casefold() in text for name in names) or (
        is_hers and any(key in facts for key in TELLING)
    )
