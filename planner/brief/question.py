"""The brief: everything a plan is asked of, gathered in one place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from planner.colour import FabricLook
from planner.layout import Wish
from planner.materials import OVERHANGS, Cloth, MeasuredTop, Pack
from planner.problems import BadInput
from planner.quilt import Bag, Quilt, Role
from planner.quilt.checks import once_each
from planner.schedule import Workload
from planner.units import Money, Rate, decimals

from .shop import ShopRules

UNITS = ("in", "cm")
ORDER = "this quilt"


@dataclass(frozen=True)
class Brief:
    """A quilt asked for: the bag, the shelf, the wish, the shop, its calendar and the day.

    `unit` is what lengths are shown in, `buffer` the days kept free before `due`. A `quilt` already
    laid out is answered first, before the even grids. `gives` names for a role the garment's cloth
    that gives what it can before the role's own cloth is cut. `measured` is the top of `quilt` as it was
    sewn, `quilted` how it will be quilted, where that was said.
    """

    unit: str
    currency: str
    bag: Bag
    shelf: tuple[Cloth, ...]
    looks: Mapping[str, FabricLook]
    wish: Wish
    shop: ShopRules
    work: Workload
    due: date
    buffer: int
    quilt: Quilt | None = None
    packs: tuple[Pack, ...] = ()
    gives: Mapping[Role, str] = field(default_factory=dict)
    measured: MeasuredTop = MeasuredTop()
    quilted: str = ""

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise BadInput("unit", f"must be {' or '.join(UNITS)}.")
        decimals(self.currency)
        if self.buffer < 0:
            raise BadInput("buffer", "must be 0 days or more.")
        if self.quilted and self.quilted not in OVERHANGS:
            raise BadInput("quilted", f"must be one of {', '.join(OVERHANGS)}.")
        for path, currency in self._currencies():
            if currency != self.currency:
                raise BadInput(path, f"is in {currency}, the brief in {self.currency}.")
        if self.due < self.work.origin:
            raise BadInput("due", f"lies before the calendar's first day, {self.work.origin.isoformat()}.")
        once_each("shelf", (cloth.id for cloth in self.shelf))
        once_each("packs", [pack.id for pack in self.packs] + [cloth.id for cloth in self.shelf])
        self._cloth_is_on_the_shelf()
        self._pieces_are_in_the_bag()
        self._steps_name_people_and_machines_of_the_calendar()
        self._no_other_order_has_its_name()

    def _cloth_is_on_the_shelf(self) -> None:
        shelf = {cloth.id for cloth in self.shelf}
        chosen = [("wish.cloth", self.wish.cloth)]
        chosen += [("quilt.cloth", self.quilt.cloth)] if self.quilt else []
        chosen += [("gives", self.gives)]
        for path, cloths in chosen:
            for role, cloth in cloths.items():
                if cloth not in shelf:
                    raise BadInput(f"{path}.{role}", f"“{cloth}” is not on the shelf.")

    def _pieces_are_in_the_bag(self) -> None:
        known = {piece.id for piece in self.bag.pieces}
        for number, cell in enumerate(self.quilt.cells if self.quilt else ()):
            for each in cell.with_pieces():
                if each.piece not in known:
                    raise BadInput(f"quilt.cells[{number}]", f"no piece “{each.piece}” is in the bag.")

    def _steps_name_people_and_machines_of_the_calendar(self) -> None:
        known = {person.id for person in self.work.people}
        machines = {machine.id for machine in self.work.machines}
        for number, step in enumerate(self.shop.steps):
            for person in step.people:
                if person not in known:
                    raise BadInput(f"shop.steps[{number}].people", f"there is no person “{person}”.")
            if step.machine is not None and step.machine not in machines:
                raise BadInput(f"shop.steps[{number}].machine", f"there is no machine “{step.machine}”.")

    def _no_other_order_has_its_name(self) -> None:
        if any(due.order == ORDER for due in self.work.dues):
            raise BadInput("work.dues", f"“{ORDER}” is the one asked for; give the other another name.")
        if any(stage.order == ORDER for stage in self.work.stages):
            raise BadInput("work.stages", f"“{ORDER}” is the one asked for; give the other another name.")

    def _currencies(self) -> Iterator[tuple[str, str]]:
        shop = self.shop
        prices: list[tuple[str, Money | Rate | None]] = [
            ("shop.overhead", shop.overhead),
            ("shop.aim", shop.aim),
            ("shop.sundries", shop.sundries),
            ("shop.terms.round_to", shop.terms.round_to),
            ("shop.quilter.rate", shop.quilter.rate if shop.quilter else None),
            *((f"shelf[{number}].price", cloth.price) for number, cloth in enumerate(self.shelf)),
            *((f"packs[{number}].price", pack.price) for number, pack in enumerate(self.packs)),
            *((f"shop.rules[{number}].rate", rule.rate) for number, rule in enumerate(shop.rules)),
        ]
        return ((path, price.currency) for path, price in prices if price is not None)
