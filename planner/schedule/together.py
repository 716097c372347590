"""Stages of several orders done in one go, such as a load of washing or a batch at the press."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.problems import BadInput
from planner.schedule.workload import Stage, Wait, Workload


def together(workload: Workload, stages: Sequence[str], *, name: str, minutes: int | None = None) -> Workload:
    """Return the workload with some stages made one: it waits for what each of them waits for, and
    whatever waits for any of them waits for all.

    Its minutes are theirs added up unless given, as where a load takes no longer for being fuller. It
    belongs to the order of the first; only those who may do all of them may do it.
    """
    joined = [stage for stage in workload.stages if stage.id in set(stages)]
    _can_be_one(joined, stages)
    first = next(stage for stage in joined if stage.id == stages[0])
    people = tuple(who for who in first.people if all(who in stage.people for stage in joined))
    if not people:
        raise BadInput("stages", f"nobody may do all of {', '.join(stages)}; let one person do each of them.")
    one = replace(
        first,
        id=name,
        minutes=sum(stage.minutes for stage in joined) if minutes is None else minutes,
        people=people,
        ready=max(stage.ready for stage in joined),
        pin=next((stage.pin for stage in joined if stage.pin is not None), None),
        least=max(stage.least for stage in joined),
    )
    rest = tuple(stage for stage in workload.stages if stage.id not in set(stages))
    waits = tuple(_moved(wait, set(stages), name) for wait in workload.waits)
    return replace(workload, stages=(*rest, one), waits=waits)


def _can_be_one(joined: Sequence[Stage], stages: Sequence[str]) -> None:
    if len(stages) < 2 or len(joined) != len(set(stages)):
        raise BadInput("stages", "name two or more stages of this workload, each once.")
    if len({stage.machine for stage in joined}) > 1:
        raise BadInput("stages", "these stages are not done on the same machine.")
    if len({stage.pin for stage in joined if stage.pin is not None}) > 1:
        raise BadInput("stages", "these stages are pinned to different days.")


def _moved(wait: Wait, stages: set[str], name: str) -> Wait:
    if wait.before in stages and wait.after in stages:
        raise BadInput("stages", f"{wait.after} waits for {wait.before}, so they cannot be done together.")
    return replace(
        wait,
        before=name if wait.before in stages else wait.before,
        after=name if wait.after in stages else wait.after,
    )
