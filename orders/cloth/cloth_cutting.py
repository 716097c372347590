"""Cloth cut as on its sheet: what was cut is off the shelf, what is left goes back with its size, once."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from orders.cloth.cutting import ClothCuts
from orders.models import Cloth, ClothPiece, Event, Order, Person, Reservation
from orders.models.event import Tap
from planner.materials import CutPlan
from planner.materials.writing import WORTH_KEEPING
from planner.units import Size

CUT = "cloth cut"


class CannotBeCut(Exception):
    """Cloth that cannot be cut as on its sheet; the message says why and what comes first."""


class WrongLeft(CannotBeCut):
    """What was measured of the last piece cannot be so."""


@dataclass(frozen=True)
class Free:
    """A piece of the shelf and how much of its length this order may cut; the rest is others’."""

    piece: ClothPiece
    length: int


def free_pieces(cloth: Cloth, order: Order) -> list[Free]:
    """Return the pieces as a cut plan numbers them: the longest first, less what others keep."""
    others = sum(
        each.length for each in cloth.reservations.all() if each.is_open and each.order_id != order.pk
    )
    found = []
    for piece in sorted(cloth.pieces.all(), key=lambda each: -each.length):
        if piece.used_up_at is None:
            taken = min(others, piece.length)
            others -= taken
            if piece.length > taken:
                found.append(Free(piece, piece.length - taken))
    return found


def print_of(cuts: ClothCuts) -> str:
    """Return what makes a sheet the same sheet: cut from another one is refused."""
    return hashlib.sha256(f"{cuts.cloth} {cuts.keys} {cuts.plan!r}".encode()).hexdigest()[:32]


def was_cut(order: Order) -> dict[str, Event]:
    """Return the newest cut of each cloth of an order, by the cloth’s name."""
    events = order.events.filter(what=CUT).select_related("by").order_by("at", "pk")
    return {event.facts["cloth"]: event for event in events}


def why_not(order: Order, cuts: ClothCuts, cut: dict[str, Event]) -> str:
    """Say why a cloth cannot be cut now; empty when it can."""
    if cuts.plan is None or cuts.facts is None:
        return cuts.why_none or "There is nothing to cut."
    if cuts.cloth in cut and set(cuts.keys) <= set(cut[cuts.cloth].facts["roles"]):
        return f"{cuts.cloth} is cut for this quilt already."
    if cuts.plan.buy:
        return (
            f"Some of {cuts.cloth} is still to be bought: it is on the shopping list once the price has its"
            " yes. Or put it on the shelf, if it is here; or try another cloth for one part."
        )
    return ""


@transaction.atomic
def cut_as_on_sheet(
    order: Order, cuts: ClothCuts, *, by: Person, client_id: str, left: int | None = None
) -> Event | None:
    """Take what was cut off the shelf and put back what is left; the same tap again is the first one.

    `left` is the length that was measured of the last piece, in ticks, where it is not as reckoned.
    """
    tap, is_new = Tap.objects.get_or_create(client_id=client_id)
    if not is_new:
        return tap.deed
    cloth = Cloth.objects.select_for_update().get(name=cuts.cloth)
    Order.objects.select_for_update().get(pk=order.pk)
    why = why_not(order, cuts, was_cut(order))
    if why:
        raise CannotBeCut(why)
    if not cloth.may_be_cut:
        raise CannotBeCut(f"{cloth} is hers, and has no yes to be cut. Ask first.")
    assert cuts.plan is not None
    back = _take_off(cloth, order, cuts.plan, left, by=by)
    mine = Reservation.objects.filter(order=order, cloth=cloth, cut_at=None, let_go_at=None)
    mine.filter(Q(role__in=cuts.keys)).update(cut_at=timezone.now())
    deed = Event.objects.note(
        CUT, by=by, order=order, cloth=cloth.name, roles=list(cuts.keys), used=cuts.plan.used,
        left=[[size.width, size.height] for size in back],
    )  # fmt: skip
    tap.deed = deed
    tap.save(update_fields=["deed"])
    return deed


def _take_off(cloth: Cloth, order: Order, plan: CutPlan, left: int | None, *, by: Person) -> list[Size]:
    """Use up each piece that was cut, and put back what is left of it and beside its strips."""
    free = free_pieces(Cloth.objects.with_pieces().get(pk=cloth.pk), order)
    sources = sorted({strip.source for strip in plan.strips if strip.source is not None})
    if sources and sources[-1] >= len(free):
        raise CannotBeCut(f"What lies here of {cloth} is not what the sheet was drawn for. Open it again.")
    back: list[Size] = []
    for source in sources:
        piece, strips = free[source].piece, [each for each in plan.strips if each.source == source]
        used = sum(strip.height for strip in strips)
        if used > free[source].length:
            raise CannotBeCut(f"What lies here of {cloth} is shorter than the sheet says. Open it again.")
        rest = piece.length - used
        if left is not None and source == sources[-1]:
            if not 0 <= left <= piece.length:
                raise WrongLeft("What is left cannot be less than nothing, nor more than the piece was.")
            rest = left
        back += [Size(piece.width, rest)] if rest >= WORTH_KEEPING.height else []
        piece.use_up(by=by)
    back += _beside(cloth, plan, free)
    for size in back:
        cloth.put_on_shelf(size.height, width=size.width, by=by)
    return back


def _beside(cloth: Cloth, plan: CutPlan, free: list[Free]) -> list[Size]:
    """What is left at the end of each strip, where it is worth keeping."""
    found = []
    for strip in plan.strips:
        if strip.source is not None:
            width = min(free[strip.source].piece.width, cloth.usable)
            size = Size(width - sum(column.across for column in strip.columns), strip.height)
            short, long = sorted((size.width, size.height))
            if short >= WORTH_KEEPING.height and long >= WORTH_KEEPING.width:
                found.append(size)
    return found


def is_known(client_id: str) -> bool:
    """Say whether a tap came in before."""
    return Tap.objects.filter(pk=client_id).exists()
