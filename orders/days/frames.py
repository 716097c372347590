"""The shop's own quilting frames: one lies on a frame until it is off it."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from orders.days.calendar import QUILTING
from orders.models import Machine, Person, Shop
from orders.workroom import change_rules

FRAME = "frame"


def frames_now() -> int:
    """Return how many quilts can lie on frames at once; 0 where none waits for one."""
    found = Machine.objects.filter(name=FRAME).first()
    return found.units if found else 0


@transaction.atomic
def set_frames(shop: Shop, frames: int, *, by: Person) -> None:
    """Have so many frames: quilting takes one of them, or with none it takes only people."""
    if frames == frames_now():
        return
    if frames:
        Machine.objects.update_or_create(name=FRAME, defaults={"units": frames})
    steps = [_on_the_frame(step, frames) for step in shop.rules["steps"]]
    change_rules(shop, by=by, steps=steps)
    if not frames:
        Machine.objects.filter(name=FRAME).delete()


def _on_the_frame(step: dict[str, Any], frames: int) -> dict[str, Any]:
    if step["stage"] != QUILTING:
        return step
    rest = {name: value for name, value in step.items() if name != "machine"}
    return {**rest, "machine": FRAME} if frames else rest
