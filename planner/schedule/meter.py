"""Counting the plans dispatched in a search against its limit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from time import monotonic
from typing import Any

from planner.problems import Limit
from planner.schedule.workload import Workload

STEPS = ((40, 800), (100, 500))  # up to so many orders, so many plans
STEPS_BEYOND = 450


class Stopwatch:
    """A limit of which a part goes into preparing, unwatched, and all that is left into the answer."""

    def __init__(self, limit: Limit) -> None:
        self.limit = limit
        self._begun = monotonic()

    def half(self) -> Limit:
        """Return half of it, to prepare with."""
        return halves(self.limit)[0]

    def left(self, used: int) -> Limit:
        """Return what is left when some steps have been used, at least a moment."""
        seconds, effort = self.limit.seconds, self.limit.effort
        gone = monotonic() - self._begun
        return replace(
            self.limit,
            seconds=None if seconds is None else max(seconds - gone, seconds / 100),
            effort=None if effort is None else max(1, effort - used),
        )


class Meter:
    """How much of a limit is used up; one step is one plan dispatched."""

    def __init__(self, limit: Limit) -> None:
        self._watch = limit.watch
        self._most = limit.effort
        self._until = None if limit.seconds is None else monotonic() + limit.seconds
        self._stopped = False
        self.used = 0

    def goes_on(self) -> bool:
        """Return whether there is anything left of the limit."""
        if self._stopped or (self._most is not None and self.used >= self._most):
            return False
        return self._until is None or monotonic() < self._until

    def heard(self, better: Callable[[], Any]) -> None:
        """Tell whoever watches of a better answer, and stop if she has seen enough."""
        if self._watch is not None and self._watch(better()) is False:
            self._stopped = True


def halves(limit: Limit) -> tuple[Limit, Limit]:
    """Return a limit in two halves: one, unwatched, to prepare with, and one to answer with."""
    half = Limit(
        seconds=None if limit.seconds is None else limit.seconds / 2,
        effort=None if limit.effort is None else max(1, limit.effort // 2),
    )
    return half, replace(half, watch=limit.watch)


def usual_effort(workload: Workload) -> int:
    """Return the steps in which a promise beside this work is mostly exact: measured as about a second's
    work with sixty orders, and under three with two hundred (tests/bench/bench_promise.py)."""
    orders = len({stage.order for stage in workload.stages})
    return next((steps for most, steps in STEPS if orders <= most), STEPS_BEYOND)
