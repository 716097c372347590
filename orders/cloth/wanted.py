"""What each order wants of a cloth, how it lies on the pieces that are here, and what of it has to be new."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from orders.cloth.off_the_shelf import NEW, Laid, Pieces
from orders.cloth.takes import NONE, Take, done_of, off_any, used_at
from orders.models import Cloth, ClothPiece, Order, Reservation

PARTS = {"cornerstone": "cornerstones", "frame": "strips round a shirt", "filler": "plain blocks",
         "sleeve": "sleeve and label", Reservation.AGAIN: "a piece cut again"}  # fmt: skip
NOTHING = Take("", (), 0, 0)
UNKNOWN = Laid()


@dataclass(frozen=True)
class Wanted:
    """What one order wants of a cloth: as what, how much, how much of it is set aside, the day it is due.

    `quarters` is how many fat quarters would do for less, and their price in minor units. What narrower
    pieces give is not in it. `laid` is how it is cut, `new` what of it does not fit on what lies here.
    """

    order: Order
    roles: tuple[str, ...]
    length: int
    set_aside: int
    by: date | None = None
    quarters: tuple[int, int] = NONE
    laid: Laid = UNKNOWN
    new: int = 0

    @property
    def parts(self) -> str:
        """Say what it is for."""
        return ", ".join(PARTS.get(role, role) for role in self.roles)


def wanted_of(cloth: Cloth, needs: Iterable[tuple[Order, Take]]) -> tuple[list[Wanted], tuple[int, ...]]:
    """Return what each order wants of a cloth, and the pieces of full width that lie here for that.

    What was set aside for work that is done is gone, though nobody wrote it off: it is not here, and it is
    not bought again.
    """
    kept: dict[int, list[Reservation]] = {}
    here = Pieces(each.length for each in sorted(cloth.here, key=_age) if each.width >= cloth.usable)
    for each in (one for one in cloth.reservations.all() if one.is_open):
        used = used_at((each.role,), done_of(each.order))
        if used is not None and each.made_at <= used:
            here.take_loose(each.length)
        else:
            kept.setdefault(each.order_id, []).append(each)
    taken = by_order(needs)
    found, narrow = [], cloth.narrow
    for key in dict.fromkeys([*kept, *taken]):
        mine = kept.get(key, [])
        order, take = taken.get(key) or (mine[0].order, NOTHING)
        if take.narrow > narrow:  # another quilt takes of the same narrow pieces
            take = replace(take, narrow=0)
        narrow -= take.narrow
        found.append(wanted_by(order, take, mine, usable=cloth.usable))
    return [each for each in found if each.length], tuple(here.left)


def _age(piece: ClothPiece) -> int:
    return int(piece.pk)


def by_order(needs: Iterable[tuple[Order, Take]]) -> dict[int, tuple[Order, Take]]:
    """Gather what an order takes of one cloth; each part was reckoned with all that lies here, so neither
    counts on a piece any more."""
    found: dict[int, tuple[Order, Take]] = {}
    for order, take in needs:
        if order.pk in found:
            before = found[order.pk][1]
            take = replace(
                before,
                roles=(*before.roles, *take.roles),
                length=before.length + take.length,
                quarters=NONE,
                lies=(),
                narrow=0,
                strips=off_any((*strips_of(before), *strips_of(take))),
            )
        found[order.pk] = (order, take)
    return found


def strips_of(take: Take) -> tuple[tuple[int, int], ...]:
    """Return the strips of what a quilt takes; where they are not known, all of it in one."""
    return take.strips or (((NEW, take.length),) if take.length else ())


def wanted_by(order: Order, take: Take, mine: Sequence[Reservation], *, usable: int) -> Wanted:
    """What was set aside is part of what the quilt takes; what is cut a second time comes on top."""
    again = sum(one.length for one in mine if one.role == Reservation.AGAIN)
    kept = sum(one.length for one in mine) - again
    roles = dict.fromkeys([*take.roles, *(one.role for one in mine)])
    length = max(0, max(kept, take.length) - take.narrow) + again
    return Wanted(
        order,
        tuple(roles),
        length,
        max(0, kept - take.narrow) + again,
        quarters=NONE if again else take.quarters,
        laid=replace(_laid(take, usable), again=again, loose=max(0, kept - take.length)),
    )


def _laid(take: Take, usable: int) -> Laid:
    """How it lies on the pieces of full width; what is planned on a narrow one counts as new, if at all.

    What is not known by its strips lies as no plan laid it.
    """
    full = [at for at, (across, _) in enumerate(take.lies) if across >= usable]
    strips = [
        (full.index(at) if at in full else NEW, high)
        for at, high in strips_of(take)
        if at in full or at == NEW or not take.narrow
    ]
    return Laid(tuple(strips), tuple(take.lies[at][1] for at in full) if take.strips else ())


def shared(wanted: Iterable[Wanted], here: Iterable[int]) -> tuple[Wanted, ...]:
    """Say of each what has to be new: what was set aside comes first, then who wants it first."""
    pieces, new = Pieces(here), {}
    for each in sorted(wanted, key=_turn):
        new[each.order.pk] = pieces.take(each.laid)
    return tuple(replace(each, new=new[each.order.pk]) for each in wanted)


def _turn(wanted: Wanted) -> tuple[bool, bool, date, int]:
    is_kept = wanted.length <= wanted.set_aside
    return not is_kept, bool(wanted.laid.strips), wanted.by or date.max, wanted.order.number
