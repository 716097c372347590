"""A binding cut straight or on the bias, side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from planner.problems import Impossible, Limit, Problem
from planner.quilt import Quilt
from planner.units import Length, Money

from .allowances import Allowances
from .cheapest import cheapest_first
from .cloth import Cloth, CutPlan
from .parts import binding
from .strips import plan_cuts


@dataclass(frozen=True)
class BindingOption:
    """One way to cut the binding of one cloth; `way` is straight or bias."""

    cloth: str
    way: str
    length: Length
    buy: Length
    cost: Money | None
    plan: CutPlan


def binding_options(
    quilt: Quilt, cloths: Sequence[Cloth], *, allowances: Allowances, limit: Limit
) -> tuple[BindingOption, ...] | Impossible:
    """Return the binding straight and on the bias out of each cloth that gives it, cheapest first.

    Straight is joined of strips over the width; bias comes out of one square, which takes more cloth
    but goes round curves and wears longer (common practice). () for a quilt without binding.
    """
    if quilt.binding is None:
        return ()
    by_id = sorted(cloths, key=lambda cloth: cloth.id)
    found = [option for cloth in by_id for option in _ways(quilt, cloth, allowances, limit)]
    return cheapest_first(found) if found else _none(cloths)


def _ways(quilt: Quilt, cloth: Cloth, allowances: Allowances, limit: Limit) -> Iterator[BindingOption]:
    assert quilt.binding is not None
    for way in ("straight", "bias"):
        cut_so = replace(quilt, binding=replace(quilt.binding, bias=way == "bias"))
        plan = plan_cuts(cloth, binding(cut_so, allowances), limit=limit)
        if isinstance(plan, CutPlan):
            yield BindingOption(cloth.id, way, plan.used, plan.buy, plan.cost, plan)


def _none(cloths: Sequence[Cloth]) -> Impossible:
    ids = tuple(sorted(cloth.id for cloth in cloths))
    return Impossible((Problem("None of these cloths gives the binding.", ids, "Take another cloth."),))
