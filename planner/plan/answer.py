"""The answer to a brief."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.care import Batch, Load
from planner.estimate import StageMinutes
from planner.layout import Layout
from planner.materials import BackingOption, BattingOption, CutPlan, InterfacingOption, ShirtCut
from planner.price import Costs, Pricing
from planner.problems import Impossible, Problem, Undecided
from planner.quilt import Role
from planner.schedule import Promise


@dataclass(frozen=True)
class Offer:
    """One way to make the quilt, with all that follows from it.

    Roles that share a cloth share its cut plan. Backing, batting and interfacing list every way,
    the cheapest first. `given` is what garments give to a role before its cloth is cut. `promise` is
    None when the shop has not said who does what;
    `why_not_earlier` is its proof in words; `costs` are what the pricing was reckoned with.
    """

    layout: Layout
    minutes: tuple[StageMinutes, ...]
    cuts: Mapping[Role, CutPlan]
    backing: tuple[BackingOption, ...]
    pricing: Pricing
    promise: Promise | Impossible | Undecided | None
    batting: tuple[BattingOption, ...] = ()
    interfacing: tuple[InterfacingOption, ...] = ()
    shirts: tuple[ShirtCut, ...] = ()
    loads: tuple[Load, ...] = ()
    presses: tuple[Batch, ...] = ()
    goes_out: bool = False
    why_not_earlier: str = ""
    problems: tuple[Problem, ...] = ()
    costs: Costs | None = None
    given: Mapping[Role, CutPlan] = field(default_factory=dict)


@dataclass(frozen=True)
class Plan:
    """The offers, which of them is put first, and what stands in the way of all or of that one."""

    options: tuple[Offer, ...]
    chosen: int | None
    problems: tuple[Problem, ...]
