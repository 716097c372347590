"""How much of a timetable somebody has read already is different in the next one."""

from __future__ import annotations

from collections import Counter

from planner.problems import BadInput
from planner.schedule.timetable import Moves, Timetable

Sitting = tuple[str, str, int]  # stage, person, day


def stability(old: Timetable, new: Timetable, *, days: int = 14) -> Moves:
    """Return what of the first days of an old timetable stands elsewhere in a new one.

    A minute has moved when the new timetable has it on another day or with another person; the time
    of day does not count. A stage that the new timetable no longer has is done, and has not moved.
    """
    if days < 1:
        raise BadInput("days", "compare at least one day.")
    still_to_do = {stint.stage for stint in new.stints}
    kept = _minutes(new, days)
    moved: Counter[str] = Counter()
    for sitting, minutes in _minutes(old, days).items():
        if sitting[0] in still_to_do and minutes > kept[sitting]:
            moved[sitting[0]] += minutes - kept[sitting]
    return Moves(tuple(sorted(moved)), sum(moved.values()))


def _minutes(timetable: Timetable, days: int) -> Counter[Sitting]:
    minutes: Counter[Sitting] = Counter()
    for stint in timetable.stints:
        if stint.day < days:
            minutes[stint.stage, stint.person, stint.day] += stint.minutes
    return minutes
