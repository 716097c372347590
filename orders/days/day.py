"""What is to be done today: by whom, in which order, what comes to the door, what waits for an answer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from orders.bench.piles import minutes_left, pile_of
from orders.customer import telling
from orders.days.calendar import order_id, stage_id
from orders.days.in_one_go import words_of_batch
from orders.days.weeks import Ahead, days_of_room
from orders.models import Enquiry, Order, Person, Shop, Stage, Visit

LOOK_AT_THE_DOOR = 3  # days
ROOM_IS_SOUGHT_FOR = 4  # a page never waits for a long search
Stages = Mapping[str, tuple[Any, Stage]]


@dataclass(frozen=True)
class Task:
    """A stage on a list: the minutes planned for it today, all it still takes, since when it runs."""

    stage: Stage
    order: Order
    words: str
    minutes: int
    left: int
    since: datetime | None = None

    @property
    def place(self) -> str:
        """Which bench it is done at, empty where it has no page of its own."""
        return {"cut": "table", "fuse": "iron", "trim": "ruler", "join": "machine"}.get(self.stage.kind, "")


@dataclass(frozen=True)
class PersonsDay:
    """A person's tasks in order; `opens` and `closes` are minutes of the day, None on a day off."""

    person: Person
    tasks: tuple[Task, ...]
    minutes: int
    opens: int | None
    closes: int | None


@dataclass(frozen=True)
class Waiting:
    """What waits for somebody else's answer: since when, and the days of room, None where not known."""

    words: str
    who: str
    days: int
    kind: str
    order: Order | None = None
    enquiry: Enquiry | None = None
    room: int | None = None
    minor: int | None = None
    until: date | None = None


VERBS = {
    "log": "Log the shirts", "wash": "Wash the shirts", "design": "Draw the layout", "cut": "Rough-cut {}",
    "fuse": "Fuse {}", "trim": "Trim {}", "make up": "Make up blocks", "join": "Join the rows",
    "border": "Sew on the border", "back": "Piece the back", "quilt": "Quilt it",
    "bind": "Sew on the binding", "finish": "Finish and label it",
}  # fmt: skip
DONE = {
    "log": "Logged", "wash": "Washed", "design": "Drawn", "cut": "Cut", "fuse": "Fused", "trim": "Trimmed",
    "make up": "Blocks made up", "join": "Joined", "border": "Border on", "back": "Back pieced",
    "quilt": "Quilted", "bind": "Bound", "finish": "Finished",
}  # fmt: skip


def task_words(order: Any, kind: str) -> str:
    """Return a stage as what to do: `Fuse 5 blocks`."""
    through, of = pile_of(order, kind)
    left = of - through
    blocks = f"{left} block{'' if left == 1 else 's'}" if of else "the blocks"
    return VERBS.get(kind, kind.capitalize()).format(blocks)


def stage_words(order: Any, stage: Stage) -> str:
    """Return a stage as what to do, or as what was done."""
    return DONE.get(stage.kind, stage.kind.capitalize()) if stage.done_at else task_words(order, stage.kind)


def lists_for_today(people: Iterable[Person], orders: Iterable[Any], ahead: Ahead) -> list[PersonsDay]:
    """Return each person's list, late and tomorrow's quilts first."""
    stages = {stage_name(order, stage): (order, stage) for order in orders for stage in order.stages.all()}
    return [_day_of(person, stages, ahead) for person in people]


def stage_name(order: Order, stage: Stage) -> str:
    """Return a stage's name in the planner without asking the stage for its order."""
    stage.order = order
    return stage_id(stage)


def _day_of(person: Person, stages: Stages, ahead: Ahead) -> PersonsDay:
    today, worker = ahead.work.origin, _at_work(person, ahead)
    tasks = [_task(*stages[name], minutes) for name, minutes in _names(person, stages, ahead).items()]
    tasks.sort(key=lambda task: (task.since is None, not _presses(task.order, today)))
    total = sum(task.minutes for task in tasks)
    opens, closes = _hours_of(person, today) if worker and worker.minutes[0] else (None, None)
    return PersonsDay(person, tuple(tasks), total, opens, closes)


