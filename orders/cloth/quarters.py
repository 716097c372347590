"""Fat quarters: how many would do in the place of a length off the bolt, where they cost less."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from django.db import transaction

from orders.cloth import takes
from orders.cloth.cloth_needs import ROLES, Need
from orders.cloth.other_ways import Way, Ways
from orders.models import Cloth, Event, Order, Person, Shop
from orders.models.event import Tap
from orders.planning import EFFORT, brief_for
from orders.quilt import quilt_looks
from planner.materials import CutPlan, PieceOption, pieces_for_less, quarter_of
from planner.plan import Offer, items_by_cloth
from planner.problems import Limit
from planner.units import Money, Size


def size_of(cloth: Cloth, shop: Shop) -> Size:
    """Return what a fat quarter of a cloth is on the shelf of this shop, without its selvage."""
    return quarter_of(cloth.usable, unit=shop.unit)


def reckon(offer: Offer, order: Order, shop: Shop, shelf: Mapping[str, Cloth]) -> dict[str, list[int]]:
    """Return how many do and what they cost in minor units, for each cloth of which fewer coins buy them."""
    paid = _off_the_bolt(offer, shelf)
    if not paid:
        return {}
    limit, brief = Limit(effort=EFFORT), brief_for(order, shop, drawn=quilt_looks.quilt_of(order))
    items = items_by_cloth(offer.layout.quilt, brief, limit=limit)
    facts, found = {each.id: each for each in brief.shelf}, {}
    for name, (each, than) in paid.items():
        piece = size_of(shelf[name], shop)
        option = pieces_for_less(facts[name], items[name], piece, each=each, than=than, limit=limit)
        if isinstance(option, PieceOption):
            found[name] = [option.count, option.cost.minor]
    return found


def _off_the_bolt(offer: Offer, shelf: Mapping[str, Cloth]) -> dict[str, tuple[Money, Money]]:
    """The cloths that are bought and sold as fat quarters too: what one costs, what is paid off the bolt."""
    paid = {}
    for name, plan in _plans(offer).items():
        each = shelf[name].quarter_price if name in shelf else None
        if each is not None and plan.buy and plan.cost is not None:
            paid[name] = (Money(each, plan.cost.currency), plan.cost)
    return paid


def _plans(offer: Offer) -> dict[str, CutPlan]:
    cloth = offer.layout.quilt.cloth
    return {cloth[role]: plan for role, plan in offer.cuts.items()}


def from_narrow(offer: Offer, order: Order, shelf: Mapping[str, Cloth]) -> dict[str, int]:
    """Return the length, in ticks, that each plan takes of pieces narrower than their cloth."""
    found = {}
    for name, plan in _plans(offer).items():
        if name in shelf:
            lies = takes.lies_of(shelf[name], order)
            narrow = {place for place, (across, _) in enumerate(lies) if across < shelf[name].usable}
            found[name] = sum(strip.height for strip in plan.strips if strip.source in narrow)
    return {name: length for name, length in found.items() if length}


def compare(
    order: Order, shop: Shop, cloths: Iterable[Cloth], needs: Iterable[Need]
) -> tuple[tuple[Ways, ...], bool]:
    """Return the lengths that fat quarters undercut, both ways side by side; and whether it is known yet."""
    shelf = {cloth.name: cloth for cloth in cloths}
    sold = [
        need
        for need in needs
        if need.buy and need.cost is not None and shelf[need.cloth].quarter_price is not None
    ]
    if not sold:
        return (), True
    taking = takes.taking_of(order, shop, list(shelf.values()))
    known = {each.cloth: each for each in taking.takes} if taking.is_of_now else {}
    return tuple(_both(sold, known, shelf, shop)), taking.is_of_now or taking.failed


def _both(
    sold: Iterable[Need], known: Mapping[str, takes.Take], shelf: Mapping[str, Cloth], shop: Shop
) -> Iterator[Ways]:
    for need in sold:
        count, minor = known[need.cloth].quarters if need.cloth in known else takes.NONE
        if need.cost is not None and count and minor < need.cost.minor:
            cost, size = Money(minor, shop.currency), size_of(shelf[need.cloth], shop)
            bolt = Way(need.cloth, "off the bolt", need.length, need.buy, need.cost)
            yield Ways(_parts(need), (bolt, Way(need.cloth, "", 0, 0, cost, package=size, quarters=count)))


def _parts(need: Need) -> str:
    return ", ".join(ROLES.get(role, role) for role in need.roles).capitalize()


@transaction.atomic
def bought(cloth: Cloth, count: int, *, by: Person, client_id: str) -> Event | None:
    """Put so many fat quarters on the shelf, each as a piece without its selvage. The same tap is once.

    They lie free: what was wanted of the cloth is reckoned anew, and takes of them first.
    """
    tap, is_new = Tap.objects.get_or_create(client_id=client_id)
    if not is_new:
        return tap.deed
    piece = size_of(cloth, Shop.objects.get())
    pieces = [
        cloth.put_on_shelf(piece.height, width=piece.width, by=by, part="fat quarter").pk
        for _ in range(count)
    ]
    tap.deed = Event.objects.note(
        "cloth bought", by=by, cloth=cloth.name, length=piece.height * count, quarters=count, pieces=pieces
    )
    tap.save(update_fields=["deed"])
    return tap.deed
