"""A proof that work does not fit, and how it is said to the person at the table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from planner.problems import BadInput
from planner.schedule.workload import Workload

MOST_ORDERS_TO_READ = 12
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True)
class Proof:
    """Why some work cannot be finished in time, whatever the order of working.

    `demand` minutes of `stages` lie between the days `first` and `last`, where at most `capacity`
    minutes of them can be done by `people`. `orders` holds the day each order was asked for.
    A *chain* has its stages one after the other, with nothing else on the table. A *capacity* is
    one sum over all the people and days. A *cut* leaves out minutes of a day that the stages,
    their waits or their machine cannot use, too. Only in a chain may `demand` equal `capacity`:
    when the waits alone are too long.
    """

    kind: Literal["chain", "capacity", "cut"]
    first: int
    last: int
    people: tuple[str, ...]
    stages: tuple[str, ...]
    demand: int
    capacity: int
    orders: Mapping[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if self.demand < self.capacity + (self.kind != "chain"):
            raise BadInput("demand", "a proof needs more minutes asked for than there are.")
        if self.last < self.first:
            raise BadInput("last", "must not be before the first day.")

    def words(self, workload: Workload) -> str:
        """Return the proof in plain words, with the dates of the workload."""
        if self.kind == "chain":
            return _words_of_a_chain(self, workload)
        return _words_of_a_sum(self, workload)


def day_in_words(workload: Workload, day: int) -> str:
    """Return a day index as people say it, such as Thu 14 May."""
    date = workload.date_of(day)
    return f"{WEEKDAYS[date.weekday()]} {date.day} {MONTHS[date.month - 1]}"


def minutes_in_words(minutes: int) -> str:
    """Return minutes with thousands apart, and from an hour on the hours too, to a tenth."""
    plain = f"{minutes:,} minute" + ("" if minutes == 1 else "s")
    tenths = (minutes * 10 + 30) // 60
    if minutes < 60:
        return plain
    about = "" if tenths * 6 == minutes else "about "
    return f"{plain} ({about}{tenths // 10}{f'.{tenths % 10}' if tenths % 10 else ''} h)"


def names_in_words(names: Sequence[str]) -> str:
    """Return names joined as in a sentence, the first five of them when there are more."""
    if len(names) > 5:
        return f"{', '.join(names[:5])} and {len(names) - 5} more"
    return " and ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else "".join(names)


def _words_of_a_sum(proof: Proof, workload: Workload) -> str:
    between = f"Between {day_in_words(workload, proof.first)} and {day_in_words(workload, proof.last)}"
    who = names_in_words(proof.people)
    has = "has" if len(proof.people) == 1 else "have together"
    at_work = _minutes_at_work(proof, workload)
    count = len({stage.order for stage in workload.stages if stage.id in set(proof.stages)})
    these = "This order needs" if count == 1 else f"These {count} orders need"
    usable = ""
    if proof.kind == "cut":
        usable = (
            f" At most {minutes_in_words(proof.capacity)} of them can go into this work: the rest falls where"
            " a wait, a machine or a day asked keeps it out, or to somebody who may not do it."
        )
    missing = proof.demand - proof.capacity
    number = _on_their_number(proof, workload)
    return (
        f"{between}, {who} {has} {minutes_in_words(at_work)} of work time.{usable}"
        f" {these} {minutes_in_words(proof.demand)} inside those days: {_asked(proof, workload)}."
        f" {minutes_in_words(missing)[0].upper()}{minutes_in_words(missing)[1:]}"
        f" {'is' if missing == 1 else 'are'} missing, in whatever order the work is done."
        f" Without at least that much extra time it cannot be done.{number}"
    )


def _on_their_number(proof: Proof, workload: Workload) -> str:
    """Say of a sum longer than anyone reads why fewer orders do not show it."""
    asked: Counter[str] = Counter()
    held = set(proof.stages)
    for stage in workload.stages:
        if stage.id in held:
            asked[stage.order] += stage.minutes
    largest = sum(minutes for _, minutes in asked.most_common(MOST_ORDERS_TO_READ))
    if len(asked) <= MOST_ORDERS_TO_READ:
        return ""
    return (
        f" It takes the sum of all {len(asked)} to see it: the {MOST_ORDERS_TO_READ} largest of them"
        f" need {minutes_in_words(largest)}, which would fit."
    )


def _asked(proof: Proof, workload: Workload) -> str:
    mine = {stage.order for stage in workload.stages if stage.id in set(proof.stages)}
    asked = [
        f"{order} by {day_in_words(workload, day)}"
        for order, day in sorted(proof.orders.items())
        if order in mine
    ]
    return names_in_words(asked) or "pinned to their days"


def _minutes_at_work(proof: Proof, workload: Workload) -> int:
    people = [person for person in workload.people if person.id in set(proof.people)]
    return sum(sum(person.minutes[proof.first : proof.last + 1]) for person in people)


def _words_of_a_chain(proof: Proof, workload: Workload) -> str:
    orders = sorted({stage.order for stage in workload.stages if stage.id in set(proof.stages)})
    waits = _days_of_waiting(proof, workload)
    if proof.last < 0:
        over = day_in_words(workload, proof.last)
        return f"{names_in_words(orders)} was to be ready by {over}, and that day is over."
    needs = f"{minutes_in_words(proof.demand)} of work one after the other"
    if waits:
        needs += f" and {waits} day{'s' if waits > 1 else ''} of waiting in between"
    return (
        f"Even with nothing else on the table, {names_in_words(orders)} needs {needs}."
        f" Starting {day_in_words(workload, proof.first)}, in the working hours entered,"
        f" at most {minutes_in_words(proof.capacity)} of that can be done"
        f" by {day_in_words(workload, proof.last)}, so that day is too early."
    )


def _days_of_waiting(proof: Proof, workload: Workload) -> int:
    days = {(wait.before, wait.after): 0 for wait in workload.waits}
    for wait in workload.waits:
        days[wait.before, wait.after] = max(days[wait.before, wait.after], wait.days)
    return sum(days.get(pair, 0) for pair in zip(proof.stages, proof.stages[1:], strict=False))
