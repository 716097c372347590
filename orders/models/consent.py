"""Two yeses: to the cut, piece by piece, and to the picture. How it was said, by whom, and when."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .asked_singly import AskedSingly, midnight
from .blade import Sizes, covers, cut_facts, cut_sizes_of
from .design import ApprovedPiece, DesignVersion, fingerprint
from .event import Event
from .order import Order
from .people import Person, fold_name
from .photo import Photo
from .shirt import Piece


class CannotAgree(Exception):
    """A yes to cut that cannot be written as it was said; the message says what can."""


class ConsentQuerySet(models.QuerySet["Consent"]):
    def standing(self, *, at: datetime | None = None) -> ConsentQuerySet:
        """Return what was, by now or by a moment, neither taken back nor for a day that is over."""
        return self.filter(Q(until=None) | Q(until__gt=at or timezone.now()), withdrawn_at=None)

    @transaction.atomic
    def to_cut(
        self, order: Order, pieces: Iterable[Piece], *, said_by: str, how: str, by: Person | None, **more: Any
    ) -> Consent:
        """Write a yes to cut these pieces; one that covers its piece as it is drawn now is kept.

        `for_the_day` lets it lapse at the shop's midnight, `photo` is the picture of how it was said.
        A piece of a shirt that is asked about by itself comes alone, and waits for every name on it.
        """
        chosen = _locked(pieces)
        single = next((each for each in chosen if _asked(each)), None)
        asked = _asked(single) if single is not None else None
        if single is not None and len(chosen) > 1:
            raise CannotAgree(f"{single} is asked about by itself, in no pile.")
        for_the_day = more.get("for_the_day", False) or (asked is not None and asked.for_the_day)
        sizes = cut_sizes_of(order)
        consent = self.create(
            order=order,
            kind=Consent.Kind.CUT,
            said_by=said_by,
            how=how,
            written_by=by,
            photo=more.get("photo"),
            until=midnight() if for_the_day else None,
            piece=single,
            facts=cut_facts(single, sizes) if single is not None else None,
        )
        _refuse_other_orders(order, chosen)
        if single is not None and asked is not None:
            approve_when_all_said(order, single, asked, sizes)
        else:
            for piece in chosen:
                _approve(consent, piece, sizes, until=consent.until)
        Event.objects.note("yes to cut", by=by, order=order, said_by=said_by, how=how)
        return consent

    @transaction.atomic
    def to_picture(self, version: DesignVersion, *, said_by: str, how: str, by: Person | None) -> Consent:
        """Write a yes to the picture of one version; said twice it is the same yes."""
        standing = self.filter(version=version, kind=Consent.Kind.PICTURE, withdrawn_at=None).first()
        if standing is not None:
            return standing
        if version.replaced_at is not None:
            raise ValueError("Another picture has taken the place of this one. Look at the new one first.")
        consent = self.create(
            order=version.order,
            kind=Consent.Kind.PICTURE,
            version=version,
            said_by=said_by,
            how=how,
            written_by=by,
        )
        Event.objects.note("yes to the picture", by=by, order=version.order, said_by=said_by, how=how)
        return consent

    @transaction.atomic
    def wish(
        self, version: DesignVersion, *, words: str, said_by: str, how: str, by: Person | None
    ) -> Consent:
        """Write what should change in a picture; it is no yes. The same words again are the same wish."""
        wish, is_new = self.get_or_create(
            version=version,
            kind=Consent.Kind.WISH,
            words=words,
            defaults={"order": version.order, "said_by": said_by, "how": how, "written_by": by},
        )
        if is_new:
            Event.objects.note("wish", by=by, order=version.order, said_by=said_by, words=words)
        return wish


class Consent(models.Model):
    """A yes, or a wish that is not one. It is withdrawn, never deleted."""

    class Kind(models.TextChoices):
        CUT = "cut", "yes to cut"
        PICTURE = "picture", "yes to the picture"
        WISH = "wish"
        DISCARD = "discard", "leave to discard"

    class How(models.TextChoices):
        PAGE = "page", "on the page"
        PAPER = "paper", "on paper"
        PERSON = "person", "in person"
        PHONE = "phone", "on the phone"
        MESSAGE = "message", "in a message"

    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="consents")
    kind = models.CharField(max_length=8, choices=Kind.choices)
    version = models.ForeignKey(DesignVersion, models.PROTECT, null=True, blank=True, related_name="consents")
    said_by = models.CharField(max_length=120)
    how = models.CharField(max_length=8, choices=How.choices)
    words = models.TextField(blank=True)
    at = models.DateTimeField(default=timezone.now)
    written_by = models.ForeignKey(Person, models.PROTECT, null=True, blank=True, related_name="+")
    photo = models.ForeignKey(Photo, models.PROTECT, null=True, blank=True, related_name="+")
    piece = models.ForeignKey(Piece, models.PROTECT, null=True, blank=True, related_name="voices")
    facts = models.JSONField(null=True, blank=True)
    until = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = ConsentQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(said_by=""), name="consent_said_by_somebody"),
            models.CheckConstraint(
                condition=~Q(kind="picture") | Q(version__isnull=False),
                name="picture_consent_names_its_version",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} by {self.said_by}"

    @property
    def is_lapsed(self) -> bool:
        """Say whether it was for one day, and that day is over."""
        return self.until is not None and self.until <= timezone.now()

    @property
    def stands(self) -> bool:
        """Say whether it was neither taken back nor has lapsed."""
        return self.withdrawn_at is None and not self.is_lapsed

    @transaction.atomic
    def withdraw(self, *, by: Person | None) -> None:
        """Take the yes back; what is cut is cut, the rest may not be."""
        now = Consent.objects.select_for_update().get(pk=self.pk)
        self.withdrawn_at = now.withdrawn_at
        if self.withdrawn_at is None:
            self.withdrawn_at = timezone.now()
            self.save(update_fields=["withdrawn_at"])
            rests_on_it = Q(consent=self)
            if self.piece_id is not None:
                rests_on_it |= Q(piece=self.piece_id, order=self.order_id)
            take_back(ApprovedPiece.objects.filter(rests_on_it), at=self.withdrawn_at)
            Event.objects.note("yes taken back", by=by, order=self.order, said_by=self.said_by)


def _locked(pieces: Iterable[Piece]) -> list[Piece]:
    """The pieces as they are at this moment, each once and held until the yes is written."""
    wanted = list(dict.fromkeys(piece.pk for piece in pieces))
    rows = Piece.objects.select_for_update(of=("self",)).filter(pk__in=wanted).order_by("pk")
    return list(rows.select_related("shirt__asked_singly"))


def _asked(piece: Piece | None) -> AskedSingly | None:
    return getattr(piece.shirt, "asked_singly", None) if piece is not None else None


def take_back(approved: models.QuerySet[ApprovedPiece], *, at: datetime) -> int:
    """Mark them and return how many there were; what is cut stays as it was said."""
    return approved.filter(withdrawn_at=None, cut=None).update(withdrawn_at=at)


def _refuse_other_orders(order: Order, pieces: list[Piece]) -> None:
    """A piece goes into one quilt: the one whose layout has it, else the one it was said yes for first."""
    elsewhere = ApprovedPiece.objects.standing().filter(piece__in=pieces).exclude(order=order)
    first = {yes.piece_id: yes.order for yes in elsewhere.select_related("order", "cut")}
    is_cut = set(elsewhere.filter(cut__isnull=False).values_list("piece", flat=True))
    for piece in pieces:
        other = first.get(piece.pk)
        if piece.order_id not in (None, order.pk):
            other = Order.objects.get(pk=piece.order_id)
        elif piece.order_id == order.pk and piece.pk not in is_cut:
            other = None
        if other is not None:
            raise CannotAgree(f"{piece} goes into {other}. A piece goes into one quilt.")


def _approve(
    consent: Consent, piece: Piece, sizes: Sizes, *, said_by: str = "", until: datetime | None = None
) -> None:
    """Let a piece be cut, unless a yes that covers it as long or longer stands already."""
    standing = piece.approvals.standing().select_related("cut").first()
    if standing is not None and (
        hasattr(standing, "cut")
        or (
            standing.order_id == consent.order_id
            and covers(standing.facts, piece, sizes=sizes)
            and standing.until in (None, until)
        )
    ):
        return
    take_back(ApprovedPiece.objects.filter(piece=piece), at=timezone.now())
    facts = cut_facts(piece, sizes)
    ApprovedPiece.objects.create(
        piece=piece,
        order=consent.order,
        consent=consent,
        facts=facts,
        fingerprint=fingerprint(facts),
        said_by=said_by or consent.said_by,
        until=until,
    )


def approve_when_all_said(order: Order, piece: Piece, asked: AskedSingly, sizes: Sizes) -> None:
    """Let a piece be cut once every name on its shirt has said yes to it as it is now."""
    said = {fold_name(each.said_by): each for each in voices(order, piece, sizes=sizes)}
    if asked.lacks(said):
        return
    counted = [said[fold_name(name)] for name in asked.names]
    ends = [each.until for each in counted if each.until is not None]
    last = max(counted, key=lambda each: (each.at, each.pk))
    _approve(last, piece, sizes, said_by=" and ".join(asked.names), until=min(ends, default=None))


def voices(order: Order, piece: Piece, *, sizes: Sizes) -> list[Consent]:
    """Return the yeses that were said to a piece by itself, stand, and are to what would be cut now."""
    said = Consent.objects.standing().filter(kind=Consent.Kind.CUT, order=order, piece=piece)
    return [each for each in said.order_by("at", "pk") if covers(each.facts or {}, piece, sizes=sizes)]
