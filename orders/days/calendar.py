"""The shop's calendar as the planner takes it: people, machines, and all the work in the room."""

from __future__ import annotations

import hashlib
from collections.abc import Collection, Iterable, Mapping
from datetime import date, timedelta

from orders.bench.piles import minutes_left
from orders.days.hours import calendar_of, person_at_work
from orders.days.in_one_go import joined
from orders.days.who_does import who_may
from orders.models import Enquiry, Machine, Order, Person, Shop, Stage
from orders.models.as_seen import planned_in_the_workroom
from orders.models.question import Question
from planner import schedule
from planner.brief import OutsideQuilter, Step
from planner.schedule import Due, Wait, Workload

HORIZON = 400
FREE_AT_THE_END = 120  # days beyond the last due, so that what is late still finds its place
LONGEST = 1100
PENCILED = "penciled"
QUILTING = "quilt"
AT_ONCE = 5  # plans tried for a day while somebody waits for the page; longer is looked in the background


def workload(
    shop: Shop, *, today: date, but: Order | None = None, seen: Iterable[Order] | None = None
) -> Workload:
    """Return everything to be done from `today` on, without the order `but`.

    `seen` are the orders in the workroom, the soonest first, with stages and blocks, where they were read.
    """
    people = tuple(workers())
    steps = people_of_steps(shop, people)
    listed = planned_in_the_workroom() if seen is None else (each for each in seen if each.paused_at is None)
    orders = [order for order in listed if order != but]
    penciled = _PENCILED.ask(on=today)
    out = shop.shop_rules().quilter
    stages = [stage for order in orders for stage in _stages(order, steps, out, today=today)]
    stages += [_penciled_stage(each, people, today) for each in penciled if each.minutes]
    known = {stage.id for stage in stages}
    dues = (*_dues(shop, orders, today), *_penciled_dues(penciled, today))
    days = days_looked_at(max((due.day for due in dues), default=0))
    calendar = calendar_of(shop, people, origin=today, days=days)
    waits = (wait for order in orders for wait in _waits(order, steps, out))
    work = Workload(
        origin=today,
        days=days,
        people=tuple(person_at_work(person, calendar) for person in people),
        machines=tuple(schedule.Machine(*each) for each in _MACHINES.ask()),
        dues=dues,
        stages=tuple(stages),
        waits=tuple(wait for wait in waits if {wait.before, wait.after} <= known),
    )
    return joined(work, _in_batches(orders))


def _in_batches(orders: Iterable[Order]) -> list[tuple[Stage, str]]:
    """Return the stages that are done in one go with others, each with its name in the planner."""
    return [(stage, stage_id(stage)) for order in orders for stage in order.stages.all() if stage.batch]


def fingerprint_of(work: Workload) -> str:
    """Return a mark that another workload does not have."""
    return hashlib.sha256(repr(work).encode()).hexdigest()[:16]


def days_looked_at(last_due: int) -> int:
    """Return how many days the calendar has: well beyond the last due, and never without end."""
    return max(HORIZON, min(LONGEST, last_due + FREE_AT_THE_END))


_WORKERS = Question(
    lambda: Person.objects.filter(is_active=True).select_related("week").order_by("-role", "pk")
)
_MACHINES = Question(lambda: Machine.objects.values_list("name", "units"))
_PENCILED = Question(lambda on: Enquiry.objects.penciled(on=on), on=date)


def workers() -> Iterable[Person]:
    """Return who works in the shop: everyone active, the owner first."""
    return _WORKERS.ask()


def people_of_steps(shop: Shop, people: Iterable[Person]) -> dict[str, Step]:
    """Return the shop's steps with the names of who may do each."""
    everyone = tuple(people)
    return {
        step.stage: Step(step.stage, who_may(step.stage, everyone), step.machine, step.after, step.least)
        for step in shop.shop_rules().steps
    }


