"""What an agreed quilt takes of each cloth: reckoned in the background and kept, so that no list waits."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING, Any

from orders.background import errands
from orders.cloth.cloth_cutting import CUT
from orders.cloth.off_the_shelf import NEW
from orders.cloth.strips import strips_for
from orders.models import Cloth, Errand, Event, Order, Reservation, Shop
from orders.planning import EFFORT, free_sizes
from planner.problems import BadInput

if TYPE_CHECKING:
    from orders.cloth.cloth_needs import Need
    from planner.plan import Offer

KIND = "cloth a quilt takes"
# The work that first takes each part, and the next where that is not done for itself.
TAKEN_BY = {
    "sashing": ("make up", "join"),
    "cornerstone": ("make up", "join"),
    "frame": ("make up", "join"),
    "filler": ("make up", "join"),
    "border": ("border", "join"),
    "backing": ("back", "quilt"),
    "binding": ("bind", "finish"),
    "sleeve": ("finish",),
}
FIRST: dict[str, tuple[str, ...]] = {
    "interfacing": ("fuse",),
    Reservation.AGAIN: ("fuse",),
    "batting": ("quilt",),
    **TAKEN_BY,
}
NONE = (0, 0)
BY_THE_STRIP = 1  # what was reckoned before strips were kept is reckoned anew


@dataclass(frozen=True)
class Take:
    """A length of one cloth, in ticks, for the parts of one quilt that are cut from it.

    `buy` is what had to be bought to it, in steps, while the pieces of `lies` lay free for it. `quarters`
    is how many fat quarters would do for less, and their price in minor units; `narrow` what of the length
    comes from pieces narrower than the cloth. `strips` are what it is made of: the piece of `lies` each is
    planned on, or `NEW`, and its length.
    """

    cloth: str
    roles: tuple[str, ...]
    length: int
    buy: int
    lies: tuple[tuple[int, int], ...] = ()
    quarters: tuple[int, int] = NONE
    narrow: int = 0
    strips: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True)
class Taking:
    """What one order still takes; `is_of_now` unless it is being reckoned anew, `failed` when nothing can be.

    `gone` are the cloths written down as cut for it, `done` the moments its kinds of work were finished.
    """

    order: Order
    takes: tuple[Take, ...]
    is_of_now: bool
    failed: bool
    gone: frozenset[str]
    done: Mapping[str, datetime | None]

    @property
    def open_takes(self) -> tuple[Take, ...]:
        """What is not cut yet: a cloth is cut at once for all its parts, before the first work with one."""
        return tuple(
            each for each in self.takes if each.cloth not in self.gone and not used_at(each.roles, self.done)
        )


def used_at(roles: Iterable[str], done: Mapping[str, datetime | None]) -> datetime | None:
    """Return when the first work that takes one of the parts was finished; None before it was."""
    kinds = (next((kind for kind in FIRST.get(role, ()) if kind in done), "") for role in roles)
    moments = [moment for kind in kinds if (moment := done.get(kind)) is not None]
    return min(moments, default=None)


def done_of(order: Order) -> dict[str, datetime | None]:
    """Return each kind of work of an order with the moment it was finished."""
    return {stage.kind: stage.done_at for stage in order.stages.all()}


def agreed_takings(shop: Shop, shelf: Sequence[Cloth]) -> tuple[Taking, ...]:
    """Return what every agreed order still takes; what is not known of it is asked for in the background."""
    orders = list(Order.objects.agreed_and_drawn())
    marks, gone, here = _marks(orders, shop), _gone(orders), {cloth.name: cloth for cloth in shelf}
    known: dict[int, list[Errand]] = {}
    for errand in Errand.objects.filter(kind=KIND).order_by("pk"):
        known.setdefault(errand.payload["order"], []).append(errand)
    return tuple(
        _taking(order, marks[order.pk], known.get(order.pk, []), here, gone=gone.get(order.pk, frozenset()))
        for order in orders
    )


def _taking(
    order: Order, mark: str, known: Sequence[Errand], here: Mapping[str, Cloth], *, gone: frozenset[str]
) -> Taking:
    """The last that was kept is shown until the next is there."""
    kept = next((each for each in reversed(known) if "takes" in each.payload), None)
    takes, said = _as_it_lies(_takes_in(kept), order, here), _takes_in(kept)
    still = kept is not None and kept.payload["mark"] == mark and takes == said
    asked = kept if still and kept is not None else _ask(order, mark, after=kept)
    failed = asked.state in (Errand.State.FAILED, Errand.State.STOPPED) or (still and not takes)
    return Taking(order, takes, still, failed, gone, done_of(order))


def _takes_in(errand: Errand | None) -> tuple[Take, ...]:
    kept = errand.payload if errand is not None else {"takes": []}
    quarters, narrow = kept.get("quarters", {}), kept.get("narrow", {})
    return tuple(
        Take(
            name,
            tuple(roles),
            length,
            buy,
            tuple((across, along) for across, along in lies),
            tuple(quarters.get(name, NONE)) if buy else NONE,
            narrow.get(name, 0),
            tuple((source, high) for strips in known for source, high in strips),
        )
        for name, roles, length, buy, lies, *known in kept["takes"]
    )


def _as_it_lies(takes: Iterable[Take], order: Order, here: Mapping[str, Cloth]) -> tuple[Take, ...]:
    """What had to be bought beside pieces that do not lie here so any more is not known."""
    lies = {name: lies_of(cloth, order) for name, cloth in here.items()}
    return tuple(
        replace(each, buy=0, quarters=NONE, lies=(), strips=off_any(each.strips))
        if each.lies != lies.get(each.cloth, each.lies)
        else each
        for each in takes
    )


def off_any(strips: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Return the strips as no plan lays them any more."""
    return tuple((NEW, high) for _, high in strips)


