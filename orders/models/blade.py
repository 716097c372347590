"""Before the blade: what a yes covers, what stands in the way of a cut, and the cut itself."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.db import models, transaction

from planner.units import INCH

from .asked_singly import Look, is_second
from .design import ApprovedPiece, Block, Cut, Design, fingerprint
from .event import Event
from .people import Person
from .shirt import Piece, Shirt

Sizes = Mapping[str, list[int]]
BOTH_SEAMS = INCH // 2


class MayNotBeCut(Exception):
    """What keeps the blade away from a piece; `why` says it after the name of the piece."""

    why = "may not be cut."

    def __init__(self, piece: Piece) -> None:
        super().__init__(f"{piece} {self.why}")
        self.piece = piece


class NoYes(MayNotBeCut):
    """A piece was to be cut that nobody has said yes to, or whose yes was taken back or has lapsed."""

    why = "has no yes to cut. Ask before the blade comes near it."


class NotLookedAtTwice(MayNotBeCut):
    """A piece of a memorial, or of a shirt asked about by itself, was to be cut at the first look."""

    why = "wants a second look: somebody else’s today, or yours after a night."


class NotHere(MayNotBeCut):
    """A piece of a shirt that has left, or of an order that is over."""

    why = "is not here to be cut any more."


class KeptApart(MayNotBeCut):
    """A piece of a shirt in quarantine: nobody opens it, let alone cuts it."""

    why = "is kept apart. See to that first, on the shirt’s page."


def cut_facts(piece: Piece, sizes: Sizes) -> dict[str, Any]:
    """Return what is cut: shirt, side, crop and the size, which is None until the layout gives one."""
    return {**piece.facts(), "cut": sizes.get(piece.name)}


def covers(agreed: Mapping[str, Any], piece: Piece, *, sizes: Sizes) -> bool:
    """Say whether a yes to these facts is a yes to what would be cut now.

    A yes given before there was a crop or a layout leaves them open, as long as the whole print stays.
    """
    now = cut_facts(piece, sizes)
    left_open = {name for name in ("box", "cut") if agreed.get(name) is None}
    if now["cut"] is None:
        left_open.add("cut")
    settled = (agreed.keys() | now.keys()) - left_open
    if any(agreed.get(name) != now.get(name) for name in settled):
        return False
    return agreed.get("cut") is not None or keeps_the_print(piece, now["cut"])


def keeps_the_print(piece: Piece, size: list[int] | None) -> bool:
    """Say whether a cut size leaves the whole print, with a seam of 1/4 in on every side."""
    if size is None:
        return True
    wide, high = (side - BOTH_SEAMS for side in size)
    return wide >= piece.print_width and high >= piece.print_height


def cut_sizes_of(order: models.Model) -> Sizes:
    """Return the cut size of each piece in the order's layout, by its name; none before it is drawn."""
    design = Design.objects.filter(order=order.pk).first()
    return design.cut_sizes() if design else {}


def wants_second_look(piece: Piece, order: Any) -> bool:
    """Say whether two looks come before the blade: for memorials and shirts asked about by themselves."""
    return bool(order.memorial) or hasattr(piece.shirt, "asked_singly")


def is_cut_by_itself(piece: Piece, yes: ApprovedPiece | None) -> bool:
    """Say whether it is held and tapped alone, in no pile: asked about by itself, or agreed for one day."""
    return hasattr(piece.shirt, "asked_singly") or (yes is not None and yes.until is not None)


@transaction.atomic
def cut(pieces: Iterable[Piece], *, by: Person) -> list[Cut]:
    """Cut these pieces, or none: each must have a yes that stands at this moment. Twice is once."""
    wanted = [piece.pk for piece in pieces]
    locked = Piece.objects.select_for_update(of=("self", "shirt")).filter(pk__in=wanted).order_by("pk")
    fresh = {piece.pk: piece for piece in locked.select_related("shirt__asked_singly")}
    standing = ApprovedPiece.objects.select_for_update(of=("self",)).standing().filter(piece__in=wanted)
    yeses = {yes.piece_id: yes for yes in standing.select_related("order", "cut")}
    sizes: dict[int, Sizes] = {}
    return [_cut_one(fresh[pk], yeses.get(pk), sizes, by=by) for pk in dict.fromkeys(wanted)]


def _cut_one(piece: Piece, yes: ApprovedPiece | None, sizes: dict[int, Sizes], *, by: Person) -> Cut:
    if yes is None or piece.order_id not in (None, yes.order_id):
        raise NoYes(piece)
    if hasattr(yes, "cut"):
        return yes.cut
    if yes.order_id not in sizes:
        sizes[yes.order_id] = cut_sizes_of(yes.order)
    _refuse(piece, yes, sizes[yes.order_id])
    done = Cut.objects.create(approved=yes, by=by)
    Shirt.objects.filter(pk=piece.shirt_id).update(state=Shirt.State.USED)
    # From now on no layout may ask for another size of it.
    wide, high = sizes[yes.order_id].get(piece.name) or (None, None)
    Piece.objects.filter(pk=piece.pk).update(cut_width=wide, cut_height=high)
    planned = Block.objects.filter(piece=piece, progress=Block.Progress.PLANNED)
    planned.update(progress=Block.Progress.CUT)
    Event.objects.note("cut", by=by, order=yes.order, piece=piece.full_name)
    return done


def _refuse(piece: Piece, yes: ApprovedPiece, sizes: Sizes) -> None:
    here = piece.shirt.state in (Shirt.State.IN_WORK, Shirt.State.USED)
    if not here or yes.order.handed_over_at is not None or yes.order.cancelled_at is not None:
        raise NotHere(piece)
    if piece.shirt.apart:
        raise KeptApart(piece)
    if not covers(yes.facts, piece, sizes=sizes):
        raise NoYes(piece)
    if wants_second_look(piece, yes.order):
        seen = fingerprint(cut_facts(piece, sizes))
        if not is_second(Look.objects.filter(piece=piece, order=yes.order, fingerprint=seen)):
            raise NotLookedAtTwice(piece)
