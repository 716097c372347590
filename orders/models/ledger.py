"""Money, append-only: each posting moves an amount from one account to another, so all sum to zero.

A mistake is put right by an entry the other way round, never by a change. Triggers in the
database refuse every update and delete.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.db import IntegrityError, models, transaction
from django.db.models import Q, Sum
from django.db.models.expressions import Combinable
from django.utils import timezone

from .event import Event
from .people import Person
from .seal import Seal
from .shop import Shop


class EntryConflict(Exception):
    """The same key was sent again with other content."""


class Account(models.TextChoices):
    """Where money is. What customers owe is `owed`; `before` is what was there before these books.

    What was paid for gift certificates is owed to whoever brings them, until they are used.
    """

    OWED = "owed", "owed by customers"
    SALES = "sales"
    TAX = "tax", "tax collected"
    CASH = "cash"
    BANK = "bank", "card and bank"
    CERTIFICATES = "certificates", "gift certificates not yet used"
    TIPS = "tips"
    CREDITS = "credits", "credits given"
    TAX_CREDIT = "tax credit", "tax in credits given"
    WRITTEN_OFF = "written off"
    BEFORE = "before", "before these books"


class EntryQuerySet(models.QuerySet["Entry"]):
    def standing(self) -> EntryQuerySet:
        """Entries that were not put right by one the other way round."""
        return self.filter(reversed_by=None)

    def charges(self) -> EntryQuerySet:
        return self.filter(kind=Entry.Kind.CHARGE)

    def of_payments(self) -> EntryQuerySet:
        """Money that came in on what is owed, and money that went back."""
        kinds = (Entry.Kind.PAYMENT, Entry.Kind.REFUND)
        return self.filter(Q(kind__in=kinds) | Q(reverses__kind__in=kinds))

    def besides_the_price(self) -> EntryQuerySet:
        """What changed the balance since a price was agreed: paid, added, credited, written off, and back."""
        apart = (Entry.Kind.CHARGE, Entry.Kind.TIP)
        return self.exclude(kind__in=apart).exclude(reverses__kind__in=apart)

    def with_all(self) -> EntryQuerySet:
        """Bring along what is shown of each."""
        return self.select_related(
            "order", "payer", "reverses", "reversed_by", "of", "certificate", "by"
        ).prefetch_related("postings")

    def record(
        self, *, key: str, kind: str, legs: list[tuple[str, str, int]], by: Person | None, **about: Any
    ) -> Entry:
        """Write an entry once: the same key again gives the first entry, other content is refused.

        `legs` are (from account, to account, minor units).
        """
        try:
            with transaction.atomic():
                return self._write(key=key, kind=kind, legs=legs, by=by, **about)
        except IntegrityError:
            first = self.filter(key=key).first()
            if first is None:
                raise
            if not _says_the_same(first, kind, legs, about):
                raise EntryConflict(
                    "This was already sent with other figures. Open the account and look."
                ) from None
            return first

    def _write(
        self, *, key: str, kind: str, legs: list[tuple[str, str, int]], by: Person | None, **about: Any
    ) -> Entry:
        receipt = about.pop("receipt", False)
        number = Shop.next_number("last_receipt_number") if receipt else None
        place = Shop.next_number("last_entry_number")
        entry = self.create(key=key, kind=kind, by=by, receipt_number=number, **about)
        postings = Posting.objects.bulk_create(
            Posting(entry=entry, out_of=out_of, into=into, minor=minor, position=position)
            for position, (out_of, into, minor) in enumerate(legs)
        )
        Seal.put_on(entry, postings, number=place)
        Event.objects.note(kind, by=by, order=entry.order, entry=entry.pk, minor=sum(leg[2] for leg in legs))
        return entry


def _says_the_same(first: Entry, kind: str, legs: list[tuple[str, str, int]], about: dict[str, Any]) -> bool:
    names = ("order", "payer", "reverses", "of", "certificate")
    told = [*(about.get(name) for name in names), about.get("method", "")]
    kept = [*(getattr(first, name) for name in names), first.method]
    return (first.kind, first.legs(), kept) == (kind, legs, told)


class Entry(models.Model):
    """One thing that happened with money."""

    class Kind(models.TextChoices):
        CHARGE = "charge"
        ADDED = "added", "line added later"
        CREDIT = "credit"
        PAYMENT = "payment"
        REFUND = "refund", "given back"
        BOUNCED = "bounced", "payment that bounced"
        TIP = "tip"
        CERTIFICATE = "certificate", "gift certificate sold"
        WRITE_OFF = "write-off", "written off"
        REVERSAL = "reversal", "taken back"

    key = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=12, choices=Kind.choices)
    at = models.DateTimeField(default=timezone.now)
    day = models.DateField()
    by = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")
    order = models.ForeignKey("orders.Order", models.PROTECT, null=True, related_name="entries")
    payer = models.ForeignKey("orders.Customer", models.PROTECT, null=True, related_name="entries")
    method = models.CharField(max_length=20, blank=True)
    words = models.CharField(max_length=160)
    currency = models.CharField(max_length=3)
    receipt_number = models.PositiveIntegerField(null=True, unique=True)
    reverses = models.OneToOneField("self", models.PROTECT, null=True, related_name="reversed_by")
    of = models.ForeignKey("self", models.PROTECT, null=True, related_name="given_back")
    certificate = models.ForeignKey("orders.Certificate", models.PROTECT, null=True, related_name="entries")

    objects = EntryQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["day"])]

    def __str__(self) -> str:
        return self.words

    @property
    def minor(self) -> int:
        """Return what it moves in all; reads the postings that were brought along."""
        return sum(each.minor for each in self.postings.all())

    def legs(self) -> list[tuple[str, str, int]]:
        """Return the entry's postings as (from, to, minor)."""
        return [(each.out_of, each.into, each.minor) for each in self.postings.order_by("position")]


