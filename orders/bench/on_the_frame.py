"""The shop's own frame: a quilt that is on it stays on it until it is quilted."""

from __future__ import annotations

from django.db.models import Q

from orders.days.calendar import QUILTING, goes_out
from orders.models import Machine, Order, Shop, Stage


def on_the_frame() -> list[Order]:
    """Return the quilts that were put on and are not quilted yet, whether or not somebody sews just now."""
    begun = Stage.objects.of_open_orders().filter(kind=QUILTING, done_at=None)
    stages = begun.filter(Q(started_at__isnull=False) | Q(spent__gt=0)).order_by("order__number")
    shop = Shop.objects.the()
    out = shop.shop_rules().quilter if shop else None
    return [stage.order for stage in stages if out is None or not goes_out(stage.order, out)]


def why_not_on_it(order: Order) -> str:
    """Say why a quilt cannot be put on the frame now; empty where it can, or needs none."""
    shop = Shop.objects.the()
    rules = shop.shop_rules() if shop else None
    if rules is None or (rules.quilter is not None and goes_out(order, rules.quilter)):
        return ""
    frame = next((step.machine for step in rules.steps if step.stage == QUILTING), None)
    if frame is None:
        return ""
    units = Machine.objects.filter(name=frame).values_list("units", flat=True).first() or 1
    others = [each for each in on_the_frame() if each != order]
    if len(others) < units:
        return ""
    return f"{others[0]} is on the frame and stays on it until it is quilted. Finish that first."
