"""The cut plan: the cheapest there is, then the shortest, then the one of fewest kinds of strip."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import product

from planner.problems import Impossible, Limit, Problem, Undecided
from planner.quilt.checks import once_each

from .bound import can_never_be_enough, least_to_buy
from .check import check_cuts
from .cloth import Cloth, CutPiece, CutPlan, Item, Ribbon, Strip
from .fills import Fill, Task, all_fills
from .generating import generated_fills
from .search import best_strips
from .table import Lying, Table, joins, laid
from .writing import cut_plan

SCOPE = (
    "strips from selvage to selvage, each as high as one of its pieces or as long as one of the joined "
    "lengths, cut into columns of equal pieces; joined lengths take strip ends, or run along the cloth"
)
STRIPS_ALONE = 1
THOROUGH = 500


def plan_cuts(cloth: Cloth, items: Sequence[Item], *, limit: Limit) -> CutPlan | Impossible | Undecided:
    """Return how to cut the items out of the cloth: least money, then length, then kinds of strip.

    What is on hand is cut first. The bound on `buy` holds for every plan within `scope`. An `effort` of
    1 lays strips widest first and looks no further; each unit more lets the search go on for a hundredth
    of one of its own seconds. Below 500 it stops at the least money, from there on it looks for the least
    length and the fewest kinds of strip too. Leftovers of 4 × 10 in and more are listed.
    """
    once_each("items", (item.name for item in items))
    if cloth.directional and any(item.upright for item in items):
        return _with_standing(cloth, items, limit)
    too_big = tuple(_too_big(cloth, items))
    if too_big:
        return Impossible(too_big)
    in_order = tuple(sorted(items, key=lambda item: item.name))
    places = sorted(range(len(cloth.on_hand)), key=lambda place: (cloth.on_hand[place], place))
    sorted_cloth = replace(cloth, on_hand=tuple(cloth.on_hand[place] for place in places))
    if limit.watch is None and limit.seconds is None:
        answer = _reckoned(sorted_cloth, in_order, limit.effort or STRIPS_ALONE)
    else:
        answer = _plan(sorted_cloth, in_order, _watched(limit, places))
    return _put_back(answer, places) if isinstance(answer, CutPlan) else answer


def _with_standing(cloth: Cloth, items: Sequence[Item], limit: Limit) -> CutPlan | Impossible | Undecided:
    """Cut what stands up the quilt along a one-way print, each in one piece."""
    standing = {item.name for item in items if isinstance(item, Ribbon) and item.upright}
    names = {_upright(item.name): item.name for item in items}
    answer = plan_cuts(
        cloth, [part for item in items for part in _stood_up(item)], limit=replace(limit, watch=None)
    )
    if not isinstance(answer, CutPlan):
        return answer
    strips = tuple(
        replace(
            strip,
            columns=tuple(
                replace(column, item=names.get(column.item, column.item)) for column in strip.columns
            ),
            lengthwise=any(column.item in standing for column in strip.columns),
        )
        for strip in answer.strips
    )
    return replace(answer, strips=strips)


def _stood_up(item: Item) -> Iterator[Item]:
    """The item with what stands upright turned and under a name of its own."""
    if isinstance(item, Ribbon):
        yield CutPiece(item.name, item.width, item.length, 1) if item.upright else item
        return
    if item.upright:
        yield CutPiece(_upright(item.name), item.along, item.across, item.upright)
    if item.count > item.upright:
        yield item.all_but(item.upright)


def _upright(name: str) -> str:
    return f"{name}, upright"


def _put_back(plan: CutPlan, places: Sequence[int]) -> CutPlan:
    """Number what is on hand as it was given."""
    strips = (
        strip if strip.source is None else replace(strip, source=places[strip.source])
        for strip in plan.strips
    )
    return replace(plan, strips=tuple(strips))


def _watched(limit: Limit, places: Sequence[int]) -> Limit:
    watch = limit.watch
    return replace(limit, watch=lambda plan: watch(_put_back(plan, places))) if watch else limit


@lru_cache(maxsize=512)
def _reckoned(cloth: Cloth, items: tuple[Item, ...], effort: int) -> CutPlan | Impossible | Undecided:
    """The same question has the same answer; it is asked again for every paper and page."""
    return _plan(cloth, items, Limit(effort=effort))


def _plan(cloth: Cloth, items: tuple[Item, ...], limit: Limit) -> CutPlan | Impossible | Undecided:
    lying = laid(cloth, items)
    ribbons = [item for item in items if isinstance(item, Ribbon)]
    plan = _first(cloth, lying, ribbons)
    go_on = limit.watch is None or limit.watch(plan) is not False
    if go_on and limit.effort != STRIPS_ALONE and not _is_good_enough(plan, limit):
        plan = _searched(cloth, items, plan, limit)
    if cloth.price is None and plan.buy:
        enough = not can_never_be_enough(cloth, lying, ribbons)
        return _not_found(cloth, items, plan.buy) if enough else _too_little(cloth, items, plan.buy)
    return plan


def _is_good_enough(plan: CutPlan, limit: Limit) -> bool:
    """Say whether no cheaper plan is to be had, and a shorter one is not asked for."""
    return plan.proved and limit.effort is not None and limit.effort < THOROUGH


def _searched(cloth: Cloth, items: tuple[Item, ...], plan: CutPlan, limit: Limit) -> CutPlan:
    """Return the better of a plan and what the search finds, with the search's bound."""
    bought = sum(strip.height for strip in plan.strips if strip.source is None)
    task = Task(cloth, items, bought)
    fills, least = _fills(task)
    if not fills:
        return plan
    found = best_strips(task, fills, limit, least=least)
    bound = max(min(found.least_steps * cloth.step, plan.buy), plan.bound)
    known = cut_plan(cloth, plan.strips, bound=bound, scope=SCOPE)
    if found.strips is None:
        return known
    other = cut_plan(cloth, found.strips, bound=bound, scope=SCOPE)
    if (other.buy, other.used) >= (known.buy, known.used) or check_cuts(cloth, items, other):
        return known
    if limit.watch is not None:
        limit.watch(other)
    return other


