"""What a layout takes of each cloth, what of it lies on the shelf, and what has to be bought."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from django.db import transaction
from django.utils import timezone

from orders.cloth import takes
from orders.cloth.off_the_shelf import NEW, Laid, Pieces
from orders.cloth.strips import strips_for
from orders.models import Cloth, Event, Order, Person, Reservation, Shop
from orders.planning import bolt_of
from planner.plan import Offer
from planner.units import Money


@dataclass(frozen=True)
class Need:
    """Lengths in ticks. `here` lies on the shelf, `elsewhere` of it is set aside for other orders."""

    cloth: str
    roles: tuple[str, ...]
    length: int
    buy: int
    cost: Money | None
    here: int
    elsewhere: int
    is_set_aside: bool
    words: str = ""
    lot: str = ""
    waits_for_yes: bool = False
    is_used: bool = False


ROLES = {
    "sashing": "Sashing",
    "cornerstone": "Cornerstones",
    "border": "Border",
    "binding": "Binding",
    "backing": "Backing",
    "frame": "Strips round a shirt",
    "filler": "Plain blocks",
    "sleeve": "Sleeve and label",
}


def needs_of(offer: Offer, order: Order, cloths: Iterable[Cloth]) -> tuple[Need, ...]:
    """Return what the layout takes, cloth by cloth: the cheapest backing, batting and interfacing.

    What is cut or sewn in already is used, and is not bought again. Where one cloth is wanted twice, such as
    for top and back, neither counts on a piece that the other takes.
    """
    shelf, gone, done = {cloth.name: cloth for cloth in cloths}, takes.gone_of(order), takes.done_of(order)
    found = [
        _need(shelf[name], roles, length=length, buy=buy, cost=cost, words=words, order=order)
        for name, roles, length, buy, cost, words in _takes(offer, order.wish.get("gives", {}))
        if name in shelf
    ]
    open_ones = [each for each in found if each.cloth not in gone and not takes.used_at(each.roles, done)]
    twice = {name for name, times in Counter(each.cloth for each in open_ones).items() if times > 1}
    shared = {
        (each.cloth, each.roles): each
        for name in sorted(twice)
        for each in _sharing([need for need in open_ones if need.cloth == name], offer, shelf[name], order)
    }
    return tuple(
        shared.get((need.cloth, need.roles), need)
        if need in open_ones
        else replace(need, is_used=True, buy=0, cost=None)
        for need in found
    )


def _sharing(needs: Iterable[Need], offer: Offer, cloth: Cloth, order: Order) -> Iterator[Need]:
    lies, bolt = takes.lies_of(cloth, order), bolt_of(cloth, Shop.objects.get())
    pieces = Pieces(along for across, along in lies if across >= cloth.usable)
    for need in needs:
        strips = strips_for(offer, cloth.name, need.roles[0], lies=lies, usable=cloth.usable)
        new = pieces.take(Laid(tuple((NEW, high) for _, high in strips)))
        buy = max(need.buy, bolt.to_buy(new))
        yield replace(need, buy=buy, cost=bolt.cost_of(buy))


Taken = tuple[str, tuple[str, ...], int, int, Money | None, str]


def _takes(offer: Offer, gives: Mapping[str, str]) -> Iterator[Taken]:
    cloth = offer.layout.quilt.cloth
    for name in dict.fromkeys(cloth[role] for role in offer.cuts):
        roles = tuple(role for role in offer.cuts if cloth[role] == name)
        plan = offer.cuts[roles[0]]
        yield name, roles, plan.used, plan.buy, plan.cost, ""
    for role, plan in offer.given.items():
        name = gives.get(role, "")
        yield name, (role,), plan.used, 0, None, "given first"
    for back in offer.backing[:1]:
        joined = f"in {back.panels} panels" if back.panels > 1 else "in one piece"
        yield back.cloth, ("backing",), back.length, back.buy, back.cost, joined
    for wad in offer.batting[:1]:
        yield wad.cloth, ("batting",), wad.length, wad.buy, wad.cost, "in one piece"
    first = {option.way: option for option in reversed(offer.interfacing)}
    for way in sorted(first):
        found = first[way]
        panels = f"behind {found.pieces} panel{'' if found.pieces == 1 else 's'}"
        yield found.cloth, ("interfacing",), found.length, found.buy, found.cost, panels


def _need(
    cloth: Cloth,
    roles: tuple[str, ...],
    *,
    length: int,
    buy: int,
    cost: Money | None,
    words: str,
    order: Order,
) -> Need:
    mine = [each for each in cloth.reservations.all() if each.is_open and each.order_id == order.pk]
    return Need(
        cloth=cloth.name,
        roles=roles,
        length=length,
        buy=buy,
        cost=cost,
        here=cloth.on_hand,
        elsewhere=set_aside_for_others(cloth, order),
        is_set_aside=any(each.role == roles[0] and each.length == length for each in mine),
        words=words,
        lot=cloth.lot,
        waits_for_yes=not cloth.may_be_cut,
    )


def set_aside_for_others(cloth: Cloth, order: Order) -> int:
    """Return the length other orders have spoken for."""
    return sum(each.length for each in cloth.reservations.all() if each.is_open and each.order_id != order.pk)


@transaction.atomic
def set_aside(order: Order, needs: Iterable[Need], *, by: Person) -> None:
    """Set aside what the layout takes, and let go of what it no longer takes; twice is once.

    A customer's garment is set aside after her yes to cut it, not before.
    """
    open_ones = [need for need in needs if not (need.waits_for_yes or need.is_used)]
    wanted = {(need.cloth, need.roles[0]): need.length for need in open_ones}
    standing = order.reservations.filter(cut_at=None, let_go_at=None).exclude(role=Reservation.AGAIN)
    for each in standing.select_related("cloth"):
        if wanted.get((each.cloth.name, each.role)) == each.length:
            del wanted[each.cloth.name, each.role]
        else:
            each.let_go_at = timezone.now()
            each.save(update_fields=["let_go_at"])
    _reserve(order, wanted)
    if wanted:
        cloths = sorted({name for name, _ in wanted})
        Event.objects.note("cloth set aside", by=by, order=order, cloths=cloths)


def _reserve(order: Order, wanted: Mapping[tuple[str, str], int]) -> None:
    cloths = {cloth.name: cloth for cloth in Cloth.objects.filter(name__in=[name for name, _ in wanted])}
    Reservation.objects.bulk_create(
        Reservation(order=order, cloth=cloths[name], role=role, length=length)
        for (name, role), length in wanted.items()
    )


@transaction.atomic
def ask_for_theme(order: Order, *, wanted: bool, version: int, by: Person) -> None:
    """Write down whether the customer asks for a themed print: it is her exception."""
    if bool(order.wish.get("theme")) == wanted:
        return
    kept = {name: value for name, value in order.wish.items() if name != "theme"}
    order.change(seen=version, wish=kept | ({"theme": True} if wanted else {}))
    Event.objects.note("theme wished" if wanted else "theme not wished", by=by, order=order)
