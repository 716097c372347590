"""The layout of an order: one draft with its moves, versions that were asked about, and the blocks.

A draft is what the last move made of it; undo is a pointer. A version is born by asking for the
yes: the quilt as frozen JSON with its hash, which consent binds to and the planner reads back.
"""

from __future__ import annotations

import hashlib
import json
from datetime import datetime
from typing import Any

from django.db import models, transaction
from django.utils import timezone

from planner.brief import as_json, read_quilt
from planner.quilt import Cell, Quilt

from .event import Event
from .people import Person


def canonical(value: Any) -> str:
    """Return JSON that is the same whenever the value is: keys in order, no blanks."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def fingerprint(value: Any) -> str:
    """Return the SHA-256 of a JSON value."""
    return hashlib.sha256(canonical(value).encode()).hexdigest()


class Design(models.Model):
    """The draft of an order. `at` is the move that stands; later ones were undone.

    `made` counts every move there ever was, so that no number is given twice.
    """

    order = models.OneToOneField("orders.Order", models.CASCADE, related_name="design")
    at = models.PositiveIntegerField(default=0)
    made = models.PositiveIntegerField(default=0)

    def __str__(self) -> str:
        return f"Design of {self.order}"

    @property
    def quilt(self) -> Quilt | None:
        """The quilt as it stands, or None before anything was drawn."""
        move = self.last_move
        return read_quilt(move.quilt) if move else None

    @property
    def last_move(self) -> Move | None:
        """The move that stands."""
        return self.moves.filter(number=self.at).first()

    @property
    def next_move(self) -> Move | None:
        """The move that was taken back last and can be done again."""
        return self.moves.filter(number__gt=self.at).order_by("number").first()

    def cut_sizes(self) -> dict[str, list[int]]:
        """Return how wide and high each piece is cut, in ticks, as its shirt lies, seams included."""
        quilt = self.quilt
        return self.sizes_in(quilt) if quilt else {}

    @staticmethod
    def sizes_in(quilt: Quilt) -> dict[str, list[int]]:
        """Return the cut sizes of a quilt's pieces, by name."""
        return {cell.piece: _cut_size(cell, quilt) for cell in quilt.with_pieces() if cell.piece}

    @transaction.atomic
    def draw(self, quilt: Quilt, words: str, *, by: Person, **said: Any) -> Move:
        """Make a move: the quilt as it is from now on, and in words what was done.

        `pins` and `asked` stay as they were unless they are said anew.
        """
        now = Design.objects.select_for_update().get(pk=self.pk)
        now.moves.filter(number__gt=now.at).delete()
        before = now.last_move
        said = {"pins": before.pins, "asked": before.asked, **said} if before else said
        here = {cell.id for cell in quilt.cells}
        said["pins"] = sorted(here.intersection(said.get("pins", ())))
        number = max(now.made, now.at) + 1
        move = now.moves.create(
            number=number, made_on=now.at, words=words, quilt=as_json(quilt), by=by, **said
        )
        self.at = self.made = number
        self.save(update_fields=["at", "made"])
        return move

    @transaction.atomic
    def undo(self, *, by: Person) -> Move | None:
        """Take the last move back and return it; nothing is lost until another is made."""
        now = Design.objects.select_for_update().get(pk=self.pk)
        last = now.last_move
        if last is None or not last.made_on:
            return None
        self._stand_at(last.made_on)
        return last

    @transaction.atomic
    def redo(self, *, by: Person) -> Move | None:
        """Do the move again that was taken back last, and return it."""
        now = Design.objects.select_for_update().get(pk=self.pk)
        again = now.next_move
        if again is not None:
            self._stand_at(again.number)
        return again

    def _stand_at(self, number: int) -> None:
        self.at = number
        self.save(update_fields=["at"])

    @transaction.atomic
    def freeze(self, *, by: Person) -> DesignVersion:
        """Make the draft a version that can be asked about; the same draft gives the same version."""
        quilt = as_json(self.quilt)
        print_of = fingerprint(quilt)
        last = self.order.versions.order_by("-number").first()
        if last is not None and last.fingerprint == print_of:
            return last
        self.order.versions.filter(replaced_at=None).update(replaced_at=timezone.now())
        version = self.order.versions.create(
            number=last.number + 1 if last else 1, quilt=quilt, fingerprint=print_of, asked_by=by
        )
        Event.objects.note(
            "asked for the yes to the picture", by=by, order=self.order, version=version.number
        )
        return version


def _cut_size(cell: Cell, quilt: Quilt) -> list[int]:
    size = cell.room.size.grown(2 * quilt.seam)
    return [size.width, size.height] if cell.turn in (0, 180) else [size.height, size.width]