class PostingQuerySet(models.QuerySet["Posting"]):
    def balance(self, account: str, **of: Any) -> int:
        """Return what lies in an account, in minor units."""
        mine = self.filter(**of)
        into = mine.filter(into=account).aggregate(sum=Sum("minor"))["sum"] or 0
        out_of = mine.filter(out_of=account).aggregate(sum=Sum("minor"))["sum"] or 0
        return int(into - out_of)

    def moved(self, out_of: Sequence[str], into: Sequence[str]) -> Combinable:
        """Return the sum of what went from some accounts into others, less what went back."""
        there = Sum("minor", filter=Q(out_of__in=out_of, into__in=into), default=0)
        back = Sum("minor", filter=Q(out_of__in=into, into__in=out_of), default=0)
        return there - back

    def by_payer(self, into: Sequence[str]) -> dict[int | None, int]:
        """Return what each payer paid into some accounts on what is owed, less what went back."""
        there = Sum("minor", filter=Q(out_of=Account.OWED, into__in=into), default=0)
        back = Sum("minor", filter=Q(into=Account.OWED, out_of__in=into), default=0)
        rows = self.values("entry__payer").annotate(paid=there - back)
        return {row["entry__payer"]: row["paid"] for row in rows}


class Posting(models.Model):
    """An amount out of one account into another."""

    entry = models.ForeignKey(Entry, models.PROTECT, related_name="postings")
    position = models.PositiveSmallIntegerField(default=0)
    out_of = models.CharField(max_length=12, choices=Account.choices)
    into = models.CharField(max_length=12, choices=Account.choices)
    minor = models.BigIntegerField()

    objects = PostingQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(minor__gt=0), name="posting_moves_something"),
            models.CheckConstraint(
                condition=~Q(out_of=models.F("into")), name="posting_between_two_accounts"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.minor} from {self.out_of} to {self.into}"
