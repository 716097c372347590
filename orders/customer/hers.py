"""All that is kept of one customer, kind by kind: what is handed out on asking, and what is forgotten."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.db.models import Q, QuerySet

from orders.guards import FORGOTTEN
from orders.models import (
    Bag,
    Consent,
    Customer,
    Enquiry,
    Entry,
    Event,
    Exemption,
    Incident,
    LeaveToMove,
    Mail,
    Message,
    Order,
    Paper,
    Parcel,
    Payer,
    Photo,
    Piece,
    Posting,
    Quote,
    Shirt,
    Signature,
    Visit,
)

MONEY_PAPERS = (
    Paper.Kind.QUOTE,
    Paper.Kind.DEPOSIT,
    Paper.Kind.RECEIPT,
    Paper.Kind.TIP,
    Paper.Kind.GIVEN_BACK,
    Paper.Kind.TAKEN_BACK,
    Paper.Kind.BOUNCED,
    Paper.Kind.GIFT,
)
SHOPS_OWN = ("minutes", "paid_out")  # what the shop reckons with is no fact about her


class Hers:
    """The records of one customer. Of an order she only pays a share of, no more than her share is hers."""

    def __init__(self, customer: Customer) -> None:
        self.customer = customer
        self.orders = Order.objects.filter(customer=customer)
        self.bags = Bag.objects.filter(customer=customer)
        self.of_orders: dict[str, Any] = {"order__customer": customer}
        of_bags = Q(bag__customer=customer)
        self.shirts = Shirt.objects.filter(of_bags)
        self.pieces = Piece.objects.filter(shirt__bag__customer=customer)
        alone = Q(order=None, name=customer.name, reach__in={customer.phone, customer.email} - {""})
        # By number: they are still hers when the name that led to them is gone.
        asked = list(Enquiry.objects.filter(Q(**self.of_orders) | alone).values_list("pk", flat=True))
        self.enquiries = Enquiry.objects.filter(pk__in=asked)
        told = Q(order=None, made_of__enquiry__in=asked)
        self.papers = Paper.objects.filter(Q(**self.of_orders) | of_bags | told)
        self.mails = Mail.objects.filter(Q(**self.of_orders) | Q(enquiry__in=self.enquiries))
        self.entries = Entry.objects.filter(Q(payer=customer) | Q(payer=None, **self.of_orders))
        self.photos = Photo.objects.filter(
            Q(**self.of_orders)
            | of_bags
            | Q(shirt__bag__customer=customer)
            | Q(cloth__garment__bag__customer=customer)
            | Q(incident__order__customer=customer)
            | Q(pk__in=Parcel.objects.filter(**self.of_orders).values("box"))
        )

    def of(self, kind: Any) -> QuerySet[Any]:
        """Return the records of a kind that belong to her orders."""
        found: QuerySet[Any] = kind._base_manager.filter(**self.of_orders)
        return found

    def told(self) -> Iterator[tuple[str, QuerySet[Any], tuple[str, ...]]]:
        """Yield what she may see, by name: the records, and the columns that are the shop's own."""
        yield "customer", Customer.objects.filter(pk=self.customer.pk), ()
        yield "enquiries", self.enquiries, ("minutes",)
        yield "orders", self.orders, ()
        yield "shares", Payer.objects.filter(customer=self.customer), ()
        yield "bags", self.bags, ()
        yield "garments", self.shirts, ()
        yield "panels", self.pieces, ()
        yield "signatures", Signature.objects.filter(bag__customer=self.customer), ()
        yield "quotes", self.of(Quote), SHOPS_OWN
        yield "money", self.entries, ()
        yield "postings", Posting.objects.filter(entry__in=self.entries), ()
        yield "yeses", self.of(Consent), ()
        yield "visits", self.of(Visit), ()
        yield "incidents", self.of(Incident), ()
        yield "words", self.of(Message), ()
        yield "parcels", self.of(Parcel), ()
        yield "exemptions", self.of(Exemption), ()
        yield "mails", self.mails, ()
        yield "papers", self.papers, ()
        yield "photographs", self.photos, ()
        yield "what happened", self.of(Event), ()

    def names(self) -> set[str]:
        """Return every word that tells who she is, or how to reach her or hers."""
        known = [self.customer.name, self.customer.email, self.customer.phone, self.customer.address]
        for each in self.enquiries:
            known += [each.name, each.reach]
        for order in self.orders:
            known += [order.approver, order.recipient, order.collector, order.handed_to, order.label_by]
        known += self.bags.values_list("brought_by", flat=True)
        known += Signature.objects.filter(bag__customer=self.customer).values_list("name", flat=True)
        for kind in (Consent, LeaveToMove):
            known += self.of(kind).values_list("said_by", flat=True)
        return {each.strip() for each in known if len(each.strip()) > 1}

    def in_place_of(self) -> dict[str, str]:
        """Return what is said from now on, by what told who she is: her names, and titles she is in."""
        titles = {order.title: order.get_kind_display().capitalize() for order in self.orders}
        return titles | dict.fromkeys(self.names(), FORGOTTEN)