class Move(models.Model):
    """One change of a draft, as the whole quilt after it; `made_on` is the move that stood before.

    `pins` are the blocks that rearranging leaves where they lie; `asked` is what it was last asked for;
    `wants` is what it says of pieces: by name, whether wanted and why not, before it and after it.
    """

    design = models.ForeignKey(Design, models.CASCADE, related_name="moves")
    number = models.PositiveIntegerField()
    made_on = models.PositiveIntegerField(default=0)
    words = models.CharField(max_length=160)
    quilt = models.JSONField()
    pins = models.JSONField(default=list, blank=True)
    asked = models.JSONField(default=dict, blank=True)
    wants = models.JSONField(default=dict, blank=True)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["design", "number"], name="move_number_once")]

    def __str__(self) -> str:
        return self.words


class DesignVersion(models.Model):
    """A layout that was asked about, frozen."""

    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField()
    quilt = models.JSONField()
    fingerprint = models.CharField(max_length=64)
    asked_at = models.DateTimeField(default=timezone.now)
    asked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    answer_by = models.DateField(null=True, blank=True)
    replaced_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["order", "number"], name="version_number_once")]

    def __str__(self) -> str:
        return f"Layout {self.number}"

    def as_quilt(self) -> Quilt:
        """Return the frozen quilt."""
        return read_quilt(self.quilt)


class ApprovedPieceQuerySet(models.QuerySet["ApprovedPiece"]):
    def standing(self, *, at: datetime | None = None) -> ApprovedPieceQuerySet:
        """Return what may be cut, now or at a moment, and what was cut: neither taken back nor lapsed."""
        in_time = (
            models.Q(until=None) | models.Q(until__gt=at or timezone.now()) | models.Q(cut__isnull=False)
        )
        return self.filter(in_time, withdrawn_at=None)

    def in_the_workroom(self) -> ApprovedPieceQuerySet:
        """Those of orders that are neither handed over nor cancelled."""
        return self.filter(order__handed_over_at=None, order__cancelled_at=None)

    def lapsed(self) -> ApprovedPieceQuerySet:
        """Return what was for one day that is over, and was not cut."""
        return self.filter(withdrawn_at=None, cut=None, until__lte=timezone.now())


class ApprovedPiece(models.Model):
    """What may be cut: one piece, as it was said yes to. A withdrawal marks it, nothing deletes it.

    `said_by` names everybody whose yes it took; `until` is when a yes for one day lapses.
    """

    piece = models.ForeignKey("orders.Piece", models.PROTECT, related_name="approvals")
    order = models.ForeignKey("orders.Order", models.PROTECT, related_name="approved_pieces")
    consent = models.ForeignKey("orders.Consent", models.PROTECT, related_name="approved_pieces")
    facts = models.JSONField()
    fingerprint = models.CharField(max_length=64)
    said_by = models.CharField(max_length=300, blank=True)
    until = models.DateTimeField(null=True, blank=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = ApprovedPieceQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["piece"], condition=models.Q(withdrawn_at=None), name="one_standing_yes_per_piece"
            )
        ]

    def __str__(self) -> str:
        return f"Yes to cut {self.piece}"

    @property
    def is_lapsed(self) -> bool:
        """Say whether it was for one day, and that day is over."""
        return self.until is not None and self.until <= timezone.now()


class Cut(models.Model):
    """The one act that cannot be undone. It cannot be written without a yes to point at."""

    approved = models.OneToOneField(ApprovedPiece, models.PROTECT, related_name="cut")
    at = models.DateTimeField(default=timezone.now)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"{self.approved.piece} cut"


class Block(models.Model):
    """How far one block of the quilt is. `cell` is the id it keeps through all versions."""

    class Progress(models.TextChoices):
        PLANNED = "planned", "not cut yet"
        CUT = "cut"
        FUSED = "fused"
        TRIMMED = "trimmed", "fused and trimmed"
        JOINED = "joined", "sewn in"

    order = models.ForeignKey("orders.Order", models.CASCADE, related_name="blocks")
    cell = models.CharField(max_length=20)
    piece = models.ForeignKey("orders.Piece", models.PROTECT, null=True, blank=True, related_name="blocks")
    progress = models.CharField(max_length=8, choices=Progress.choices, default=Progress.PLANNED)
    held = models.CharField(max_length=160, blank=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["order", "cell"], name="block_once_per_order")]

    def __str__(self) -> str:
        return f"Block {self.cell} of {self.order}"
