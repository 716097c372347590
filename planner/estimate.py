"""Minutes of work per stage: standard times, bent by what this shop's own jobs took.

Standard times are the maker's settings. No published time study of this work was found, so they
start from common practice and move towards the shop's own history.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from planner.care import wash_loads
from planner.problems import BadInput
from planner.quilt import PER, Bag, Quilt, amount_of
from planner.units import INCH, round_exactly

USUAL_SPREAD = 0.3
PRIOR_JOBS = 5
_SCALE = {"in": INCH, "in2": INCH * INCH}


@dataclass(frozen=True)
class Standard:
    """Minutes a stage takes for each `per`: a thing that can be counted, a load, in or in2."""

    stage: str
    per: str
    minutes: Decimal

    def __post_init__(self) -> None:
        if not self.stage:
            raise BadInput("stage", "must not be empty.")
        if self.per not in (*PER, "load") and not self.per.startswith("garment:"):
            raise BadInput("per", f"“{self.per}” is not one of load, {', '.join(PER)}.")
        if not isinstance(self.minutes, Decimal) or not self.minutes.is_finite() or self.minutes < 0:
            raise BadInput("minutes", "must be an exact decimal, 0 or more.")


@dataclass(frozen=True)
class Done:
    """A stage of an earlier job: minutes estimated and minutes it took.

    `recalled` minutes, told afterwards because the clock was forgotten, count half (common practice).
    """

    stage: str
    estimated: int
    spent: int
    recalled: bool = False

    def __post_init__(self) -> None:
        if self.estimated <= 0 or self.spent < 0:
            raise BadInput("estimated" if self.estimated <= 0 else "spent", "must be minutes of real work.")


@dataclass(frozen=True)
class StageMinutes:
    """Minutes of one stage, its spread (log scale), and how many earlier jobs speak in it."""

    stage: str
    minutes: int
    spread: float
    jobs: int


def stage_minutes(
    quilt: Quilt, bag: Bag, standards: Sequence[Standard], *, history: Iterable[Done] = ()
) -> tuple[StageMinutes, ...]:
    """Return the minutes of each stage in the standards' order, each rounded half up, once.

    History counts by shrinkage: five jobs' weight stays with the standard (common practice).
    """
    earlier: dict[str, list[Done]] = {}
    for done in history:
        earlier.setdefault(done.stage, []).append(done)
    exact: dict[str, Fraction] = {}
    for standard in standards:
        each = Fraction(standard.minutes) * _amount(standard.per, quilt, bag)
        exact[standard.stage] = exact.get(standard.stage, Fraction(0)) + each
    return tuple(_bent(stage, minutes, earlier.get(stage, [])) for stage, minutes in exact.items())


def _amount(per: str, quilt: Quilt, bag: Bag) -> Fraction:
    if per == "load":
        return Fraction(len(wash_loads(bag.garments)))
    return Fraction(amount_of(per, quilt, bag), _SCALE.get(per, 1))


def _weight(done: Done) -> Fraction:
    return Fraction(1, 2) if done.recalled else Fraction(1)


def _bent(stage: str, minutes: Fraction, earlier: list[Done]) -> StageMinutes:
    return StageMinutes(stage, round_exactly(minutes * own_pace(earlier)), _spread(earlier), len(earlier))


def own_pace(earlier: Iterable[Done]) -> Fraction:
    """Return how many times the standard minutes a stage takes, by what the earlier ones of it took."""
    jobs = tuple(earlier)
    weight = sum((_weight(done) for done in jobs), start=Fraction(PRIOR_JOBS))
    drawn = (_weight(done) * Fraction(done.spent, done.estimated) for done in jobs)
    return sum(drawn, start=Fraction(PRIOR_JOBS)) / weight


def _spread(earlier: list[Done]) -> float:
    logs = [(math.log(done.spent / done.estimated), float(_weight(done))) for done in earlier if done.spent]
    whole = sum(weight for _, weight in logs)
    middle = sum(log * weight for log, weight in logs) / whole if logs else 0.0
    scatter = sum(weight * (log - middle) ** 2 for log, weight in logs)
    return round(math.sqrt((PRIOR_JOBS * USUAL_SPREAD**2 + scatter) / (PRIOR_JOBS + whole)), 4)
