"""Who does what when: stints of work, and the timetable they make."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.problems import BadInput


@dataclass(frozen=True, order=True)
class Stint:
    """One sitting: a person works on a stage from minute `start` of a day for `minutes` minutes."""

    stage: str
    person: str
    day: int
    start: int
    minutes: int

    def __post_init__(self) -> None:
        if self.minutes < 1:
            raise BadInput("minutes", f"a stint on {self.stage} takes at least a minute.")
        if self.start < 0 or self.day < 0:
            raise BadInput(
                "start" if self.start < 0 else "day",
                f"a stint on {self.stage} cannot start before day 0, minute 0.",
            )


@dataclass(frozen=True)
class Timetable:
    """The stints in order of time, and per order the day it finishes and the days it is late.

    An order that does not finish within the days looked at has the first day after them as its
    `finish`. `priority` ranks the stages; handing it back as `previous` starts from this timetable.
    """

    stints: tuple[Stint, ...]
    finish: Mapping[str, int]
    late: Mapping[str, int]
    priority: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Moves:
    """How far two timetables differ: the stages whose days moved and the minutes that moved with them."""

    stages: tuple[str, ...]
    minutes: int


@dataclass(frozen=True)
class Effect:
    """What a change does: days late per order it makes late, what moves, and the overtime that would mend it.

    `timetable` works the change in the hours entered. `overtime_at_least` is proved; `overtime_enough`
    is what `extra` (by person and day) adds up to, with which `mended` keeps every day but those of the
    orders `beyond_help`. None where no such overtime was found.
    """

    late: Mapping[str, int]
    moved: Moves
    overtime_at_least: int
    overtime_enough: int | None
    timetable: Timetable
    extra: Mapping[tuple[str, int], int] = field(default_factory=dict)
    mended: Timetable | None = None
    beyond_help: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if self.overtime_enough is not None and self.overtime_enough < self.overtime_at_least:
            raise BadInput("overtime_enough", "cannot be less than what is proved to be the least.")
