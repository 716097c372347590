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
    """A stage of an earlier job: minutes estimated and minutes it took."""

    stage: str
    estimated: int
    spent: int

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
    ratios: dict[str, list[Fraction]] = {}
    for done in history:
        ratios.setdefault(done.stage, []).append(Fraction(done.spent, done.estimated))
    exact: dict[str, Fraction] = {}
    for standard in standards:
        each = Fraction(standard.minutes) * _amount(standard.per, quilt, bag)
        exact[standard.stage] = exact.get(standard.stage, Fraction(0)) + each
    return tuple(_bent(stage, minutes, ratios.get(stage, [])) for stage, minutes in exact.items())


def _amount(per: str, quilt: Quilt, bag: Bag) -> Fraction:
    if per == "load":
        return Fraction(len(wash_loads(bag.garments)))
    return Fraction(amount_of(per, quilt, bag), _SCALE.get(per, 1))


def _bent(stage: str, minutes: Fraction, ratios: list[Fraction]) -> StageMinutes:
    jobs = len(ratios)
    factor = (PRIOR_JOBS + sum(ratios, start=Fraction(0))) / (PRIOR_JOBS + jobs)
    return StageMinutes(stage, round_exactly(minutes * factor), _spread(ratios), jobs)


def _spread(ratios: list[Fraction]) -> float:
    logs = [math.log(ratio) for ratio in ratios if ratio > 0]
    middle = sum(logs) / len(logs) if logs else 0.0
    scatter = sum((each - middle) ** 2 for each in logs)
    return round(math.sqrt((PRIOR_JOBS * USUAL_SPREAD**2 + scatter) / (PRIOR_JOBS + len(logs))), 4)
