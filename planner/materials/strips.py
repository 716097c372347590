"""The cut plan: whole strips over the cloth's width, what is on hand first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from planner.problems import Impossible, Limit, Problem, Undecided
from planner.quilt.checks import once_each
from planner.units import INCH, Size

from .bound import can_never_be_enough, least_to_buy
from .cloth import Cloth, CutPiece, CutPlan, Item, Ribbon, Strip
from .table import Lying, Table, joins, laid

SCOPE = (
    "whole strips from selvage to selvage, each as high as its pieces; "
    "joined lengths take strip ends; pieces free to turn lie all one way"
)
WORTH_KEEPING = Size(10 * INCH, 4 * INCH)


def plan_cuts(cloth: Cloth, items: Sequence[Item], *, limit: Limit) -> CutPlan | Impossible | Undecided:
    """Return how to cut the items out of the cloth, buying as little as this method can.

    What is on hand is cut first. The bound on `buy` holds for every plan within `scope`. `effort`
    counts the plans tried, at most four; `seconds` is not looked at, they take milliseconds.
    Leftovers of 4 × 10 in and more are listed.
    """
    once_each("items", (item.name for item in items))
    lying = laid(cloth, items)
    ribbons = [item for item in items if isinstance(item, Ribbon)]
    too_big = tuple(_too_big(cloth, items))
    if too_big:
        return Impossible(too_big)
    bound = least_to_buy(cloth, lying, ribbons)
    plan = _best(_plans(cloth, lying, ribbons, bound), limit)
    if cloth.price is None and plan.buy:
        enough = not can_never_be_enough(cloth, lying, ribbons)
        return _not_found(cloth, items, plan.buy) if enough else _too_little(cloth, items, plan.buy)
    return plan


def _best(plans: Iterator[CutPlan], limit: Limit) -> CutPlan:
    best = next(plans)
    tried = 1
    go_on = limit.watch is None or limit.watch(best) is not False
    while go_on and not best.proved and (limit.effort is None or tried < limit.effort):
        plan = next(plans, None)
        if plan is None:
            break
        tried += 1
        if (plan.buy, plan.used) < (best.buy, best.used):
            best = plan
            go_on = limit.watch is None or limit.watch(best) is not False
    return best


def _plans(cloth: Cloth, lying: Sequence[Lying], ribbons: Sequence[Ribbon], bound: int) -> Iterator[CutPlan]:
    """Yield a plan per order of heights and of on-hand pieces; without any on hand all are alike."""
    heights = sorted({each.along for each in lying} | {each.width for each in ribbons}, reverse=True)
    narrow_first = sorted(range(len(cloth.on_hand)), key=lambda index: cloth.on_hand[index])
    orders = product((narrow_first, narrow_first[::-1]), (heights, heights[::-1]))
    for on_hand, order in orders if narrow_first else [(narrow_first, heights)]:
        table = Table(cloth, on_hand)
        for height in order:
            table.cut_pieces(height, [each for each in lying if each.along == height])
            table.cut_ribbons(height, [each for each in ribbons if each.width == height])
        yield _written_down(cloth, table, bound)


def _written_down(cloth: Cloth, table: Table, bound: int) -> CutPlan:
    bought = sum(strip.height for strip in table.strips if strip.source is None)
    buy = cloth.in_steps(bought)
    return CutPlan(
        strips=tuple(Strip(each.source, each.at, each.height, tuple(each.columns)) for each in table.strips),
        used=sum(strip.height for strip in table.strips),
        buy=buy,
        cost=cloth.cost_of(buy),
        bound=bound,
        proved=bound == buy,
        scope=SCOPE,
        leftovers=tuple(_leftovers(cloth, table, buy)),
    )


def _leftovers(cloth: Cloth, table: Table, buy: int) -> list[Size]:
    found = [Size(strip.left, strip.height) for strip in table.strips]
    for index in {strip.source for strip in table.strips}:
        used = sum(strip.height for strip in table.strips if strip.source == index)
        width, length = _extent(cloth, index, buy)
        found.append(Size(width, length - used))
    return sorted(filter(_is_worth_keeping, found), key=lambda size: (-size.area, size))


def _extent(cloth: Cloth, index: int | None, buy: int) -> tuple[int, int]:
    if index is None:
        return cloth.usable, buy
    return min(cloth.on_hand[index].width, cloth.usable), cloth.on_hand[index].height


def _is_worth_keeping(size: Size) -> bool:
    short, long = sorted((size.width, size.height))
    return short >= WORTH_KEEPING.height and long >= WORTH_KEEPING.width


def _too_big(cloth: Cloth, items: Sequence[Item]) -> Iterator[Problem]:
    widest = cloth.widest
    for item in sorted(items, key=lambda item: item.name):
        if isinstance(item, CutPiece) and _narrowest_way(cloth, item) > widest:
            yield Problem(
                f"“{item.name}” is wider than the usable width of {cloth.id}.",
                (cloth.id, item.name),
                "Take a wider cloth, put the piece together from two, or plan it smaller.",
                {"piece": _narrowest_way(cloth, item), "usable": widest},
            )
        if isinstance(item, Ribbon) and not joins(item, widest):
            yield Problem(
                f"{cloth.id} is too narrow for “{item.name}”: its strips would be lost in the joins.",
                (cloth.id, item.name),
                "Take a wider cloth, or allow shorter ends and straight joins.",
                {"least end": item.least_end, "join": item.loss, "usable": widest},
            )


def _narrowest_way(cloth: Cloth, piece: CutPiece) -> int:
    may_turn = not piece.keep_grain and not cloth.directional
    return min(piece.across, piece.along) if may_turn else piece.across


def _too_little(cloth: Cloth, items: Sequence[Item], missing: int) -> Impossible:
    what = f"What is on hand of {cloth.id} is not enough, and no more of it can be bought."
    return Impossible((_with_ways_out(what, cloth, items, missing),))


def _not_found(cloth: Cloth, items: Sequence[Item], missing: int) -> Undecided:
    what = (
        f"No way was found to cut all this out of what is on hand of {cloth.id}, and no more of it "
        "can be bought; another layout may still do."
    )
    return Undecided((_with_ways_out(what, cloth, items, missing),), bound=0)


def _with_ways_out(what: str, cloth: Cloth, items: Sequence[Item], missing: int) -> Problem:
    change = (
        "Give the cloth a price if more can be bought, use another cloth for some of the parts, "
        "or make those parts narrower or fewer."
    )
    return Problem(what, (cloth.id, *sorted(item.name for item in items)), change, {"missing": missing})
