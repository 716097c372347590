"""A garment serves as cloth: its usable rectangles, the yes that lets it be cut, and what it gives first."""

from __future__ import annotations

from django.db import transaction

from orders.account.agreeing import name_among
from orders.cloth.cloth_needs import ROLES
from orders.models import Cloth, ClothPiece, Consent, Event, Order, Person, Shirt
from planner.units import INCH

GARMENT = "garment"
NO_BACKING = ("backing", "binding")  # what a garment is never asked to give first


class CannotGive(Exception):
    """What a garment cannot serve for, or not yet; the text says why and what to do."""


def name_for(order: Order, shirt: Shirt) -> str:
    """Return what the cloth of a garment is called among all cloths."""
    return f"{shirt.kind.capitalize()} {shirt.number:02d}, No. {order.number}"


@transaction.atomic
def add_rectangle(
    order: Order, shirt: Shirt, *, part: str, width: int, length: int, by: Person, client_id: str | None
) -> ClothPiece:
    """Record a usable rectangle of a garment, in ticks across and along its grain; twice is once."""
    cloth = cloth_of(order, shirt, by=by)
    before = ClothPiece.objects.filter(client_id=client_id).first() if client_id else None
    if before is not None:
        return before
    piece = cloth.put_on_shelf(length, width=width, part=part, by=by, client_id=client_id)
    if width > cloth.usable:
        Cloth.objects.filter(pk=cloth.pk).update(usable=width)
    return piece


def cloth_of(order: Order, shirt: Shirt, *, by: Person) -> Cloth:
    """Return the cloth of a garment, made when it is first asked for; a garment serves one quilt."""
    cloth = Cloth.objects.filter(garment=shirt).select_related("for_order").first()
    if cloth is not None and cloth.for_order is not None and cloth.for_order != order:
        raise CannotGive(
            f"This garment is cloth for No. {cloth.for_order.number}. A garment serves one quilt."
        )
    if cloth is None:
        cloth = Cloth.objects.create(
            name=name_for(order, shirt),
            kind=GARMENT,
            usable=INCH,
            step=INCH,
            ground=next((piece.ground for piece in shirt.pieces.all() if piece.ground), ""),
            garment=shirt,
            for_order=order,
        )
        Event.objects.note("garment taken as cloth", by=by, order=order, shirt=shirt.number)
    elif cloth.put_away_at is not None:
        cloth.bring_back(by=by)
    return cloth


@transaction.atomic
def say_yes(order: Order, cloth: Cloth, *, said_by: str, how: str, by: Person) -> None:
    """Write the approver's yes to cut a garment for cloth; one that stands is kept."""
    asked = getattr(cloth.garment, "asked_singly", None)
    names = list(asked.names) if asked is not None else [order.approver]
    if len(names) > 1:
        raise CannotGive("This garment waits for more than one yes, so it is no cloth for strips.")
    name = name_among(names, said_by)
    if cloth.yes is not None and cloth.yes.stands:
        return
    cloth.yes = Consent.objects.to_cut(order, [], said_by=name, how=how, by=by)
    cloth.save(update_fields=["yes"])


@transaction.atomic
def cut_rectangle(piece: ClothPiece, *, by: Person) -> None:
    """Say that a rectangle is cut; without a yes nothing of a customer's garment is."""
    cloth = Cloth.objects.select_for_update(of=("self",)).get(pk=piece.cloth_id)
    if not cloth.may_be_cut:
        raise CannotGive("Her yes to cut it is missing. Ask first, then write it down here.")
    piece.use_up(by=by)
    Shirt.objects.filter(as_cloth=cloth, state=Shirt.State.IN_WORK).update(state=Shirt.State.USED)


@transaction.atomic
def give_first(order: Order, role: str, cloth: Cloth | None, *, version: int, by: Person) -> None:
    """Let a garment give what it can to a part of the quilt before its cloth is cut; None: no garment."""
    if role not in ROLES or role in NO_BACKING:
        raise CannotGive("A garment gives strips, squares and plain blocks.")
    gives = {each: name for each, name in order.wish.get("gives", {}).items() if each != role}
    after = gives | ({role: cloth.name} if cloth is not None else {})
    if after == order.wish.get("gives", {}):
        return
    order.change(seen=version, wish=order.wish | {"gives": after})
    Event.objects.note("cloth given first", by=by, order=order, role=role, cloth=cloth.name if cloth else "")