def stage_id(stage: Stage) -> str:
    """Return a stage's name in the planner, such as 31 cut."""
    return f"{stage.order.number} {stage.kind}"


def order_id(order: Order) -> str:
    """Return an order's name in the planner and in its proofs."""
    return str(order)


def _stages(
    order: Order, steps: dict[str, Step], out: OutsideQuilter | None, *, today: date
) -> list[schedule.Stage]:
    return [
        schedule.Stage(
            id=stage_id(stage),
            order=order_id(order),
            kind=stage.kind,
            minutes=minutes_left(order, stage),
            people=steps[stage.kind].people,
            machine=None
            if stage.kind == QUILTING and out and goes_out(order, out)
            else steps[stage.kind].machine,
            ready=max(0, (stage.waits_until - today).days) if stage.waits_until else 0,
            pin=_pin(stage, today),
            least=steps[stage.kind].least,
        )
        for stage in order.stages.all()
        if stage.kind in steps and not stage.done_at
    ]


def _pin(stage: Stage, today: date) -> int | None:
    if stage.pinned_for is None or stage.pinned_for < today:
        return None
    return (stage.pinned_for - today).days


def _waits(order: Order, steps: dict[str, Step], out: OutsideQuilter | None) -> list[Wait]:
    away = out.days if out and goes_out(order, out) else 0
    has = {stage.kind for stage in order.stages.all()}
    return [
        Wait(
            f"{order.number} {before}",
            f"{order.number} {step.stage}",
            max(days, away) if before == QUILTING else days,
        )
        for step in steps.values()
        if step.stage in has
        for before, days in comes_after(step.stage, steps, has).items()
    ]


def comes_after(stage: str, steps: Mapping[str, Step], has: Collection[str]) -> dict[str, int]:
    """Return what a stage comes after, with the days between.

    A stage that the order does not have hands on what it waits for itself.
    """
    found: dict[str, int] = {}
    for before, days in steps[stage].after.items():
        handed_on = {before: 0} if before in has else comes_after(before, steps, has)
        for earlier, more in handed_on.items():
            found[earlier] = max(found.get(earlier, 0), days + more)
    return found


def goes_out(order: Order, out: OutsideQuilter) -> bool:
    """Say whether a quilt goes to the quilter outside: too long for the shop's frame, or meant to."""
    return max(order.width or 0, order.height or 0) > out.over or order.wish.get("way") == "outside"


def _dues(shop: Shop, orders: Iterable[Order], today: date) -> list[Due]:
    return [
        Due(order_id(order), (day - today).days)
        for order in orders
        if (day := due_day(shop, order)) is not None
    ]


def due_day(shop: Shop, order: Order) -> date | None:
    """Return the last day for the work: the day promised, or the day wanted less its cushion."""
    if order.promised_for is not None or order.needed_by is None:
        return order.promised_for
    return order.needed_by - timedelta(days=_cushion(shop, order))


_CUSHIONS = Question(lambda: Order.objects.in_the_workroom().only("number", "title", "cushion_days"))


def cushions(shop: Shop) -> dict[str, int]:
    """Return the days kept free before the day of each order in the workroom."""
    return {order_id(order): _cushion(shop, order) for order in _CUSHIONS.ask()}


def _cushion(shop: Shop, order: Order) -> int:
    return shop.cushion_days if order.cushion_days is None else order.cushion_days


def _penciled_stage(enquiry: Enquiry, people: tuple[Person, ...], today: date) -> schedule.Stage:
    name = f"{PENCILED} {enquiry.pk}"
    return schedule.Stage(name, name, PENCILED, enquiry.minutes, tuple(person.name for person in people))


def _penciled_dues(enquiries: Iterable[Enquiry], today: date) -> list[Due]:
    return [
        Due(f"{PENCILED} {each.pk}", (each.needed_by - today).days, weight=0, firm=False)
        for each in enquiries
        if each.needed_by and each.minutes
    ]
