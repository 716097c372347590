"""Papers that were made, messages that were written, and links that were given out."""

from __future__ import annotations

import hashlib
import secrets
from datetime import date

from django.db import models, transaction
from django.utils import timezone

from .event import Event
from .people import Person


class PaperQuerySet(models.QuerySet["Paper"]):
    def of_certificates(self) -> dict[int, int]:
        """Return the number of the paper of each gift certificate, by the number of the certificate."""
        rows = self.filter(kind=Paper.Kind.GIFT).values_list("made_of__certificate", "number")
        return {int(certificate): number for certificate, number in rows}


class Paper(models.Model):
    """A paper as it was made: its number, the hash of its bytes, and what it was made of, frozen."""

    class Kind(models.TextChoices):
        INTAKE = "intake", "What came in"
        QUOTE = "quote", "Quote"
        DEPOSIT = "deposit", "Receipt of a payment"
        GIVEN_BACK = "given back", "Receipt of money given back"
        TAKEN_BACK = "taken back", "Note of a receipt taken back"
        BOUNCED = "bounced", "Note of a payment that bounced"
        TIP = "tip", "Receipt of a tip"
        GIFT = "gift", "Receipt of a gift certificate"
        CUT_LIST = "cut list", "Cut list"
        RECEIPT = "receipt", "Receipt"
        CARE = "care", "Care card"
        TAGS = "tags", "Tags"
        STOP = "stop", "Stop tags"
        DAMAGE = "damage", "What happened"
        IN_CARE = "in care", "Everything in care"
        PICTURE = "picture", "The quilt picture"
        CLOTH_CUTS = "cloth cuts", "Cloth to cut"
        QUILTER = "quilter", "Quilter’s sheet"
        ESTIMATE = "estimate", "Estimate"
        MATERIALS = "materials", "Material list"
        HAND_OVER = "hand over", "Hand-over note"
        UNCLAIMED = "unclaimed", "Unclaimed notice"
        PARTY_CARD = "party card", "Card for the day"
        BOOKLET = "booklet", "Hand-over booklet"

    kind = models.CharField(max_length=10, choices=Kind.choices)
    number = models.PositiveIntegerField(unique=True)
    order = models.ForeignKey("orders.Order", models.PROTECT, null=True, related_name="papers")
    bag = models.ForeignKey("orders.Bag", models.PROTECT, null=True, related_name="papers")
    made_of = models.JSONField()
    sha256 = models.CharField(max_length=64, blank=True)
    made_at = models.DateTimeField(default=timezone.now)
    made_by = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")

    objects = PaperQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        # Most papers are of no bag, and in an index of all they would hide the few that are.
        indexes = [
            models.Index(fields=["bag"], condition=models.Q(bag__isnull=False), name="papers_of_a_bag")
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.number}"


class MessageQuerySet(models.QuerySet["Message"]):
    @transaction.atomic
    def note(
        self, order: models.Model, words: str, *, to: str, on: date, by: Person | None, how: str = "text"
    ) -> Message:
        """Write down that words reached a customer; the same ones, the same way and day, did so once."""
        facts = {"to": to, "by": by}
        message, is_new = self.get_or_create(order=order, words=words, on=on, how=how, defaults=facts)
        if is_new:
            Event.objects.note("words sent", by=by, order=order, to=to, how=how)
        return message

    def newest_first(self) -> MessageQuerySet:
        return self.select_related("by").order_by("-at", "-pk")


class Message(models.Model):
    """Words that reached a customer: mailed by the shop, or somebody said that they went."""

    class How(models.TextChoices):
        TEXT = "text", "Text message"
        MAIL = "mail", "Mail"
        CALL = "call", "Call"
        LETTER = "letter", "Letter"
        TALK = "talk", "Talk"

    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="messages")
    to = models.CharField(max_length=120)
    how = models.CharField(max_length=6, choices=How.choices)
    words = models.TextField()
    on = models.DateField()
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Person, models.PROTECT, null=True, related_name="+")

    objects = MessageQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["order", "words", "on", "how"], name="words_sent_once_a_day"),
            models.CheckConstraint(condition=~models.Q(words=""), name="message_has_words"),
        ]

    def __str__(self) -> str:
        return f"Words to {self.to}"


class LinkQuerySet(models.QuerySet["Link"]):
    @transaction.atomic
    def give_out(self, order: models.Model, *, until: date, by: Person, to: str = "") -> tuple[Link, str]:
        """Make a private link for a person on the order; the token is told once and kept only as its hash."""
        token = secrets.token_urlsafe(32)
        link = self.create(order=order, token_hash=hash_of(token), until=until, given_by=by, to=to)
        Event.objects.note("link given out", by=by, order=order, until=until, to=to)
        return link, token

    def open_on(self, day: date) -> LinkQuerySet:
        """Links that open the page on that day."""
        return self.filter(until__gte=day, revoked_at=None)

    def opened_by(self, token: str, *, on: date) -> Link | None:
        """Return the link a token opens; unknown, expired and revoked are all the same None."""
        found = self.open_on(on).select_related("order__customer")
        return found.filter(token_hash=hash_of(token)).first()


class Link(models.Model):
    """A private way in for a customer: 256 random bits, hashed here. Without a name it is the customer's."""

    order = models.ForeignKey("orders.Order", models.CASCADE, related_name="links")
    to = models.CharField(max_length=120, blank=True)
    token_hash = models.CharField(max_length=64, unique=True)
    until = models.DateField()
    given_at = models.DateTimeField(default=timezone.now)
    given_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    revoked_at = models.DateTimeField(null=True, blank=True)

    objects = LinkQuerySet.as_manager()

    def __str__(self) -> str:
        return f"Link to {self.order}"

    @transaction.atomic
    def revoke(self, *, by: Person) -> None:
        """Close the link at once."""
        if self.revoked_at is None:
            self.revoked_at = timezone.now()
            self.save(update_fields=["revoked_at"])
            Event.objects.note("link closed", by=by, order=self.order)


def hash_of(token: str) -> str:
    """Return the hash a token is kept as."""
    return hashlib.sha256(token.encode()).hexdigest()