def _fills(task: Task) -> tuple[Sequence[Fill], int | None]:
    """Return all fills; or some and the least steps to buy, which then does not follow from the fills."""
    every = all_fills(task)
    if every is not None:
        return every, None
    some = generated_fills(task)
    return (some.fills, task.cloth.to_buy(some.least) // task.cloth.step) if some else ((), None)


def _first(cloth: Cloth, lying: Sequence[Lying], ribbons: Sequence[Ribbon]) -> CutPlan:
    """Return the best of the plans that strips laid widest first give."""
    bound = least_to_buy(cloth, lying, ribbons)
    best: CutPlan | None = None
    for strips in _laid_out(cloth, lying, ribbons):
        plan = cut_plan(cloth, strips, bound=bound, scope=SCOPE)
        if best is None or (plan.buy, plan.used) < (best.buy, best.used):
            best = plan
        if best.proved:
            break
    assert best is not None
    return best


def _laid_out(cloth: Cloth, lying: Sequence[Lying], ribbons: Sequence[Ribbon]) -> Iterator[tuple[Strip, ...]]:
    """Lay strips per order of heights and of on-hand pieces; without any on hand all are alike."""
    heights = sorted({each.along for each in lying} | {each.width for each in ribbons}, reverse=True)
    narrow_first = sorted(range(len(cloth.on_hand)), key=lambda index: cloth.on_hand[index])
    orders = product((narrow_first, narrow_first[::-1]), (heights, heights[::-1]))
    for on_hand, order in orders if narrow_first else [(narrow_first, heights)]:
        table = Table(cloth, on_hand)
        for height in order:
            table.cut_pieces(height, [each for each in lying if each.along == height])
            table.cut_ribbons(height, [each for each in ribbons if each.width == height])
        yield tuple(Strip(each.source, each.at, each.height, tuple(each.columns)) for each in table.strips)


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
    lot = f", dye lot {cloth.lot}," if cloth.lot else ""
    what = f"What is on hand of {cloth.id}{lot} is not enough, and no more of it can be bought."
    return Impossible((_with_ways_out(what, cloth, items, missing),))


def _not_found(cloth: Cloth, items: Sequence[Item], missing: int) -> Undecided:
    what = (
        f"No way was found to cut all this out of what is on hand of {cloth.id}, and no more of it "
        "can be bought; another layout may still do."
    )
    return Undecided((_with_ways_out(what, cloth, items, missing),), bound=0)


def _with_ways_out(what: str, cloth: Cloth, items: Sequence[Item], missing: int) -> Problem:
    more = "Give the cloth a price if more can be bought"
    if cloth.lot:
        more = f"Look for more of lot {cloth.lot}"
    change = (
        f"{more}, use another cloth for whole parts that do not lie beside this one, "
        "or make those parts narrower or fewer."
    )
    return Problem(what, (cloth.id, *sorted(item.name for item in items)), change, {"missing": missing})
