"""The cutting list of a quilt's cloth: which strips, how high, and what is cut out of each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from orders.bench.top_size import parts_as_sewn
from orders.cloth.cut_sheets import CutSheets
from orders.models import Cloth, Order, Shop
from orders.planning import EFFORT, cloth_of, gives_of
from planner import materials
from planner.materials import CutPlan, Item, Strip, parts, share_out
from planner.problems import Limit, Problem
from planner.quilt import Quilt

ROLES_IN_WORDS = {
    "filler": "fillers",
    "frame": "frames",
    "cornerstone": "cornerstones",
    "border": "border",
    "sleeve": "sleeve and label",
}


@dataclass(frozen=True)
class StripLine:
    """Strips that are all cut alike: `cuts` are (how many, of what, how wide) of each strip."""

    count: int
    height: int
    cuts: tuple[tuple[int, str, int], ...]
    is_new: bool
    lengthwise: bool


@dataclass(frozen=True)
class ClothCuts:
    """One cloth: the strips to cut, for which roles; or the sentence that says why there are none."""

    cloth: str
    roles: tuple[str, ...]
    lines: tuple[StripLine, ...] = ()
    used: int = 0
    buy: int = 0
    why_none: str = ""
    plan: CutPlan | None = None
    facts: materials.Cloth | None = None
    keys: tuple[str, ...] = ()


def cutting_list(quilt: Quilt, shop: Shop, cloths: Iterable[Cloth], *, order: Order) -> list[ClothCuts]:
    """Return how each chosen cloth is cut."""
    cloths = list(cloths)
    shelf = {cloth.name: cloth_of(cloth, shop, order=order) for cloth in cloths}
    allowances = shop.shop_rules().allowances
    items: dict[Any, tuple[Item, ...]] = dict(parts(quilt, allowances=allowances))
    items |= parts_as_sewn(order, quilt, allowances)
    found, sheets = [], CutSheets(order)
    for role, name in sorted(gives_of(order, cloths).items()):
        shared = share_out(shelf[name], items.get(role, ()), limit=Limit(effort=EFFORT))
        if shared.plan is not None:
            found.append(_as_planned(shelf[name], (role,), shared.plan))
            items[role] = shared.rest
    items = {role: each for role, each in items.items() if each}
    for name in sorted({quilt.cloth[role] for role in items if role in quilt.cloth}):
        keys = tuple(role for role in items if quilt.cloth.get(role) == name)
        roles = tuple(ROLES_IN_WORDS.get(role, role) for role in keys)
        wanted = tuple(item for role in keys for item in items[role])
        if name not in shelf:
            found.append(ClothCuts(name, roles, why_none="This cloth is not on the shelf any more."))
            continue
        answer = sheets.plan(shelf[name], wanted)
        if isinstance(answer, CutPlan):
            found.append(_as_planned(shelf[name], keys, answer))
        else:
            found.append(ClothCuts(name, roles, why_none=_why_none(answer.problems[0])))
    return found


def _why_none(problem: Problem) -> str:
    """Say what is in the way, and each way out of it."""
    return f"{problem.what} {problem.change}".strip()


def _as_planned(cloth: materials.Cloth, keys: tuple[str, ...], plan: CutPlan) -> ClothCuts:
    roles = tuple(ROLES_IN_WORDS.get(role, role) for role in keys)
    lines = lines_of(plan.strips)
    return ClothCuts(cloth.id, roles, lines, plan.used, plan.buy, plan=plan, facts=cloth, keys=keys)


def lines_of(strips: Iterable[Strip]) -> tuple[StripLine, ...]:
    """Return the strips with those that are cut alike on one line, in the order they are cut."""
    alike: dict[StripLine, int] = {}
    for strip in strips:
        found: dict[tuple[str, int], int] = {}
        for column in strip.columns:
            what = (column.item, column.across)
            found[what] = found.get(what, 0) + column.count
        cuts = tuple((many, item, across) for (item, across), many in found.items())
        line = StripLine(1, strip.height, cuts, strip.source is None, strip.lengthwise)
        alike[line] = alike.get(line, 0) + 1
    return tuple(replace(line, count=count) for line, count in alike.items())


def without_cloth(quilt: Quilt, shop: Shop) -> list[str]:
    """Return the roles nobody chose a cloth for."""
    items = parts(quilt, allowances=shop.shop_rules().allowances)
    return [ROLES_IN_WORDS.get(role, role) for role in items if role not in quilt.cloth]
