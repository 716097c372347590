"""How this shop works: its times, prices, terms and who does what in which order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from planner.estimate import Done, Standard
from planner.materials import Allowances
from planner.price import Rule, Terms
from planner.problems import BadInput
from planner.units import Length, Money, Rate


@dataclass(frozen=True)
class Step:
    """A stage of every job: who may do it, at which machine, and what it waits for.

    `after` maps the stages before it to days of waiting: 0 starts the same minute, 1 or more at
    the start of the n-th day after (a yes, drying, cloth on its way).
    """

    stage: str
    people: tuple[str, ...]
    machine: str | None = None
    after: Mapping[str, int] = field(default_factory=dict)
    least: int = 0

    def __post_init__(self) -> None:
        if not self.people:
            raise BadInput("people", f"nobody may do “{self.stage}”; name at least one person.")
        if self.least < 0 or any(days < 0 for days in self.after.values()):
            raise BadInput("after", f"the waits of “{self.stage}” must be 0 days or more.")


@dataclass(frozen=True)
class OutsideQuilter:
    """Who quilts what is too large for the shop's own frame.

    A quilt longer than `over` on either side goes out: packing takes `minutes`, it is away for
    `days` calendar days, and costs `rate` an area, `least` at least.
    """

    over: Length
    rate: Rate
    days: int
    minutes: int = 30
    least: Money | None = None

    def __post_init__(self) -> None:
        if self.rate.per not in ("in2", "m2"):
            raise BadInput("rate", "an outside quilter is paid per in2 or m2.")
        if self.days < 0 or self.minutes < 0:
            raise BadInput("days" if self.days < 0 else "minutes", "must be 0 or more.")

    def charge(self, area: int) -> Money:
        """Return what quilting an area of ticks² costs, the minimum at least."""
        by_area = self.rate.on(area)
        return max(by_area, self.least) if self.least else by_area


@dataclass(frozen=True)
class ShopRules:
    """The shop's standard minutes, history, price list, terms, hourly figures and allowances.

    `overhead` and `aim` are per hour; the aim is what an hour must bring before overhead is taken
    off. `sundries` are thread, needles and the like, once a quilt. `steps` stand in working order
    and must name every stage of the standards.
    """

    standards: tuple[Standard, ...]
    history: tuple[Done, ...]
    rules: tuple[Rule, ...]
    terms: Terms
    overhead: Rate
    aim: Rate
    allowances: Allowances
    steps: tuple[Step, ...] = ()
    quilter: OutsideQuilter | None = None
    sundries: Money | None = None

    def __post_init__(self) -> None:
        for name in ("overhead", "aim"):
            if getattr(self, name).per != "hour":
                raise BadInput(name, "must be a rate per hour.")
        stages = [step.stage for step in self.steps]
        for number, step in enumerate(self.steps):
            if stages.count(step.stage) > 1:
                raise BadInput(f"steps[{number}].stage", f"“{step.stage}” stands there twice.")
            for before in step.after:
                if before not in stages:
                    raise BadInput(f"steps[{number}].after", f"there is no step “{before}” to wait for.")
        for stage in self._unknown_stages(set(stages)):
            raise BadInput("steps", f"say who does “{stage}”: it has standard minutes but no step.")

    def _unknown_stages(self, known: set[str]) -> Iterator[str]:
        return (each.stage for each in self.standards if known and each.stage not in known)
