"""The whole answer: every layout with its cloth, price and date, and what stands in the way."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from planner.brief import Brief
from planner.care import press_batches, wash_loads
from planner.estimate import StageMinutes, stage_minutes
from planner.layout import AS_GIVEN, Layout, LeftOut, check_layout, grid_options, mixed_layout
from planner.price import Costs, Pricing, lines, price
from planner.problems import BadInput, Impossible, Limit, Problem, Undecided
from planner.quilt import Cell, Quilt
from planner.schedule import Promise
from planner.units import Money, show_money

from .answer import Offer, Plan
from .back import back_kind
from .booking import book, minutes_with, order_of, quilter_for, why_not_earlier
from .supplies import supplies_of

MOST_OPTIONS = 4


def plan(
    brief: Brief,
    *,
    today: date,
    limit: Limit | None = None,
    for_the_day: Limit | None = None,
    seed: int = 0,
    found: tuple[Layout, ...] = (),
) -> Plan:
    """Return up to four ways to make the quilt, with minutes, cloth, price and date.

    A quilt laid out in the brief comes first, then layouts `found` before, which come on top of the
    four. `chosen` is the first offer that keeps the day, or the first of all. Work is in whole
    minutes; `today` is the shop's day. A day already past is refused (BadInput). The day is looked for
    within the limit `for_the_day` where one is given.
    """
    if brief.due < today:
        raise BadInput("due", f"{brief.due.isoformat()} is already past.")
    limit = limit or Limit(effort=200)
    layouts, problems = _layouts(brief, found, limit=limit, seed=seed)
    days = for_the_day or limit
    offers = tuple(
        _offer(layout, brief, today=today, limit=limit, for_the_day=days, seed=seed) for layout in layouts
    )
    if not offers:
        return Plan((), None, tuple(problems))
    chosen = next((number for number, offer in enumerate(offers) if _keeps_the_day(offer, brief)), 0)
    return Plan(offers, chosen, (*problems, *offers[chosen].problems))


def answer_drawn(
    brief: Brief, *, today: date, limit: Limit, for_the_day: Limit | None = None, seed: int = 0
) -> Offer:
    """Return what `plan` says of the quilt laid out in the brief, without a look at any other layout."""
    if brief.quilt is None:
        raise BadInput("quilt", "no quilt is laid out in this brief.")
    if brief.due < today:
        raise BadInput("due", f"{brief.due.isoformat()} is already past.")
    layout = _as_laid_out(brief.quilt, brief)
    return _offer(layout, brief, today=today, limit=limit, for_the_day=for_the_day or limit, seed=seed)


def _layouts(
    brief: Brief, found: tuple[Layout, ...], *, limit: Limit, seed: int
) -> tuple[tuple[Layout, ...], list[Problem]]:
    given = (_as_laid_out(brief.quilt, brief),) if brief.quilt else ()
    others, problems = _by_style(brief, found, most=MOST_OPTIONS - len(given), limit=limit, seed=seed)
    return (*given, *found, *others), [] if given or found else problems


def _by_style(
    brief: Brief, found: tuple[Layout, ...], *, most: int, limit: Limit, seed: int
) -> tuple[tuple[Layout, ...], list[Problem]]:
    """Lay the pieces out as it is wished; a mixed layout is searched for only where none was found before."""
    if brief.wish.style == "grid":
        grids = grid_options(brief.bag, brief.wish, most=most, unit=brief.unit)
        return grids.options, list(grids.why_none)
    if brief.wish.style == "mixed":
        mixed = (
            None if found else mixed_layout(brief.bag, brief.wish, limit=limit, seed=seed, unit=brief.unit)
        )
        if isinstance(mixed, Impossible | Undecided):
            return (), list(mixed.problems)
        return (mixed,) if mixed else (), []
    later = Problem(
        f"A {brief.wish.style} layout has to be laid out by hand.",
        ("wish.style",),
        "Give the quilt, or wish for a grid.",
    )
    return (), [later]


def _as_laid_out(quilt: Quilt, brief: Brief) -> Layout:
    used = {cell.piece for cell in quilt.with_pieces()}
    left = [LeftOut(each.id, "Not in this layout.") for each in brief.bag.pieces if each.id not in used]
    cropped = tuple(cell.piece for cell in quilt.with_pieces() if cell.piece and _cuts_into(cell, brief))
    return Layout(quilt, tuple(left), scope=AS_GIVEN, cropped=cropped)


def _cuts_into(cell: Cell, brief: Brief) -> bool:
    print_size, room = brief.bag.piece(cell.piece or "").print_size, cell.room
    across, down = (room.width, room.height) if cell.turn in (0, 180) else (room.height, room.width)
    return print_size.width > across or print_size.height > down


def _offer(
    layout: Layout, brief: Brief, *, today: date, limit: Limit, for_the_day: Limit, seed: int
) -> Offer:
    quilt, bag, shop = layout.quilt, brief.bag, brief.shop
    out = quilter_for(quilt, brief)
    minutes = minutes_with(out, stage_minutes(quilt, bag, shop.standards, history=shop.history))
    supplies = supplies_of(quilt, brief, limit=limit)
    outside = out.charge(quilt.size.area) if out else Money(0, brief.currency)
    costs = _costs(brief, minutes, materials=supplies.cost, outside=outside)
    priced = price(lines(quilt, bag, shop.rules, back=back_kind(quilt, brief)), shop.terms, costs)
    order = order_of(brief, minutes, out=out, today=today)
    promised = book(brief.work, order, limit=for_the_day, seed=seed)
    return Offer(
        layout=layout,
        minutes=minutes,
        cuts=supplies.cuts,
        backing=supplies.backing,
        pricing=priced,
        costs=costs,
        promise=promised,
        batting=supplies.batting,
        interfacing=supplies.interfacing,
        shirts=supplies.shirts,
        given=supplies.given,
        loads=wash_loads(bag.garments),
        presses=press_batches(quilt, bag),
        goes_out=out is not None,
        why_not_earlier=why_not_earlier(brief.work, order, promised),
        problems=(
            *check_layout(layout, bag),
            *_asks_before_cropping(layout),
            *supplies.problems,
            *_earns_less_than_the_aim(priced, brief),
            *_misses_the_day(promised, brief),
        ),
    )


def _costs(brief: Brief, minutes: tuple[StageMinutes, ...], *, materials: Money, outside: Money) -> Costs:
    return Costs(
        materials=materials,
        outside=outside,
        fees=Money(0, brief.currency),
        minutes=sum(each.minutes for each in minutes),
        overhead=brief.shop.overhead,
        aim=brief.shop.aim,
    )


def _asks_before_cropping(layout: Layout) -> Iterator[Problem]:
    for piece in layout.cropped:
        yield Problem(
            f"The block cuts into the print of {piece}.",
            (piece,),
            "Ask first, give it a larger block, or leave it out.",
        )


def _earns_less_than_the_aim(priced: Pricing, brief: Brief) -> Iterator[Problem]:
    if priced.hour is None:
        return
    aim = brief.shop.aim.on(60)
    if priced.hour.minor < aim.minor:
        yield Problem(
            f"It brings {show_money(priced.hour)} an hour, under the aim of {show_money(aim)}.",
            ("price",),
            f"{show_money(priced.net_at_aim)} before tax would bring the aim.",
            {"hour": priced.hour.minor, "aim": aim.minor, "net_at_aim": priced.net_at_aim.minor},
        )


def _misses_the_day(promised: Promise | Impossible | Undecided | None, brief: Brief) -> Iterator[Problem]:
    wanted = brief.due - timedelta(days=brief.buffer)
    if promised is None:
        yield Problem(
            "Nobody is named for the stages, so no day can be promised.", ("shop.steps",), "Name the steps."
        )
    elif isinstance(promised, Impossible | Undecided):
        yield from promised.problems
    else:
        fits = brief.work.origin + timedelta(days=promised.day)
        if fits > wanted:
            yield Problem(
                f"It fits by {fits:%a %-d %b %Y}; it is wanted by {wanted:%a %-d %b %Y}.",
                ("due",),
                "Ask for a later day, take something out of the weeks before, or decline kindly.",
                {"days": (fits - wanted).days},
            )


def _keeps_the_day(offer: Offer, brief: Brief) -> bool:
    return not any(_misses_the_day(offer.promise, brief))