def lies_of(cloth: Cloth, order: Order) -> tuple[tuple[int, int], ...]:
    """Return the pieces of a cloth that lie free for an order: across and along, in ticks."""
    return tuple((size.width, size.height) for size in free_sizes(cloth, order))


def taking_of(order: Order, shop: Shop, shelf: Sequence[Cloth]) -> Taking:
    """Return what one order takes, agreed or not; what is not known of it is asked for in the background."""
    known = list(Errand.objects.about(KIND, str(order.pk)).order_by("pk"))
    here = {cloth.name: cloth for cloth in shelf}
    return _taking(order, _marks([order], shop)[order.pk], known, here, gone=gone_of(order))


def ask(order: Order, shop: Shop) -> Errand:
    """Ask for what an order takes as it stands; asked again before it is done, it is the same errand."""
    return _ask(order, _marks([order], shop)[order.pk], after=None)


def _ask(order: Order, mark: str, *, after: Errand | None) -> Errand:
    payload = {"order": order.pk, "mark": mark}
    key = f"{order.pk} {mark} after {after.pk if after else 0}"
    return errands.send(KIND, key=key, payload=payload, cause=str(order)[:120])


def _marks(orders: Sequence[Order], shop: Shop) -> dict[int, str]:
    """Name all that a quilt's cloth follows from: layout, cloth, wishes, measures, rules, what is listed."""
    shelf = list(Cloth.objects.in_use().order_by("pk").values_list("pk", "version"))
    common = [BY_THE_STRIP, EFFORT, shop.rules, shelf]
    return {
        order.pk: _hash_of([*common, order.design.at, order.cloth, order.wish, order.top]) for order in orders
    }


def _hash_of(facts: object) -> str:
    """Not every database gives the keys of JSON back in the order they came in, so they are sorted."""
    return hashlib.sha256(json.dumps(facts, sort_keys=True, default=str).encode()).hexdigest()[:16]


def gone_of(order: Order) -> frozenset[str]:
    """Return the cloths that were written down as cut for an order."""
    return _gone([order]).get(order.pk, frozenset())


def _gone(orders: Sequence[Order]) -> dict[int, frozenset[str]]:
    cut: dict[int, set[str]] = {}
    for number, facts in Event.objects.filter(what=CUT, order__in=orders).values_list("order", "facts"):
        cut.setdefault(number, set()).add(facts["cloth"])
    return {number: frozenset(names) for number, names in cut.items()}


@errands.errand(KIND, seconds=90, megabytes=700)
def reckon(taken: Errand) -> str:
    """Reckon what the order takes, and keep it in the place of what was kept before."""
    from orders.cloth import quarters
    from orders.cloth.cloth_needs import needs_of
    from orders.quilt.drawn import room_of

    order, shop = Order.objects.get(pk=taken.payload["order"]), Shop.objects.get()
    try:
        offer = room_of(order, shop).offer
    except BadInput as fault:
        raise errands.CannotBeDone(f"The order cannot be reckoned: {fault.message}") from fault
    shelf = {cloth.name: cloth for cloth in Cloth.objects.for_quilt(order)}
    needs = needs_of(offer, order, shelf.values()) if offer else ()
    takes = [_kept_of(need, offer, shelf[need.cloth], order) for need in needs] if offer else []
    cheaper = quarters.reckon(offer, order, shop, shelf) if offer else {}
    narrow = quarters.from_narrow(offer, order, shelf) if offer else {}
    taken.keep("Reckoned.", takes=takes, quarters=cheaper, narrow=narrow)
    Errand.objects.about(KIND, str(order.pk)).filter(pk__lt=taken.pk).exclude(state="running").delete()
    return f"{len(needs)} cloths."


def _kept_of(need: Need, offer: Offer, cloth: Cloth, order: Order) -> list[Any]:
    lies = lies_of(cloth, order)
    strips = strips_for(offer, cloth.name, need.roles[0], lies=lies, usable=cloth.usable)
    return [need.cloth, list(need.roles), need.length, need.buy, lies, strips]
