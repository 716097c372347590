"""The ways an enquiry could be taken, told while she is on the phone: each with its band and its day.

The page has its first answer at once; this looks longer, in the background, and writes an earlier day
down where it finds one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

from orders.account.chosen_way import OUTSIDE, PLACE, RUSH, rules_for, work_for
from orders.background import errands
from orders.customer import enquiries
from orders.customer.enquiries import Days
from orders.days.calendar import AT_ONCE, cushions, fingerprint_of, workload
from orders.models import Enquiry, Errand, Shop
from orders.models.design import fingerprint
from orders.models.errand import STILL_OPEN
from orders.quilt.bed_sizes import usual_grid
from planner.plan.booking import book, why_not_earlier
from planner.problems import BadInput, Limit
from planner.quilt import Bag, Quilt
from planner.schedule import NewOrder, Promise, Workload, options, usual_effort
from planner.units import INCH, Money, Size

KIND = "ways to take an enquiry"
SMALLER, LATER = "smaller", "later"
NAMES = {PLACE: "In its place", RUSH: "Rush, ahead of the others", OUTSIDE: "With the quilter outside",
         SMALLER: "Smaller, without a border", LATER: "Later, with a card for the day"}  # fmt: skip
LESS_CLOTH = 6 * INCH  # a border of that little makes no smaller layout


@dataclass(frozen=True)
class Way:
    """One way as it is asked of the calendar: the work beside it, the order, its band in minor units."""

    work: Workload
    new: NewOrder
    band: tuple[int, int]


def look(enquiry: Enquiry, shop: Shop) -> Errand | None:
    """Begin to look, unless the same is looked for already or was found; None where no day can be told."""
    if enquiry.kind not in enquiries.RECKONED or not enquiry.shirts or enquiry.order_id:
        return None
    question = question_of(enquiry, shop)
    last = Errand.objects.about(KIND, str(enquiry.pk)).first()
    if last is not None and last.payload.get("question") == question and (last.is_open or _is_done(last)):
        return last
    number = Errand.objects.about(KIND, str(enquiry.pk)).exclude(state__in=STILL_OPEN).count()
    return errands.send(
        KIND, key=f"{enquiry.pk} {number} {question}", cause=enquiry.name[:120],
        payload={"enquiry": enquiry.pk, "question": question},
    )  # fmt: skip


def _is_done(search: Errand) -> bool:
    return search.state == Errand.State.DONE


def search_of(enquiry: Enquiry) -> Errand | None:
    """Return the last search for an enquiry's ways."""
    return Errand.objects.about(KIND, str(enquiry.pk)).first()


def found_by(search: Errand | None, *, today: date) -> list[dict[str, Any]]:
    """Return the ways a search has found by now; those of another day are told no more."""
    if search is None or search.payload.get("day") != today.isoformat():
        return []
    return list(search.payload["ways"])


def question_of(enquiry: Enquiry, shop: Shop) -> str:
    """Return what names the question: what was asked, the rules, and the work and hours as they stand."""
    work = enquiries.without(enquiry, workload(shop, today=shop.today()))
    asked = [enquiry.shirts, enquiry.width, enquiry.height, str(enquiry.needed_by), shop.rules]
    return fingerprint({"asked": asked, "work": fingerprint_of(work)})[:16]


@errands.errand(KIND, seconds=90, megabytes=500, waited_for=True)
def find(taken: Errand) -> str:
    """Look for each way in turn and keep it as soon as it is known."""
    enquiry, shop = Enquiry.objects.get(pk=taken.payload["enquiry"]), Shop.objects.get()
    found: list[dict[str, Any]] = []
    try:
        for way in ways(enquiry, shop):
            found.append(way)
            taken.keep(f"{len(found)} found so far.", ways=found, day=shop.today().isoformat())
    except BadInput as fault:
        raise errands.CannotBeDone(f"It cannot be reckoned: {fault.message}") from fault
    return f"{len(found)} way{'' if len(found) == 1 else 's'} found."


def ways(enquiry: Enquiry, shop: Shop) -> Iterator[dict[str, Any]]:
    """Yield each way as plain facts: name, words, band, days."""
    asked = asked_ways(enquiry, shop)
    if PLACE not in asked:
        return
    limit = Limit(effort=usual_effort(asked[PLACE].work))
    first: Promise | None = None
    for key, told in options({key: (way.work, way.new) for key, way in asked.items()}, limit=limit):
        way, promise = asked[key], told if isinstance(told, Promise) else None
        if key == PLACE:
            promise = first = _no_later_than_at_once(way, promise)
            tell_an_earlier_day(enquiry, way, promise)
        yield _facts(key, way, promise, _words(key, shop, promise, first))
    if first is not None and enquiry.needed_by and _date(asked[PLACE], first.day) > enquiry.needed_by:
        yield _facts(LATER, asked[PLACE], first, "A card is there on the day; the quilt follows.")


