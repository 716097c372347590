"""What a change does: who becomes late, what moves, and the overtime that would mend it."""

from __future__ import annotations

from collections.abc import Mapping

from planner.problems import BadInput, Limit
from planner.schedule.moves import stability
from planner.schedule.overtime import Mending, Overtime
from planner.schedule.planning import make_timetable
from planner.schedule.timetable import Effect, Timetable
from planner.schedule.workload import Workload

FORTNIGHT = 14


def what_if(before: Workload, after: Workload, *, limit: Limit, seed: int = 0) -> Effect:
    """Return what becomes of a workload that changes, as when somebody is ill or one order more comes.

    Late are the firm orders that the change makes late, or later than they were to be, by the days
    after their due. Overtime is counted that keeps each at its due or, if later, at the day it had
    before, with none on days that the change took away; an order that no overtime could bring back is
    named and left out of that sum.
    """
    if before.origin != after.origin:
        raise BadInput("after", "must begin on the same day as before.")
    a_third = _third(limit)
    old = make_timetable(before, limit=a_third, seed=seed)
    new = make_timetable(after, previous=old, limit=a_third, seed=seed)
    days = _days_to_keep(after, old)
    late = {o: new.late[o] for o, day in sorted(days.items()) if o in new.finish and new.finish[o] > day}
    overtime = Overtime(after, days, _days_taken_away(before, after))
    mending = overtime.enough(a_third, seed) if late else Mending({}, new)
    return Effect(
        late=late,
        moved=stability(old, new, days=FORTNIGHT),
        overtime_at_least=overtime.at_least() if late else 0,
        overtime_enough=None if mending is None else mending.minutes,
        timetable=new,
        extra={} if mending is None else mending.extra,
        mended=None if mending is None else mending.timetable,
        beyond_help=overtime.beyond_help,
    )


def _third(limit: Limit) -> Limit:
    return Limit(
        seconds=None if limit.seconds is None else limit.seconds / 3,
        effort=None if limit.effort is None else max(1, limit.effort // 3),
    )


def _days_to_keep(after: Workload, old: Timetable) -> Mapping[str, int]:
    """Return the day each firm order must keep; one that is new with the change must keep its due."""
    return {due.order: max(due.day, old.finish.get(due.order, due.day)) for due in after.dues if due.firm}


def _days_taken_away(before: Workload, after: Workload) -> frozenset[tuple[str, int]]:
    """Return the person-days with hours before and none after: nobody who is ill makes up for it then.

    Days off between two such days, with no day at work between, are taken away with them.
    """
    worked = {person.id: person.minutes for person in before.people}
    taken: set[tuple[str, int]] = set()
    for person in after.people:
        since: list[int] = []
        ill = False
        for day, (had, has) in enumerate(zip(worked.get(person.id, ()), person.minutes, strict=False)):
            since.append(day)
            if has or day >= after.days:
                ill, since = False, []
            elif had:
                taken.update((person.id, each) for each in (since if ill else [day]))
                ill, since = True, []
    return frozenset(taken)
