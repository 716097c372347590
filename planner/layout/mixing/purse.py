"""What a search may still spend of its limit."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic
from typing import Any

from planner.problems import Limit

WORK_UNIT = 0.05  # of the solver's own deterministic time: one step of effort


class Purse:
    """The effort and the seconds that are left, and whether whoever watches has seen enough."""

    def __init__(self, limit: Limit) -> None:
        self._watch: Callable[[Any], bool] | None = limit.watch
        self._tell: Callable[[str], None] | None = limit.tell
        self._work = None if limit.effort is None else limit.effort * WORK_UNIT
        self._until = None if limit.seconds is None else monotonic() + limit.seconds
        self.stopped = False

    @property
    def is_empty(self) -> bool:
        """Say whether the search must end."""
        return self.stopped or (self._work is not None and self._work <= 0) or self.seconds == 0

    @property
    def work(self) -> float | None:
        """The solver's deterministic time that is left; None is without end."""
        return self._work

    @property
    def seconds(self) -> float | None:
        """The seconds that are left; None is without end."""
        return None if self._until is None else max(0.0, self._until - monotonic())

    def spend(self, work: float) -> None:
        """Take off deterministic time that a solver used."""
        if self._work is not None:
            self._work -= work

    def tell(self, words: str) -> None:
        """Say how far the search is."""
        if self._tell is not None:
            self._tell(words)

    def heard(self, best: Any) -> bool:
        """Tell whoever watches of a better answer; False when she has seen enough."""
        if self._watch is not None and self._watch(best) is False:
            self.stopped = True
        return not self.stopped
