"""An enquiry answered while she is still on the phone: about how much, and the earliest day to be honest of.

Nothing was measured yet, so every shirt counts as an ordinary tee with one print to keep. The band
runs from the plainest layout to a sashed and bordered one in which every fifth shirt asks for the
dearest extra of the price list (the spread is common practice, not a published figure).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from orders.days.calendar import AT_ONCE, PENCILED, people_of_steps, workers, workload
from orders.days.own_times import rules_with_history
from orders.models import Enquiry, Person, Shop
from orders.quilt.bed_sizes import usual_grid
from planner.brief import Brief, ShopRules
from planner.estimate import StageMinutes, stage_minutes
from planner.layout import Wish, grid_quilt
from planner.layout.grid import Grid
from planner.plan.booking import book, minutes_with, order_of, quilter_for, why_not_earlier
from planner.price import Rule, lines
from planner.problems import Impossible, Limit, Undecided
from planner.quilt import Bag, Binding, Border, Garment, Piece, Quilt
from planner.schedule import NewOrder, Promise, Workload
from planner.units import INCH, Money, Sides, Size, decimals, total

HERE_AFTER = 7  # days until the bag is here, as long as a place stays penciled in
EXTRAS_IN = 5  # one shirt in five asks for something extra
BORDER = Border(Sides(*(4 * INCH,) * 4))
RECKONED = ("quilt", "wall")


@dataclass(frozen=True)
class Days:
    """The earliest day found, the day it cannot be before, and why, in sentences."""

    fits_by: date | None
    not_before: date | None
    why: tuple[str, ...]


def answer_now(enquiry: Enquiry, shop: Shop, *, by: Person) -> None:
    """Reckon an enquiry against the work as it stands today, then write the answer down."""
    enquiry.answer(by=by, **reckon(enquiry, shop))


def reckon(enquiry: Enquiry, shop: Shop) -> dict[str, Any]:
    """Return the answer of an enquiry as its fields; what is not on the price list has no figures."""
    if enquiry.kind not in RECKONED or not enquiry.shirts:
        return {"low": None, "high": None, "fits_by": None, "not_before": None, "minutes": 0, "reasons": []}
    wanted = Size(enquiry.width, enquiry.height) if enquiry.width and enquiry.height else None
    grid = usual_grid(enquiry.shirts, wanted)
    low, high, minutes, days = figures(grid, enquiry, shop)
    return {
        "low": low,
        "high": high,
        "minutes": minutes,
        "laid_width": grid.size.width,
        "laid_height": grid.size.height,
        "fits_by": days.fits_by,
        "not_before": days.not_before,
        "here_by": shop.today() + timedelta(days=HERE_AFTER),
        "reasons": [*on_the_number(enquiry.shirts, grid), *days.why],
    }


def figures(grid: Grid, enquiry: Enquiry, shop: Shop) -> tuple[int, int, int, Days]:
    """Return the band in minor units, the minutes, and the days, all of the larger layout."""
    rules = shop.shop_rules()
    bag = usual_bag(min(enquiry.shirts or 0, grid.cells), dearest_extra(rules.rules))
    plain, rich = laid_out(replace(grid, sashing=None), bag), laid_out(replace(grid, border=BORDER), bag)
    low, high = prices(plain, rich, bag, shop)
    minutes, days = earliest(rich, bag, enquiry, shop=shop, rules=rules)
    return (*band(low, high), minutes, days)


def prices(plain: Quilt, rich: Quilt, bag: Bag, shop: Shop) -> tuple[Money, Money]:
    """Return what the plain layout of ordinary shirts comes to, and the rich one with all extras."""
    rules = shop.shop_rules().rules
    ordinary = Bag(tuple(replace(each, flags=frozenset()) for each in bag.garments), bag.pieces)
    low = total((line.amount for line in lines(plain, ordinary, rules)), shop.currency)
    return low, total((line.amount for line in lines(rich, bag, rules)), shop.currency)


def usual_bag(shirts: int, extra: str) -> Bag:
    """Return so many ordinary tees; every fifth carries `extra`, a word of the price list."""
    garments, pieces = [], []
    for number in range(1, shirts + 1):
        flags = frozenset({extra}) if extra and number % EXTRAS_IN == 0 else frozenset()
        garments.append(Garment(f"S{number}", "tee", {"cotton": Decimal(100)}, flags=flags))
        free = Sides(3 * INCH, 3 * INCH, 5 * INCH, 3 * INCH)
        pieces.append(Piece(f"{number:02d}F", f"S{number}", "front", Size(11 * INCH, 12 * INCH), free))
    return Bag(tuple(garments), tuple(pieces))


def dearest_extra(rules: Sequence[Rule]) -> str:
    """Return the kind or flag of garments that the price list asks most for."""
    extras = [rule for rule in rules if rule.per.startswith("garment:")]
    dearest = max(extras, key=lambda rule: (rule.rate.minor, rule.per), default=None)
    return dearest.per.removeprefix("garment:") if dearest else ""


def laid_out(grid: Grid, bag: Bag) -> Quilt:
    """Return the grid sewn from the bag, with plain blocks where it has more room than shirts."""
    return grid_quilt(
        grid.columns,
        grid.rows,
        grid.block,
        pieces=[piece.id for piece in bag.pieces],
        sashing=grid.sashing,
        borders=grid.borders,
        binding=Binding(),
    )


def band(low: Money, high: Money) -> tuple[int, int]:
    """Return the two ends in minor units, rounded outward to two leading figures or whole units."""
    one = 10 ** decimals(high.currency)
    step = one * 10 ** max(0, len(str(high.minor // one)) - 2)
    return low.minor // step * step, -(-high.minor // step) * step


def earliest(quilt: Quilt, bag: Bag, enquiry: Enquiry, *, shop: Shop, rules: ShopRules) -> tuple[int, Days]:
    """Return the minutes of a quilt and the days it could be ready beside all the work in the room."""
    today = shop.today()
    work = without(enquiry, workload(shop, today=today))
    brief = brief_of(quilt, bag, enquiry, shop=shop, work=work)
    stages, order = asked_of(brief, quilt, today=today + timedelta(days=HERE_AFTER))
    promised = book(brief.work, order, limit=Limit(effort=AT_ONCE), seed=0)
    why = why_not_earlier(brief.work, order, promised)
    return sum(each.minutes for each in stages), days_of(promised, today, why)


def brief_of(quilt: Quilt, bag: Bag, enquiry: Enquiry, *, shop: Shop, work: Workload) -> Brief:
    """Return the brief of a quilt nobody has brought yet."""
    today = shop.today()
    return Brief(
        unit=shop.unit,
        currency=shop.currency,
        bag=bag,
        shelf=(),
        looks={},
        wish=Wish(quilt.size, tolerance=0, blocks=(Size(12 * INCH, 12 * INCH),)),
        shop=replace(rules_with_history(shop), steps=tuple(people_of_steps(shop, workers()).values())),
        work=work,
        due=max(enquiry.needed_by or today + timedelta(days=90), today),
        buffer=shop.cushion_days,
    )


def asked_of(brief: Brief, quilt: Quilt, *, today: date) -> tuple[tuple[StageMinutes, ...], NewOrder | None]:
    """Return the stages a quilt takes and what it asks of the calendar, from `today` on."""
    out, rules = quilter_for(quilt, brief), brief.shop
    stages = minutes_with(out, stage_minutes(quilt, brief.bag, rules.standards, history=rules.history))
    return stages, order_of(brief, stages, out=out, today=today)


def new_order_of(enquiry: Enquiry, shop: Shop, work: Workload) -> NewOrder | None:
    """Return what an enquiry would ask of the calendar; None where its work is not known."""
    if enquiry.kind not in RECKONED or not enquiry.shirts:
        return None
    grid = usual_grid(enquiry.shirts, enquiry.wanted_size)
    bag = usual_bag(min(enquiry.shirts, grid.cells), dearest_extra(shop.shop_rules().rules))
    rich = laid_out(replace(grid, border=BORDER), bag)
    brief = brief_of(rich, bag, enquiry, shop=shop, work=work)
    return asked_of(brief, rich, today=shop.today() + timedelta(days=HERE_AFTER))[1]


def without(enquiry: Enquiry, work: Workload) -> Workload:
    """Return the work without the place this enquiry has penciled in itself."""
    own = f"{PENCILED} {enquiry.pk}"
    return replace(
        work,
        stages=tuple(each for each in work.stages if each.order != own),
        dues=tuple(each for each in work.dues if each.order != own),
    )


def days_of(promised: Promise | Impossible | Undecided | None, origin: date, why: str) -> Days:
    """Return a promise as dates."""
    if isinstance(promised, Promise):
        fits, first = (origin + timedelta(days=day) for day in (promised.day, promised.not_before))
        return Days(fits, first, (why,) if why else ())
    if promised is None:
        return Days(None, None, ("Nobody is named for the stages of the work, so no day can be told.",))
    bound = getattr(promised, "bound", None)
    first_day = origin + timedelta(days=bound) if bound is not None else None
    return Days(None, first_day, tuple(f"{each.what} {each.change}".strip() for each in promised.problems))


def on_the_number(shirts: int, grid: Grid) -> list[str]:
    """Say what the number of shirts means for the size, where the two do not go together."""
    if shirts > grid.cells:
        return [
            f"Some {grid.cells} blocks go into this size, so about {shirts - grid.cells} of the {shirts}"
            " shirts would be left out or share a block."
        ]
    if shirts < grid.cells:
        return [
            f"This size takes some {grid.cells} blocks: {shirts} shirts and {grid.cells - shirts} plain ones,"
            " or second sides of the same shirts."
        ]
    return []


def verdict(enquiry: Enquiry, shop: Shop) -> tuple[str, int]:
    """Return how the days answer the day wanted, and how many days lie between.

    fits, tight (within the shop's cushion), maybe (found too late, not ruled out), cannot,
    open (no day wanted), unknown.
    """
    fits, wanted, first = enquiry.fits_by, enquiry.needed_by, enquiry.not_before
    if wanted is None or (fits is None and first is None):
        return ("open" if fits else "unknown"), 0
    if fits is not None and fits <= wanted:
        spare = (wanted - fits).days
        return ("fits" if spare >= shop.cushion_days else "tight"), spare
    if first is not None and first > wanted:
        return "cannot", (first - wanted).days
    return "maybe", (fits - wanted).days if fits else 0
