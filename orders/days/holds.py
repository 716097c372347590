"""What must not be touched yet, so that no plan puts it on today's list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from django.utils import timezone

from orders.models import ApprovedPiece, Order
from orders.models.question import Question
from orders.yes.picture_standing import may_be_joined
from planner.schedule import Workload

_SAID = Question(
    lambda now: ApprovedPiece.objects.standing(at=now).in_the_workroom().values_list("order").distinct(),
    now=datetime,
)


def nothing_without_its_yes(work: Workload, seen: Sequence[Order] | None = None) -> Workload:
    """Return the workload with cutting and joining put off until tomorrow where the yes is not there.

    `seen` are the orders in the workroom with their state and little quilt, where they were read already.
    """
    orders = Order.objects.in_the_workroom().with_picture() if seen is None else seen
    said = {order for (order,) in _SAID.ask(now=timezone.now())}
    lacks = {
        "cut": {str(order) for order in orders if order.pk not in said},
        "join": {str(each) for each in orders if not may_be_joined(each) and each.kind != Order.Kind.REPAIR},
    }
    stages = tuple(
        replace(stage, ready=max(1, stage.ready), pin=stage.pin or None)
        if stage.order in lacks.get(stage.kind, set())
        else stage
        for stage in work.stages
    )
    return replace(work, stages=stages)
