"""What must not be touched yet, so that no plan puts it on today's list."""

from __future__ import annotations

from dataclasses import replace

from orders.models import ApprovedPiece, Consent, Order
from planner.schedule import Workload


def nothing_without_its_yes(work: Workload) -> Workload:
    """Return the workload with cutting and joining put off until tomorrow where the yes is not there."""
    orders = Order.objects.in_the_workroom().only("number", "title", "kind")
    said = set(ApprovedPiece.objects.standing().values_list("order", flat=True))
    seen = _orders_seen()
    lacks = {
        "cut": {str(order) for order in orders if order.pk not in said},
        "join": {str(o) for o in orders if o.pk not in seen and o.kind != Order.Kind.REPAIR},
    }
    stages = tuple(
        replace(stage, ready=max(1, stage.ready), pin=stage.pin or None)
        if stage.order in lacks.get(stage.kind, set())
        else stage
        for stage in work.stages
    )
    return replace(work, stages=stages)


def _orders_seen() -> set[int]:
    said = Consent.objects.filter(kind=Consent.Kind.PICTURE, withdrawn_at=None, version__replaced_at=None)
    return set(said.values_list("order", flat=True))
