"""The ways an order can be taken, each with its price and its day: looked for in the background, told one
by one. What was found stands while the layout and the day stay as they were."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from orders import planning
from orders.account import quoting
from orders.account.chosen_way import OUTSIDE, PLACE, RUSH
from orders.background import errands
from orders.days.calendar import fingerprint_of, workload
from orders.models import Errand, Order, Shop
from orders.models.design import fingerprint
from orders.models.errand import STILL_OPEN
from orders.templatetags.shop import hours
from planner.brief import Brief, as_json
from planner.plan import Offer, answer_drawn, plan
from planner.plan.booking import order_of, quilter_for
from planner.price import Pricing
from planner.problems import BadInput, Limit
from planner.quilt import Quilt
from planner.schedule import NewOrder, Promise, Workload, make_timetable, options, promise, usual_effort

KIND = "ways to take an order"
LAID_OUT_WITH = 40  # steps to find a smaller layout; its day is looked for like the others
NOT_NEEDED = "Not sooner than in its place, so it is not needed here."
NAMES = {PLACE: "In its place", RUSH: "Rush, ahead of the others", OUTSIDE: "With the quilter outside",
         "smaller": "A smaller layout", "later": "Later, with a card for the day"}  # fmt: skip


def look(order: Order, shop: Shop) -> Errand:
    """Begin to look, unless the same is looked for already or was found for the work as it stands."""
    last = search_of(order, shop)
    if last is not None and (last.is_open or last.state == Errand.State.DONE):
        return last
    number = Errand.objects.about(KIND, str(order.pk)).exclude(state__in=STILL_OPEN).count()
    question = question_of(order, shop)
    return errands.send(
        KIND, key=f"{order.pk} {number} {question}", cause=str(order)[:120],
        payload={"order": order.pk, "question": question},
    )  # fmt: skip


def last_search(order: Order) -> Errand | None:
    """Return the last search, whatever it was about."""
    return Errand.objects.about(KIND, str(order.pk)).first()


def search_of(order: Order, shop: Shop) -> Errand | None:
    """Return the last search that is about the order and the work beside it as they stand today."""
    last = last_search(order)
    same = last is not None and last.payload.get("question") == question_of(order, shop)
    return last if same else None


def question_of(order: Order, shop: Shop) -> str:
    """Return what names the question: the layout, the day wanted, the rules, and the work from today on."""
    quilt = quoting.quilt_of(order)
    drawn = as_json(quilt) if quilt else None
    work = fingerprint_of(workload(shop, today=shop.today(), but=order))
    asked = [drawn, str(order.needed_by), order.cushion(), shop.rules, work]
    return fingerprint({"asked": asked})[:16]


@errands.errand(KIND, seconds=90, megabytes=700, waited_for=True)
def find(taken: Errand) -> str:
    """Look for each way in turn and keep it as soon as it is known."""
    order, shop = Order.objects.get(pk=taken.payload["order"]), Shop.objects.get()
    quilt = quoting.quilt_of(order)
    if quilt is None or question_of(order, shop) != taken.payload["question"]:
        raise errands.CannotBeDone(
            "The layout, the day, the rules or the weeks changed meanwhile. Look again."
        )
    found: list[dict[str, Any]] = []
    try:
        for way in ways(order, shop, quilt):
            found.append(way)
            taken.keep(f"{len(found)} found so far.", ways=found)
    except BadInput as fault:
        raise errands.CannotBeDone(f"The order cannot be reckoned: {fault.message}") from fault
    return f"{len(found)} way{'' if len(found) == 1 else 's'} found."


def ways(order: Order, shop: Shop, quilt: Quilt) -> Iterator[dict[str, Any]]:
    """Yield each way as plain facts: name, words, price before tax, hour, and days."""
    names = [PLACE, RUSH] + ([OUTSIDE] if _may_go_out(shop, quilt) else [])
    asked = {name: _asked(order, shop, quilt, name) for name in names}
    booked = {name: (brief.work, new) for name, (brief, _, new) in asked.items() if new is not None}
    first = None
    for name, told in options(booked, limit=usual_limit(asked[PLACE][0].work)):
        brief, offer, _ = asked[name]
        day = told if isinstance(told, Promise) else None
        first = first or day
        words = NOT_NEEDED if name == RUSH and first and day and day.day >= first.day else ""
        yield _facts(name, brief, offer, day, words=words) | _price(quoting.priced(offer, brief, order, shop))
    brief, offer, _ = asked[PLACE]
    others = [*_later(order, brief, offer, first), *_smaller(order, shop, offer)]
    for facts, brief, offer in others:
        yield facts | _price(quoting.priced(offer, brief, order, shop))


def usual_limit(work: Workload) -> Limit:
    """Return how long a day that is told is looked for: so long that it is mostly exact."""
    return Limit(effort=usual_effort(work))


def _may_go_out(shop: Shop, quilt: Quilt) -> bool:
    out = shop.shop_rules().quilter
    return out is not None and max(quilt.size.width, quilt.size.height) <= out.over


def _asked(order: Order, shop: Shop, quilt: Quilt, way: str) -> tuple[Brief, Offer, NewOrder | None]:
    brief = planning.brief_for(order, shop, drawn=quilt, way=way)
    offer = answer_drawn(brief, today=shop.today(), limit=Limit(effort=1))
    new = order_of(brief, offer.minutes, out=quilter_for(quilt, brief), today=shop.today())
    return brief, offer, new


def _facts(
    name: str, brief: Brief, offer: Offer, promise: Promise | None, *, words: str = ""
) -> dict[str, Any]:
    return {
        "key": name,
        "name": NAMES[name],
        "fits": _iso(brief, promise.day) if promise else None,
        "not_before": _iso(brief, promise.not_before) if promise else None,
        "undisturbed": _iso(brief, promise.undisturbed) if promise and name == PLACE else None,
        "words": words or _words(name, brief, promise),
    }


def _price(pricing: Pricing) -> dict[str, int | None]:
    return {"net": pricing.net.minor, "hour": pricing.hour.minor if pricing.hour else None}


def _iso(brief: Brief, day: int | None) -> str | None:
    return None if day is None else (brief.work.origin + timedelta(days=day)).isoformat()


def _words(name: str, brief: Brief, promise: Promise | None) -> str:
    if promise is None:
        return "No day was found."
    if name == OUTSIDE and brief.shop.quilter is not None:
        return f"Away for {brief.shop.quilter.days} days; your frame stays free."
    if name == RUSH:
        used = pushed(brief.work, promise)
        if not used:
            return "No other quilt is ready later for it."
        return f"Uses up days kept free before {used} other quilt{'' if used == 1 else 's'}."
    return "Your hours, no overtime; every other quilt keeps its day."


def pushed(work: Workload, promise: Promise) -> int:
    """Return how many other quilts are ready later than they would be without this one."""
    alone = make_timetable(work, limit=Limit(effort=1))
    return sum(promise.timetable.finish.get(due.order, 0) > alone.finish[due.order]
               for due in work.dues if due.firm and due.order in alone.finish)  # fmt: skip


Told = tuple[dict[str, Any], Brief, Offer]


def _later(order: Order, brief: Brief, offer: Offer, promise: Promise | None) -> Iterator[Told]:
    """A quilt that does not fit before her day can follow it, with a card to hand over on the day itself."""
    wanted = (brief.due - brief.work.origin).days - brief.buffer
    if order.needed_by and promise is not None and promise.day > wanted:
        words = "The card with the picture is there on the day; the quilt follows."
        yield _facts("later", brief, offer, promise, words=words), brief, offer


def _smaller(order: Order, shop: Shop, drawn: Offer) -> Iterator[Told]:
    """The layout on offer that takes the least work, where it is less than the one drawn."""
    brief = planning.brief_for(order, shop, way=PLACE)
    found = plan(brief, today=shop.today(), limit=Limit(effort=LAID_OUT_WITH)).options
    least = min(found, key=_minutes, default=None)
    if least is not None and _minutes(least) < _minutes(drawn):
        quilt = least.layout.quilt
        new = order_of(brief, least.minutes, out=quilter_for(quilt, brief), today=shop.today())
        told = promise(brief.work, new, limit=usual_limit(brief.work)) if new else None
        saved = _minutes(drawn) - _minutes(least)
        words = f"{hours(saved)} less work. Choose it in the Quilt room."
        day = told if isinstance(told, Promise) else None
        yield _facts("smaller", brief, least, day, words=words), brief, least


def _minutes(offer: Offer) -> int:
    return sum(each.minutes for each in offer.minutes)


def day_of(written: str | None) -> date | None:
    """Return a day that was kept as text."""
    return date.fromisoformat(written) if written else None


def days_found(search: Errand, way: str) -> tuple[date, date] | None:
    """Return the day by which a way fits and the one it cannot be before, as a search has found them."""
    told = {each["key"]: each for each in search.payload.get("ways", [])}.get(way)
    if told is None or not told["fits"]:
        return None
    return date.fromisoformat(told["fits"]), date.fromisoformat(told["not_before"])
