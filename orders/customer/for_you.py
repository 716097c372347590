"""The customer's page of an order: her quilt, the one thing wanted, the days, the money, the shirts."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.db import transaction

from orders.customer.her_money import HerMoney, money_of, part_of
from orders.customer.people import Seat, seat_of
from orders.models import Block, Event, Order, Quote, Shop
from orders.papers.saying import in_words
from orders.templatetags.shop import day as short
from orders.yes.yes_to_picture import TooLate

DOING = {
    "log": "Looking at each", "wash": "Washing", "design": "Drawing", "cut": "Cutting", "fuse": "Stabilizing",
    "trim": "Trimming", "make up": "Making blocks", "join": "Sewing it", "border": "Sewing the border",
    "back": "Making the back", "quilt": "Quilting", "bind": "Binding", "finish": "Finishing",
}  # fmt: skip
BEFORE_SEWING = ("log", "design", "wash", "cut")
TO_COME = {"join": "sewn together", "quilt": "quilted", "bind": "bound"}
STABLE = (Block.Progress.FUSED, Block.Progress.TRIMMED, Block.Progress.JOINED)
LEAVES = {
    "collection": "It can be collected; ask the shop for a time.",
    "delivery": "It will be brought; the shop says when.",
    "parcel": "It will be posted; the shop says when.",
}


@dataclass(frozen=True)
class Page:
    """What stands on the page, in the order it is read."""

    seat: Seat
    headline: str
    lead: str
    wants: str
    price: Quote | None
    steps: tuple[tuple[str, str], ...]
    done: int
    to_come: str
    money: HerMoney | None
    has_tax: bool
    is_ready: bool
    shirts: str
    whereabouts: str
    photo: int | None
    may_write_label: bool
    cut_is_open: bool
    tells_people: bool
    part: int | None = None


def seat_at(order: Any) -> Seat:
    """Return whose link opened the page of an order from `order_opened_by`; no query."""
    return seat_of(order, order.link_to, [each[1:] for each in sorted(order.payers_listed or [])])


def page_of(order: Any, shop: Shop) -> Page:
    """Return the page of an order that came from `order_opened_by`; two queries more."""
    seat, quotes = seat_at(order), list(order.quotes.all())
    agreed = next((each for each in quotes if each.standing(on=shop.today()) == "accepted"), None)
    price = next((each for each in quotes if each.standing(on=shop.today()) == "open"), None)
    wants = _wanted(order, seat, price)
    money = money_of(order, seat, agreed, currency=shop.currency) if seat.sees_money else None
    steps, done = _steps(order, agreed, shop)
    return Page(
        seat=seat,
        headline=_headline(order, is_agreed=agreed is not None) if seat.sees_the_quilt else "To be collected",
        lead=_lead(order, is_agreed=agreed is not None) if seat.sees_the_quilt else _when(order),
        wants=wants,
        price=price if wants == "price" else None,
        part=part_of(price, seat),
        steps=steps,
        done=done,
        to_come=_to_come(order),
        money=money if money and money.of_all else None,
        has_tax=agreed is not None and agreed.tax > 0,
        is_ready=_is_ready(order),
        shirts=_count(order),
        whereabouts=_whereabouts(order),
        photo=order.photo if may_see_photos(order, seat) else None,
        may_write_label=may_write_label(order, seat),
        cut_is_open=_is_cutting_open(order),
        tells_people=bool(order.recipient or order.collector or not seat.decides),
    )


def _wanted(order: Any, seat: Seat, price: Quote | None) -> str:
    """The one thing that is asked of whoever holds this link: price, picture, label, or nothing."""
    if order.handed_over_at or order.cancelled_at:
        return ""
    if price is not None:
        return "price" if seat.pays or seat.decides else ""
    if order.asked is not None and order.picture_yes_at is None:
        return "picture" if seat.sees_the_quilt else ""
    return "label" if may_write_label(order, seat) and not order.label_words else ""


def _when(order: Any) -> str:
    """All that is told to whoever only collects it."""
    if order.handed_over_at or order.cancelled_at:
        return "Nothing is waiting here."
    return LEAVES["collection"] if _is_ready(order) else "It is not ready yet; the shop says when."


def _is_cutting_open(order: Any) -> bool:
    pieces = [block for block in order.blocks.all() if block.piece_id]
    all_cut = bool(pieces) and not any(each.progress == Block.Progress.PLANNED for each in pieces)
    return not (order.handed_over_at or order.cancelled_at or all_cut)


def may_write_label(order: Any, seat: Seat) -> bool:
    """Say whether the words for the label are still hers to write: agreed, and not sewn on yet."""
    sewn_on = _done(order, "finish") or order.handed_over_at or order.cancelled_at
    is_quilt = order.kind != Order.Kind.REPAIR
    return bool(order.accepted_at and is_quilt and not sewn_on and (seat.decides or seat.pays))


def may_see_photos(order: Any, seat: Seat) -> bool:
    """Say whether photographs of the quilt in work are shown: of a memorial only where asked for."""
    return seat.sees_the_quilt and (order.pictures_welcome or not order.memorial)


@transaction.atomic
def write_label(order: Any, words: str, *, name: str) -> None:
    """Keep the words for the label, and who gave them; the same words again change nothing."""
    now = Order.objects.select_for_update().get(pk=order.pk)
    if not may_write_label(order, seat_at(order)):
        raise TooLate("The label is sewn on already, or the order is closed. Ask the shop.")
    if now.label_words != words:
        before, now.label_words, now.label_by = now.label_words, words, name
        now.save(update_fields=["label_words", "label_by"])
        Event.objects.note("label words", by=None, order=now, said_by=name, words=words, before=before)


def _done(order: Any, *kinds: str) -> bool:
    stages = [stage for stage in order.stages.all() if stage.kind in kinds]
    return bool(stages) and all(stage.done_at for stage in stages)


def _is_ready(order: Any) -> bool:
    stages = order.stages.all()
    return bool(stages) and all(stage.done_at for stage in stages)


def _headline(order: Any, *, is_agreed: bool) -> str:
    your = "The" if order.memorial else "Your"
    yours = f"{your} {order.thing}"
    if order.cancelled_at:
        return "This order was called off"
    if order.handed_over_at:
        return f"{yours} has left the workroom"
    if _is_ready(order):
        return f"{yours} is ready"
    for kind, words in (("bind", "bound"), ("quilt", "quilted"), ("join", "sewn together")):
        if _done(order, kind):
            return f"{yours} is {words}"
    if order.kind == Order.Kind.REPAIR:
        return "The repair is agreed" if is_agreed else "The repair is being looked at"
    return _headline_of_shirts(order, your, is_agreed=is_agreed)


def _headline_of_shirts(order: Any, your: str, *, is_agreed: bool) -> str:
    shirts = _shirts(order.shirts_logged)
    if order.shirts_used and order.shirts_used == order.shirts_logged:
        return f"{your} {shirts} {_is_are(order.shirts_logged)} cut"
    if order.shirts_used:
        some = in_words(order.shirts_used).capitalize()
        return f"{some} of {your.lower()} {shirts} {_is_are(order.shirts_used)} cut"
    if order.drawn and not is_agreed:
        return f"{your} {order.thing} is drawn"
    if order.shirts_logged:
        return f"{your} {shirts} {_is_are(order.shirts_logged)} here"
    return f"{your} shirts are not here yet"


def _shirts(count: int) -> str:
    return f"{in_words(count)} shirt{'' if count == 1 else 's'}"


def _is_are(count: int) -> str:
    return "is" if count == 1 else "are"


def _lead(order: Any, *, is_agreed: bool) -> str:
    if order.cancelled_at:
        return "Ask the shop about what is still here."
    if order.handed_over_at:
        return f"It went to {order.handed_to}."
    if _is_ready(order):
        return LEAVES[order.leaving]
    if order.shirts_used:
        return _how_far(order)
    if order.kind == Order.Kind.REPAIR:
        return ""
    if is_agreed:
        return "Nothing is cut before the yes to cut." if order.cut_yes_at is None else "The work can begin."
    if not order.shirts_logged:
        return "Once they are here, the layout comes."
    return "This is how it would look." if order.drawn else "The layout comes next."


def _how_far(order: Any) -> str:
    blocks = [block for block in order.blocks.all() if block.piece_id]
    stable = sum(block.progress in STABLE for block in blocks)
    if _done(order, "join") or not blocks:
        return ""
    if stable == len(blocks):
        return "All of it is stabilized. Sewing together comes next."
    if not stable:
        return "Each piece is stabilized next, so that it keeps its shape."
    rest = len(blocks) - stable
    follow = "follows" if rest == 1 else "follow"
    return (
        f"{in_words(stable).capitalize()} {_is_are(stable)} stabilized, the other {in_words(rest)} {follow}."
    )


def _steps(order: Any, agreed: Quote | None, shop: Shop) -> tuple[tuple[tuple[str, str], ...], int]:
    """The way in five: the words of the step in hand say what is being done."""
    yes_at = order.cut_yes_at or (agreed.accepted_at if agreed else None)
    all_cut = bool(order.shirts_used) and not any(
        block.progress == Block.Progress.PLANNED for block in order.blocks.all() if block.piece_id
    )
    reached = [order.came_at, yes_at, all_cut and order.cut_at, _is_ready(order), order.handed_over_at]
    done = next((number for number, each in enumerate(reached) if not each), len(reached))
    done = len(reached) if order.handed_over_at else done  # whatever was not ticked off before it left
    planned = order.promised_for or (agreed.planned_for if agreed else None)
    ahead = planned if planned and planned >= shop.today() else None
    last = _day_of(order.handed_over_at, shop) if order.handed_over_at else ahead
    words = [
        ("Came in", _local(order.came_at, shop)),
        ("The yes", _local(yes_at, shop)),
        ("Cut", _local(order.cut_at, shop) if all_cut else _cut_so_far(order)),
        (_in_hand(order) if done == 3 else "Sewn", "now" if done == 3 else ""),
        ("Yours", short(last, shop.today()) if last else "the day is agreed later"),
    ]
    return tuple(words), done


def _cut_so_far(order: Any) -> str:
    pieces = [block for block in order.blocks.all() if block.piece_id]
    cut = sum(block.progress != Block.Progress.PLANNED for block in pieces)
    return f"{cut} of {len(pieces)}" if cut else ""


def _in_hand(order: Any) -> str:
    after = [each for each in order.stages.all() if each.kind not in BEFORE_SEWING and each.minutes]
    stage = next((each for each in after if not each.done_at), None)
    return DOING.get(stage.kind, "At work") if stage else "Sewn"


def _to_come(order: Any) -> str:
    to_do = {stage.kind for stage in order.stages.all() if stage.minutes and not stage.done_at}
    left = [words for kind, words in TO_COME.items() if kind in to_do]
    return "" if order.handed_over_at else ", ".join(left)


def _count(order: Any) -> str:
    """The count in words: how many came in and what has become of them."""
    if not order.shirts_counted and not order.shirts_logged:
        return "None has come in yet."
    came = in_words(max(order.shirts_counted, order.shirts_logged)).capitalize()
    parts = [
        (order.shirts_used, "cut"),
        (order.shirts_whole, "whole"),
        (order.shirts_returned, "back with you"),
    ]
    parts += [(max(order.shirts_counted - order.shirts_logged, 0), "still to be looked at")]
    told = [f"{in_words(count)} {_is_are(count)} {words}" for count, words in parts if count]
    return f"{came} came in. {', '.join(told).capitalize()}." if told else f"{came} came in."


def _whereabouts(order: Any) -> str:
    missing = order.shirts_missing
    if missing:
        some = in_words(missing).capitalize()
        return f"{some} cannot be found at this moment. The shop is looking for it and will call."
    if order.handed_over_at:
        return f"What was left of them went with the {order.thing}." if not order.leftovers_here else ""
    if not order.shirts_logged:
        return ""
    return "All that came in is in the workroom. What is left of each comes back in a bag, with its tags."


def _local(at: datetime | None, shop: Shop) -> str:
    day = _day_of(at, shop)
    return f"{day.day} {day:%b}" if day else ""


def _day_of(at: datetime | None, shop: Shop) -> date | None:
    return at.astimezone(ZoneInfo(shop.time_zone)).date() if at else None
