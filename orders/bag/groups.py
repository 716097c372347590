"""Several garments on one line: taken apart again, and a guest that turns out to belong here."""

from __future__ import annotations

from django.db import transaction

from orders.bag.panels import counted
from orders.models import AskedSingly, Bag, Event, Person, Piece, Shirt


class CannotSplit(Exception):
    """So many garments cannot be taken out of this line; the text says why."""


@transaction.atomic
def split(shirt: Shirt, out: int, *, by: Person) -> Shirt:
    """Give some garments of a group a line and a number of their own; the count stays as it was.

    The last garments leave, with the panels that were theirs.
    """
    bag = Bag.objects.select_for_update().get(pk=shirt.bag_id)
    group = Shirt.objects.select_for_update().get(pk=shirt.pk)
    _refuse(group, out)
    left = group.garments - out
    leaving = [piece for piece in group.pieces.all() if counted(piece.side)[1] > left]
    taken = next((piece for piece in leaving if piece.order_id is not None), None)
    if taken is not None:
        raise CannotSplit(f"{taken} is in a quilt. Leave it out there first.")
    own = _line_like(group, number=bag.number_for(None), garments=out)
    for piece in leaving:
        side, number = counted(piece.side)
        new = f"{side}-{number - left}" if number - left > 1 else side
        Piece.objects.filter(pk=piece.pk).update(shirt=own, side=new)
    Shirt.objects.filter(pk=group.pk).update(garments=left)
    shirt.garments = left
    for asked in AskedSingly.objects.filter(shirt=group):  # whose yes it needs does not change by a new tag
        asked.pk, asked.shirt = None, own
        asked.save(force_insert=True)
    Event.objects.note("split", by=by, bag=bag.pk, shirt=group.number, into=own.number, garments=out)
    return own


def _refuse(group: Shirt, out: int) -> None:
    if group.state != Shirt.State.IN_WORK:
        raise CannotSplit(f"{group} is {group.get_state_display()}; only what is in work can be taken apart.")
    if not 1 <= out < group.garments:
        raise CannotSplit(f"{group} is {group.garments} garments: take out from 1 to {group.garments - 1}.")


def _line_like(group: Shirt, *, number: int, garments: int) -> Shirt:
    """A line with all that is known of the group, and what is the group’s alone left behind."""
    own = Shirt.objects.get(pk=group.pk)
    own.pk, own.version, own.client_id, own.consent = None, 1, None, None
    own.number, own.garments = number, garments
    own.save(force_insert=True)
    return own


@transaction.atomic
def welcome(shirt: Shirt, *, by: Person) -> None:
    """A guest belongs to this bag after all: it is counted, and the count at the door grows by it."""
    bag = Bag.objects.select_for_update().get(pk=shirt.bag_id)
    guest = Shirt.objects.select_for_update().get(pk=shirt.pk)
    if not guest.guest:
        return
    Shirt.objects.filter(pk=guest.pk).update(guest=False)
    shirt.guest = False
    tally = Bag.objects.get(pk=bag.pk).tally()
    if tally.too_many:
        bag.count_again(tally.logged, by=by)
    Event.objects.note("guest welcomed", by=by, bag=bag.pk, shirt=guest.number)
