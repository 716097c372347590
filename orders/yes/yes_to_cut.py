"""The yes to cut: at the table by the pile, by name for the shirts asked about by themselves, taken back."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from orders.account.agreeing import name_among
from orders.models import (
    ApprovedPiece,
    AskedSingly,
    CannotAgree,
    Consent,
    Event,
    Look,
    Order,
    Person,
    Photo,
    Piece,
    Shirt,
)
from orders.models.asked_singly import look_at
from orders.models.blade import covers, cut_facts, cut_sizes_of
from orders.models.consent import approve_when_all_said, take_back, voices
from orders.models.design import fingerprint
from orders.models.people import fold_name


@dataclass(frozen=True)
class Said:
    """How a yes was said, by whom, and whether it is for this day alone; `photo` shows it."""

    by: str
    how: str
    for_the_day: bool = False
    photo: Photo | None = None


def say_for_pile(order: Order, pieces: Iterable[Piece], said: Said, *, by: Person | None) -> Consent | None:
    """Write the approver's yes to a pile; shirts asked about by themselves are no part of it.

    Returns None when every piece has such a yes already.
    """
    name = name_among([order.approver], said.by)
    usual = [piece for piece in pieces if not is_single(piece)]
    with transaction.atomic():
        Order.objects.select_for_update().get(pk=order.pk)
        asked = without_yes(order, usual, for_the_day=said.for_the_day)
        if not asked:
            return None
        return Consent.objects.to_cut(
            order, asked, said_by=name, how=said.how, by=by, for_the_day=said.for_the_day, photo=said.photo
        )


def say_for_one(order: Order, piece: Piece, said: Said, *, by: Person | None) -> Consent | None:
    """Write one named yes to one piece; None when that name has said it already, and it stands."""
    asked = AskedSingly.objects.filter(shirt=piece.shirt_id).first()
    if asked is None:
        return say_for_pile(order, [piece], said, by=by)
    name = name_among(asked.names, said.by)
    with transaction.atomic():
        Order.objects.select_for_update().get(pk=order.pk)
        if fold_name(name) in {fold_name(each.said_by) for each in _voices(order, piece)}:
            return None
        return Consent.objects.to_cut(
            order, [piece], said_by=name, how=said.how, by=by, for_the_day=said.for_the_day, photo=said.photo
        )


def is_single(piece: Piece) -> bool:
    """Say whether no yes to a pile covers this piece."""
    return hasattr(piece.shirt, "asked_singly")


def without_yes(order: Order, pieces: Iterable[Piece], *, for_the_day: bool = False) -> list[Piece]:
    """Return the pieces not cut that no yes covers now; what was for the day may be asked for good."""
    sizes = cut_sizes_of(order)
    approved = ApprovedPiece.objects.standing().filter(order=order).select_related("cut")
    standing = {each.piece_id: each for each in approved}
    found = []
    for piece in pieces:
        yes = standing.get(piece.pk)
        if hasattr(yes, "cut"):
            continue
        lasts = yes is not None and (for_the_day or yes.until is None)
        if yes is None or not lasts or not covers(yes.facts, piece, sizes=sizes):
            found.append(piece)
    return found


@transaction.atomic
def ask_singly(shirt: Shirt, names: Iterable[str], *, for_the_day: bool, why: str, by: Person) -> AskedSingly:
    """Ask about a shirt by itself from now on; a yes it had in a pile is taken back unless it is cut."""
    named = list({fold_name(name): " ".join(name.split()) for name in names if name.strip()}.values())
    if not named:
        raise CannotAgree("Name at least one person whose yes this shirt needs.")
    held = Shirt.objects.select_for_update().get(pk=shirt.pk)
    asked = AskedSingly.objects.filter(shirt=held).first()
    if asked is not None and asked.keeps(names=named, for_the_day=for_the_day, why=why):
        return asked
    told = {"names": named, "for_the_day": for_the_day, "why": why, "set_by": by}
    asked, _ = AskedSingly.objects.update_or_create(shirt=held, defaults=told)
    take_back(ApprovedPiece.objects.filter(piece__shirt=held), at=timezone.now())
    Event.objects.note(
        "asked singly", by=by, bag=held.bag_id, shirt=held.number, names=named, for_the_day=for_the_day
    )
    _count_voices(held, asked)
    return asked


@transaction.atomic
def ask_as_usual(shirt: Shirt, *, by: Person) -> None:
    """Let a shirt be one of the pile again; what the names said is kept, and the pile's yes is asked."""
    held = Shirt.objects.select_for_update().get(pk=shirt.pk)
    if AskedSingly.objects.filter(shirt=held).delete()[0]:
        take_back(ApprovedPiece.objects.filter(piece__shirt=held), at=timezone.now())
        Event.objects.note("asked as usual", by=by, bag=held.bag_id, shirt=held.number)


@transaction.atomic
def take_back_piece(order: Order, piece: Piece, *, by: Person | None) -> bool:
    """Take the yes to one piece back, and leave it to the others; False when there is none to take back."""
    if piece.approvals.filter(cut__isnull=False).exists():
        return False
    now = timezone.now()
    marked = take_back(ApprovedPiece.objects.filter(order=order, piece=piece), at=now)
    said = Consent.objects.filter(kind=Consent.Kind.CUT, order=order, piece=piece, withdrawn_at=None)
    marked += said.update(withdrawn_at=now)
    if marked:
        Event.objects.note("yes taken back", by=by, order=order, piece=piece.name)
    return bool(marked)


@transaction.atomic
def name_approver(order: Order, name: str, *, seen: int, by: Person) -> None:
    """Write down whose yes counts for this order; what was said before stays said."""
    before, after = order.approver, " ".join(name.split())
    if after and after != before:
        order.change(seen=seen, approver=after)
        Event.objects.note("approver named", by=by, order=order, name=after, before=before)


def look(order: Order, piece: Piece, *, by: Person) -> Look:
    """Write that somebody held the piece beside its picture: shirt, side, crop, size."""
    facts = cut_facts(piece, cut_sizes_of(order))
    return look_at(piece, order, fingerprint=fingerprint(facts), by=by)


def looks_by_piece(order: Order, pieces: Iterable[Piece], *, alone: Collection[int]) -> dict[int, list[Look]]:
    """Return the looks at each piece as it is to be cut now, for the pieces that want a second one.

    `alone` are the shirts asked about by themselves.
    """
    sizes = cut_sizes_of(order)
    wanted = {
        each.pk: fingerprint(cut_facts(each, sizes))
        for each in pieces
        if order.memorial or each.shirt_id in alone
    }
    found: dict[int, list[Look]] = {pk: [] for pk in wanted}
    if not wanted:
        return found
    for each in Look.objects.filter(order=order, piece__in=wanted).select_related("by"):
        if each.fingerprint == wanted[each.piece_id]:
            found[each.piece_id].append(each)
    return found


def _voices(order: Order, piece: Piece) -> list[Consent]:
    return voices(order, piece, sizes=cut_sizes_of(order))


def _count_voices(shirt: Shirt, asked: AskedSingly) -> None:
    """Names were changed: what is left of them may have said yes already."""
    said = Consent.objects.standing().filter(kind=Consent.Kind.CUT, piece__shirt=shirt)
    newest_last = said.select_related("piece__shirt", "piece__order", "order").order_by("at", "pk")
    for each in {each.piece_id: each for each in newest_last}.values():
        assert each.piece is not None
        order = each.piece.order or each.order
        approve_when_all_said(order, each.piece, asked, cut_sizes_of(order))
