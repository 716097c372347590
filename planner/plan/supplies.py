"""What one layout takes in cloth: cut plans, backing, batting, interfacing, and what they cost."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from planner.brief import Brief
from planner.materials import (
    BackingOption,
    BattingOption,
    Cloth,
    CutPiece,
    CutPlan,
    InterfacingOption,
    Item,
    Pack,
    ShirtCut,
    backing_options,
    batting_options,
    behind_strips,
    interfacing_options,
    measured_parts,
    measured_size,
    parts,
    plan_cuts,
    share_out,
    shirt_cuts,
)
from planner.problems import Impossible, Limit, Problem
from planner.quilt import Quilt, Role
from planner.units import Money, Size, total

from .booking import quilter_for

BACKING_KINDS = ("backing", "plush")

Option = TypeVar("Option", BackingOption, BattingOption, InterfacingOption)


@dataclass(frozen=True)
class Supplies:
    """Everything a layout takes, what it would cost new, and what could not be settled."""

    cuts: Mapping[Role, CutPlan]
    backing: tuple[BackingOption, ...]
    batting: tuple[BattingOption, ...]
    interfacing: tuple[InterfacingOption, ...]
    shirts: tuple[ShirtCut, ...]
    cost: Money
    problems: tuple[Problem, ...]
    given: Mapping[Role, CutPlan] = field(default_factory=dict)


def supplies_of(quilt: Quilt, brief: Brief, *, limit: Limit) -> Supplies:
    """Return the supplies of a laid-out quilt.

    The cost counts cloth from the shelf at its price: it has to be bought again.
    """
    given, size = brief.shop.allowances, sewn_size(quilt, brief)
    shirts = shirt_cuts(quilt, brief.bag, rough=given.rough)
    items, garments = _after_garments(brief, _items(quilt, brief), limit)
    cuts, problems = _cut_plans(quilt, brief, items, limit)
    backing = backing_options(
        size,
        _backing_cloths(quilt, brief),
        overhang=given.back_beyond(brief.quilted, goes_out=quilter_for(quilt, brief) is not None),
        seam_loss=given.seam_loss,
        least_panel=given.least_panel,
    )
    batting = batting_options(size, _battings(brief), overhang=given.batting_overhang)
    behind = _behind(quilt, brief, cuts, garments)
    interfacing = interfacing_options(
        shirts, brief.shelf, limit=limit, over=given.interfacing_over, behind=behind
    )
    ways = (_found(backing, problems), _found(batting, problems), _found(interfacing, problems))
    firsts: list[BackingOption | InterfacingOption] = [*ways[0][:1], *_first_of_each_kind(ways[2])]
    used = {quilt.cloth[role]: plan.used for role, plan in cuts.items()}
    lengths = [*sorted(used.items()), *((option.cloth, option.length) for option in firsts)]
    return Supplies(
        cuts=cuts,
        backing=ways[0],
        batting=ways[1],
        interfacing=ways[2],
        shirts=shirts,
        cost=total([*_as_new(brief, lengths), *_batting_cost(brief, size, ways[1])], brief.currency),
        problems=(*problems, *_roles_without_cloth(quilt, items)),
        given=garments,
    )


def sewn_size(quilt: Quilt, brief: Brief) -> Size:
    """Return the finished size: as it was measured, where it is the quilt that was sewn; else as drawn."""
    return measured_size(quilt, brief.measured) if quilt == brief.quilt else quilt.size


def items_by_cloth(quilt: Quilt, brief: Brief, *, limit: Limit) -> Mapping[str, tuple[Item, ...]]:
    """Return what is cut from each cloth, once garments have given what they give."""
    items, _ = _after_garments(brief, _items(quilt, brief), limit)
    ids = sorted({quilt.cloth[role] for role in items if role in quilt.cloth})
    return {id: _together(items, [role for role in items if quilt.cloth.get(role) == id]) for id in ids}


def _items(quilt: Quilt, brief: Brief) -> Mapping[Role, tuple[Item, ...]]:
    given = brief.shop.allowances
    drawn = parts(quilt, allowances=given)
    if quilt != brief.quilt:
        return drawn
    return {**drawn, **measured_parts(quilt, brief.measured, allowances=given)}


def _after_garments(
    brief: Brief, items: Mapping[Role, tuple[Item, ...]], limit: Limit
) -> tuple[Mapping[Role, tuple[Item, ...]], Mapping[Role, CutPlan]]:
    """Take off what garments give; a role they give whole needs no other cloth."""
    shelf = {cloth.id: cloth for cloth in brief.shelf}
    left, garments = dict(items), {}
    for role, id in sorted(brief.gives.items()):
        shared = share_out(shelf[id], items.get(role, ()), limit=limit)
        if shared.plan is not None:
            garments[role] = shared.plan
            left[role] = shared.rest
    return {role: each for role, each in left.items() if each}, garments


def _behind(
    quilt: Quilt, brief: Brief, cuts: Mapping[Role, CutPlan], garments: Mapping[Role, CutPlan]
) -> Mapping[str, tuple[CutPiece, ...]]:
    """Return what is fused behind strips of stretchy or thin cloth, by its kind; a binding needs none."""
    shelf = {cloth.id: cloth for cloth in brief.shelf}
    plans = {quilt.cloth[role]: plan for role, plan in cuts.items() if role != "binding"}
    named = [(id, plan, id) for id, plan in plans.items()]
    named += [(brief.gives[role], plan, role) for role, plan in garments.items()]
    found: dict[str, tuple[CutPiece, ...]] = {}
    for id, plan, name in named:
        pieces = behind_strips(plan, shelf[id], name=name)
        if pieces:
            found[shelf[id].fuse] = (*found.get(shelf[id].fuse, ()), *pieces)
    return found


def _found(answer: tuple[Option, ...] | Impossible, problems: list[Problem]) -> tuple[Option, ...]:
    if isinstance(answer, Impossible):
        problems += answer.problems
        return ()
    return answer


def _first_of_each_kind(options: tuple[InterfacingOption, ...]) -> tuple[InterfacingOption, ...]:
    return tuple({option.way: option for option in reversed(options)}.values())


def _cut_plans(
    quilt: Quilt, brief: Brief, items: Mapping[Role, tuple[Item, ...]], limit: Limit
) -> tuple[dict[Role, CutPlan], list[Problem]]:
    cuts: dict[Role, CutPlan] = {}
    problems: list[Problem] = []
    shelf = {cloth.id: cloth for cloth in brief.shelf}
    for id in sorted({quilt.cloth[role] for role in items if role in quilt.cloth}):
        roles = [role for role in items if quilt.cloth.get(role) == id]
        answer = plan_cuts(shelf[id], _together(items, roles), limit=limit)
        if isinstance(answer, CutPlan):
            cuts.update(dict.fromkeys(roles, answer))
        else:
            problems += answer.problems
    return cuts, problems


def _together(items: Mapping[Role, tuple[Item, ...]], roles: list[Role]) -> tuple[Item, ...]:
    return tuple(item for role in roles for item in items[role])


def _roles_without_cloth(quilt: Quilt, items: Mapping[Role, tuple[Item, ...]]) -> Iterable[Problem]:
    for role in items:
        if role not in quilt.cloth:
            yield Problem(f"No cloth is chosen for the {role}.", (role,), "Choose one from the shelf.")


def _backing_cloths(quilt: Quilt, brief: Brief) -> tuple[Cloth, ...]:
    chosen = quilt.cloth.get("backing")
    if chosen is not None:
        return tuple(cloth for cloth in brief.shelf if cloth.id == chosen)
    return tuple(cloth for cloth in brief.shelf if cloth.kind in BACKING_KINDS)


def _battings(brief: Brief) -> tuple[Pack | Cloth, ...]:
    return (*brief.packs, *(cloth for cloth in brief.shelf if cloth.kind == "batting"))


def _as_new(brief: Brief, lengths: Iterable[tuple[str, int]]) -> Iterator[Money]:
    """Price what is used as if all of it were bought, in the store's steps, and the sundries."""
    shelf = {cloth.id: cloth for cloth in brief.shelf}
    prices = [shelf[id].cost_of(shelf[id].in_steps(length)) for id, length in lengths]
    return (each for each in (*prices, brief.shop.sundries) if each is not None)


def _batting_cost(brief: Brief, size: Size, options: tuple[BattingOption, ...]) -> Iterator[Money]:
    """Price a package whole, and batting off the roll by its area: the rest of the width is used too."""
    for option in options[:1]:
        rolls = [cloth for cloth in brief.shelf if cloth.id == option.cloth]
        sheet = size.grown(2 * brief.shop.allowances.batting_overhang)
        price = rolls[0].cost_of(-(-sheet.area // rolls[0].usable)) if rolls else option.cost
        if price is not None:
            yield price