def _no_later_than_at_once(way: Way, promise: Promise | None) -> Promise | None:
    """A short search may be lucky where a long one is not; the earlier day of the two is told."""
    quick = book(way.work, way.new, limit=Limit(effort=AT_ONCE), seed=0)
    if isinstance(quick, Promise) and (promise is None or quick.day < promise.day):
        return quick
    return promise


def tell_an_earlier_day(enquiry: Enquiry, way: Way, promise: Promise | None) -> None:
    """Write the day down where looking longer found another one, with why it cannot be before."""
    if promise is None:
        return
    told = enquiries.days_of(promise, way.work.origin, why_not_earlier(way.work, way.new, promise))
    enquiry.refresh_from_db()
    if (told.fits_by, told.not_before) != (enquiry.fits_by, enquiry.not_before) and not enquiry.order_id:
        enquiry.answer(
            by=None, fits_by=told.fits_by, not_before=told.not_before, reasons=_reasons(enquiry, told)
        )


def _reasons(enquiry: Enquiry, told: Days) -> list[str]:
    grid = usual_grid(enquiry.shirts or 0, enquiry.wanted_size)
    return [*enquiries.on_the_number(enquiry.shirts or 0, grid), *told.why]


def asked_ways(enquiry: Enquiry, shop: Shop) -> dict[str, Way]:
    """Return what each way asks of the calendar; a way the shop does not have is left out."""
    grid = usual_grid(enquiry.shirts or 0, enquiry.wanted_size)
    bag = enquiries.usual_bag(
        min(enquiry.shirts or 0, grid.cells), enquiries.dearest_extra(shop.shop_rules().rules)
    )
    rich = enquiries.laid_out(replace(grid, border=enquiries.BORDER), bag)
    plain = enquiries.laid_out(replace(grid, sashing=None, border=None), bag)
    asked = {PLACE: (plain, rich, PLACE), RUSH: (plain, rich, RUSH)}
    out = shop.shop_rules().quilter
    if out is not None and max(rich.size.width, rich.size.height) <= out.over:
        asked[OUTSIDE] = (plain, rich, OUTSIDE)
    if _is_smaller(plain.size, rich.size):
        asked[SMALLER] = (plain, plain, PLACE)
    work = enquiries.without(enquiry, workload(shop, today=shop.today()))
    found = {
        key: _way(enquiry, shop, (quilts[0], quilts[1], bag, work), quilts[2])
        for key, quilts in asked.items()
    }
    return {key: way for key, way in found.items() if way is not None}


def _is_smaller(plain: Size, rich: Size) -> bool:
    return plain.width + LESS_CLOTH <= rich.width


def _way(enquiry: Enquiry, shop: Shop, made: tuple[Quilt, Quilt, Bag, Workload], taken: str) -> Way | None:
    plain, quilt, bag, work = made
    brief = enquiries.brief_of(quilt, bag, enquiry, shop=shop, work=work_for(work, taken, cushions(shop)))
    brief = replace(brief, shop=rules_for(brief.shop, taken))
    here = shop.today() + timedelta(days=enquiries.HERE_AFTER)
    _, new = enquiries.asked_of(brief, quilt, today=here)
    if new is None:
        return None
    low, high = enquiries.prices(plain, quilt, bag, shop)
    rush = 1 + Fraction(brief.shop.terms.rush if taken == RUSH else Decimal(0))
    return Way(brief.work, new, enquiries.band(_times(low, rush), _times(high, rush)))


def _times(amount: Money, factor: Fraction) -> Money:
    return Money(-(-amount.minor * factor.numerator // factor.denominator), amount.currency)


def _words(key: str, shop: Shop, promise: Promise | None, first: Promise | None) -> str:
    if promise is None:
        return "No day was found."
    out = shop.shop_rules().quilter
    if key == OUTSIDE and out is not None:
        return f"Away for {out.days} days; your frame stays free."
    if key == RUSH:
        late = first is not None and promise.day >= first.day
        return "Not sooner than in its place." if late else "Uses up days kept free before other quilts."
    if key == SMALLER:
        return "The same shirts, edge to edge."
    return "Your hours, no overtime; every other quilt keeps its day."


def _facts(key: str, way: Way, promise: Promise | None, words: str) -> dict[str, Any]:
    return {
        "key": key,
        "name": NAMES[key],
        "words": words,
        "low": way.band[0],
        "high": way.band[1],
        "fits": _date(way, promise.day).isoformat() if promise else None,
        "not_before": _date(way, promise.not_before).isoformat() if promise else None,
    }


def _date(way: Way, day: int) -> date:
    return way.work.date_of(day)
