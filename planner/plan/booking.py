"""The stages of this quilt put onto the shop's calendar, and the day that can be promised."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from planner.brief import ORDER, Brief, OutsideQuilter, Step
from planner.estimate import USUAL_SPREAD, StageMinutes
from planner.problems import Impossible, Limit, Problem, Undecided
from planner.quilt import Quilt
from planner.schedule import Due, NewOrder, Promise, Stage, Wait, Workload, promise, with_order

QUILTING = "quilt"


def quilter_for(quilt: Quilt, brief: Brief) -> OutsideQuilter | None:
    """Return who quilts it: the outside quilter when it is too large for the shop's frame."""
    quilter = brief.shop.quilter
    too_large = quilter is not None and max(quilt.size.width, quilt.size.height) > quilter.over
    return quilter if too_large else None


def minutes_with(quilter: OutsideQuilter | None, stages: Sequence[StageMinutes]) -> tuple[StageMinutes, ...]:
    """Return the stages with quilting replaced by packing when the quilt goes out."""
    if quilter is None:
        return tuple(stages)
    return tuple(
        StageMinutes(each.stage, quilter.minutes, each.spread, 0) if each.stage == QUILTING else each
        for each in stages
    )


def order_of(
    brief: Brief, minutes: Sequence[StageMinutes], *, out: OutsideQuilter | None, today: date
) -> NewOrder | None:
    """Return this quilt as an order of the calendar, from `today` on; None without steps."""
    origin, steps = brief.work.origin, brief.shop.steps
    if not steps:
        return None
    due = Due(ORDER, (brief.due - origin).days - brief.buffer)
    ready = max(0, (today - origin).days)
    return NewOrder(due, _stages(steps, minutes, ready, out), _waits(steps, out))


def book(
    work: Workload, order: NewOrder | None, *, limit: Limit, seed: int
) -> Promise | Impossible | Undecided | None:
    """Return the day the order can be promised for beside everything else; None without an order.

    No day is named on a calendar that ends before something on it is due: what lies beyond its end
    would be pushed aside unseen.
    """
    if order is None:
        return None
    beyond = tuple(due.order for due in work.dues if due.day >= work.days)
    if beyond:
        ends = f"{work.date_of(work.days - 1):%a %-d %b %Y}"
        short = Problem(
            f"The calendar ends on {ends}, before {' and '.join(beyond)} must be done.",
            beyond,
            "Enter working hours further ahead.",
        )
        return Impossible((short,))
    return promise(work, order, limit=limit, seed=seed)


def why_not_earlier(work: Workload, order: NewOrder | None, promised: object) -> str:
    """Return the proof that it cannot be earlier, in words; nothing when there is none."""
    if order is None or not isinstance(promised, Promise) or promised.proof is None:
        return ""
    return promised.proof.words(with_order(work, order))


def _stages(
    steps: Sequence[Step], minutes: Sequence[StageMinutes], ready: int, out: OutsideQuilter | None
) -> tuple[Stage, ...]:
    work = {each.stage: each for each in minutes}
    none = StageMinutes("", 0, USUAL_SPREAD, 0)
    return tuple(
        Stage(
            id=_id(step.stage),
            order=ORDER,
            kind=step.stage,
            minutes=work.get(step.stage, none).minutes,
            people=step.people,
            machine=None if out and step.stage == QUILTING else step.machine,
            ready=ready,
            least=step.least,
            spread=work.get(step.stage, none).spread,
        )
        for step in steps
    )


def _waits(steps: Sequence[Step], out: OutsideQuilter | None) -> tuple[Wait, ...]:
    away = out.days if out else 0
    return tuple(
        Wait(_id(before), _id(step.stage), days=max(days, away) if before == QUILTING else days)
        for step in steps
        for before, days in step.after.items()
    )


def _id(stage: str) -> str:
    return f"{ORDER}: {stage}"
