"""The cut plan of each cloth of a quilt, reckoned once and kept: whoever asks again reads the same strips."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from functools import cached_property
from typing import Any

from orders.models import CutSheet, Order
from orders.planning import EFFORT
from planner.materials import Cloth, Column, CutPlan, Item, Strip, check_cuts, plan_cuts
from planner.materials.writing import cut_plan
from planner.problems import Impossible, Limit, Undecided


class CutSheets:
    """The sheets of one order; all that are kept come in one query."""

    def __init__(self, order: Order) -> None:
        self.order = order

    @cached_property
    def kept(self) -> dict[str, CutSheet]:
        return {sheet.inputs: sheet for sheet in CutSheet.objects.filter(order=self.order)}

    def plan(self, cloth: Cloth, items: Sequence[Item]) -> CutPlan | Impossible | Undecided:
        """Return the plan that is kept for these pieces off this cloth; else reckon it, check it, keep it."""
        inputs = inputs_of(cloth, items)
        sheet = self.kept.get(inputs)
        if sheet is not None:
            plan = cut_plan(cloth, strips_of(sheet.strips), bound=sheet.bound, scope=sheet.scope)
            if not check_cuts(cloth, items, plan):
                return plan
        answer = plan_cuts(cloth, items, limit=Limit(effort=EFFORT))
        if isinstance(answer, CutPlan):
            self._keep(cloth, inputs, answer)
        return answer

    def _keep(self, cloth: Cloth, inputs: str, plan: CutPlan) -> None:
        facts = {"strips": written(plan.strips), "bound": plan.bound, "scope": plan.scope, "cloth": cloth.id}
        sheet, _ = CutSheet.objects.update_or_create(order=self.order, inputs=inputs, defaults=facts)
        self.kept[inputs] = sheet


def inputs_of(cloth: Cloth, items: Sequence[Item]) -> str:
    """Return the hash of all that a plan follows from."""
    return hashlib.sha256(f"{EFFORT} {cloth!r} {tuple(items)!r}".encode()).hexdigest()


def written(strips: Sequence[Strip]) -> list[list[Any]]:
    """Return strips as they are kept: where from, where, how high, whether along, and their columns."""
    return [
        [
            strip.source, strip.at, strip.height, strip.lengthwise,
            [[column.item, column.across, column.along, column.count] for column in strip.columns],
        ]
        for strip in strips
    ]  # fmt: skip


def strips_of(kept: Sequence[Sequence[Any]]) -> tuple[Strip, ...]:
    """Return strips from the way they are kept."""
    return tuple(
        Strip(source, at, height, tuple(Column(*column) for column in columns), lengthwise)
        for source, at, height, lengthwise, columns in kept
    )