def _hours_of(person: Person, today: date) -> tuple[int | None, int | None]:
    """When the person's day opens and closes; of the hours between, a share is planned."""
    if not hasattr(person, "week"):
        return None, None
    return person.week.opens, person.week.opens + person.week.minutes[today.weekday()]


def _names(person: Person, stages: Stages, ahead: Ahead) -> dict[str, int]:
    """What the person has in hand, then what the timetable gives them today, with its minutes."""
    mine, theirs = {}, set()
    for name, (_, stage) in stages.items():
        if stage.started_at and stage.person_id == person.pk:
            mine[name] = 0
        elif stage.started_at:
            theirs.add(name)
    for stint in sorted(ahead.table.stints, key=lambda each: each.start):
        if stint.day == 0 and stint.person == person.name and stint.stage in stages.keys() - theirs:
            mine[stint.stage] = stint.minutes
    return mine


def _at_work(person: Person, ahead: Ahead) -> Any:
    return next((each for each in ahead.work.people if each.id == person.name), None)


def _task(order: Any, stage: Stage, minutes: int) -> Task:
    words = task_words(order, stage.kind) + words_of_batch(stage)
    left = minutes_left(order, stage)
    return Task(stage, order, words, minutes or left, left, stage.started_at)


def _presses(order: Order, today: date) -> bool:
    return order.needed_by is not None and order.needed_by <= today + timedelta(days=1)


def at_the_door(shop: Shop, today: date) -> list[Visit]:
    """Return who comes today and in the next two days."""
    zone = ZoneInfo(shop.time_zone)
    start = datetime.combine(today, datetime.min.time(), zone)
    return list(Visit.objects.between(start, start + timedelta(days=LOOK_AT_THE_DOOR)))


def waiting_for_answers(orders: Iterable[Any], shop: Shop, ahead: Ahead) -> list[Waiting]:
    """Return what waits, the longest first."""
    today = ahead.work.origin
    found = [each for order in orders for each in _of_order(order, today)]
    found += [_of_enquiry(each, shop, today) for each in Enquiry.objects.waiting().order_by("came_at")]
    found.sort(key=lambda each: -each.days)
    return [_with_room(each, ahead) for each in found[:ROOM_IS_SOUGHT_FOR]] + found[ROOM_IS_SOUGHT_FOR:]


def _with_room(waiting: Waiting, ahead: Ahead) -> Waiting:
    order = waiting.order
    if order is None or order.memorial:
        return waiting
    return replace(waiting, room=days_of_room(ahead, order_id(order)))


def _of_order(order: Any, today: date) -> Iterable[Waiting]:
    if order.paused_at is not None:
        return
    asked = [
        (telling.open_quote(order, today), "issued_at", "A yes to the price", "quote"),
        (telling.open_deposit(order), "accepted_at", "The deposit", "deposit"),
        (telling.unanswered_picture(order), "asked_at", "A yes to the picture", "picture"),
    ]
    for record, moment, words, kind in asked:
        if record is not None:
            days = telling.days_since(getattr(record, moment), order, today)
            minor = record.deposit if kind == "deposit" else None
            yield Waiting(words, order.approver, days, kind, order=order, minor=minor)


def _of_enquiry(enquiry: Enquiry, shop: Shop, today: date) -> Waiting:
    days = max(0, (today - enquiry.came_at.astimezone(ZoneInfo(shop.time_zone)).date()).days)
    until = enquiry.penciled_until if (enquiry.penciled_until or date.min) >= today else None
    room = (until - today).days if until else None
    words = "Penciled in" if until else "An answer" if enquiry.answered_at is None else "Her decision"
    return Waiting(words, enquiry.name, days, "enquiry", enquiry=enquiry, room=room, until=until)
