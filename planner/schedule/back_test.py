"""How a chance would have been borne out by the jobs that were finished after it could have been told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log, sqrt
from statistics import NormalDist, fmean, stdev

from planner.problems import BadInput

ENOUGH_JOBS = 10


@dataclass(frozen=True)
class BackTest:
    """Of `jobs` told beforehand, `kept` took no more than the minutes told with chance `told`."""

    told: float
    jobs: int
    kept: int

    @property
    def share(self) -> float:
        """Return the share that was kept, 0 to 1."""
        return self.kept / self.jobs


def back_test(finished: Sequence[tuple[int, int]], *, told: float = 0.9) -> BackTest | None:
    """Return how often the minutes told with a chance sufficed; None with too few jobs to say.

    `finished` holds the minutes estimated and spent of whole jobs, in the order they were finished.
    For each from the eleventh on, the jobs before it alone give the middle and the spread of the log
    ratio, and so the minutes that should suffice with this chance (log-normal, as in `risk`).
    """
    if not 0 < told < 1:
        raise BadInput("told", "must lie between 0 and 1.")
    if any(estimated <= 0 or spent <= 0 for estimated, spent in finished):
        raise BadInput("finished", "must hold minutes of real work.")
    logs = [log(spent / estimated) for estimated, spent in finished]
    if len(logs) <= ENOUGH_JOBS:
        return None
    kept = sum(log_ratio <= _enough(logs[:n], told) for n, log_ratio in enumerate(logs) if n >= ENOUGH_JOBS)
    return BackTest(told, len(logs) - ENOUGH_JOBS, kept)


def _enough(before: Sequence[float], told: float) -> float:
    """Return the log ratio that the next job stays under with a chance, by those before it.

    The middle is itself known only from so many jobs; its doubt widens the spread.
    """
    doubt = sqrt(1 + 1 / len(before))
    return fmean(before) + NormalDist().inv_cdf(told) * stdev(before) * doubt
