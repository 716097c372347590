"""Two yeses: to the cut, piece by piece, and to the picture. How it was said, by whom, and when."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import models, transaction
from django.db.models import Q
from django.utils import timezone

from .design import ApprovedPiece, Block, Cut, Design, DesignVersion, fingerprint
from .event import Event
from .order import Order
from .people import Person
from .shirt import Piece, Shirt


class NoYes(Exception):
    """A piece was to be cut that nobody has said yes to, or whose yes was taken back."""

    def __init__(self, piece: Piece) -> None:
        super().__init__(f"{piece} has no yes to cut. Ask before the blade comes near it.")
        self.piece = piece


class ConsentQuerySet(models.QuerySet["Consent"]):
    @transaction.atomic
    def to_cut(
        self, order: Order, pieces: Iterable[Piece], *, said_by: str, how: str, by: Person | None
    ) -> Consent:
        """Write a yes to cut these pieces; one that covers its piece as it is drawn now is kept."""
        consent = self.create(order=order, kind=Consent.Kind.CUT, said_by=said_by, how=how, written_by=by)
        sizes = cut_sizes_of(order)
        for piece in pieces:
            standing = piece.approvals.filter(withdrawn_at=None).first()
            if standing is not None and not covers(standing, piece, sizes=sizes):
                piece.approvals.filter(pk=standing.pk, cut=None).update(withdrawn_at=timezone.now())
            if not piece.approvals.filter(withdrawn_at=None).exists():
                facts = {**piece.facts(), "cut": sizes.get(piece.name)}
                ApprovedPiece.objects.create(
                    piece=piece, order=order, consent=consent, facts=facts, fingerprint=fingerprint(facts)
                )
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

    @transaction.atomic
    def withdraw(self, *, by: Person | None) -> None:
        """Take the yes back; what is cut is cut, the rest may not be."""
        if self.withdrawn_at is None:
            self.withdrawn_at = timezone.now()
            self.save(update_fields=["withdrawn_at"])
            self.approved_pieces.filter(withdrawn_at=None, cut=None).update(withdrawn_at=self.withdrawn_at)
            Event.objects.note("yes taken back", by=by, order=self.order, said_by=self.said_by)


def covers(approved: ApprovedPiece, piece: Piece, *, sizes: dict[str, list[int]]) -> bool:
    """Say whether a yes is to what would be cut now; one given before there was a layout is to any size."""
    size = sizes.get(piece.name)
    agreed = approved.facts.get("cut")
    same_panel = approved.facts.get("box", piece.box) == piece.box
    return same_panel and (agreed is None or size is None or agreed == size)


def cut_sizes_of(order: Order) -> dict[str, list[int]]:
    """Return the cut size of each piece in the order's layout, by its name; none before it is drawn."""
    design = Design.objects.filter(order=order).first()
    return design.cut_sizes() if design else {}


@transaction.atomic
def cut(pieces: Iterable[Piece], *, by: Person) -> list[Cut]:
    """Cut these pieces, or none: each must have a yes that stands at this moment. Twice is once."""
    cuts = []
    sizes: dict[int, dict[str, list[int]]] = {}
    for piece in pieces:
        approved = ApprovedPiece.objects.select_for_update().filter(piece=piece, withdrawn_at=None).first()
        if approved is None:
            raise NoYes(piece)
        if approved.order_id not in sizes:
            sizes[approved.order_id] = cut_sizes_of(approved.order)
        if not covers(approved, piece, sizes=sizes[approved.order_id]):
            raise NoYes(piece)
        done, is_new = Cut.objects.get_or_create(approved=approved, defaults={"by": by})
        cuts.append(done)
        if is_new:
            Shirt.objects.filter(pk=piece.shirt_id).update(state=Shirt.State.USED)
            Block.objects.filter(piece=piece, progress=Block.Progress.PLANNED).update(
                progress=Block.Progress.CUT
            )
            Event.objects.note("cut", by=by, order=approved.order, piece=piece.full_name)
    return cuts
