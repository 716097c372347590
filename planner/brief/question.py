"""The brief: everything a plan is asked of, gathered in one place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from planner.colour import FabricLook
from planner.layout import Wish
from planner.materials import Cloth, Pack
from planner.problems import BadInput
from planner.quilt import Bag, Quilt
from planner.schedule import Workload
from planner.units import Money, Rate, decimals

from .shop import ShopRules

UNITS = ("in", "cm")


@dataclass(frozen=True)
class Brief:
    """A quilt asked for: the bag, the shelf, the wish, the shop, its calendar and the day.

    `unit` is what lengths are shown in, `buffer` the days kept free before `due`. A `quilt` already
    laid out is answered first, before the even grids.
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
    packs: tuple[Pack, ...] = field(default=())

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise BadInput("unit", f"must be {' or '.join(UNITS)}.")
        decimals(self.currency)
        if self.buffer < 0:
            raise BadInput("buffer", "must be 0 days or more.")
        for path, currency in self._currencies():
            if currency != self.currency:
                raise BadInput(path, f"is in {currency}, the brief in {self.currency}.")
        shelf = {cloth.id for cloth in self.shelf}
        for role, cloth in (self.quilt.cloth if self.quilt else self.wish.cloth).items():
            if cloth not in shelf:
                where = "quilt" if self.quilt else "wish"
                raise BadInput(f"{where}.cloth", f"the {role} cloth “{cloth}” is not on the shelf.")
        self._people_are_known()

    def _people_are_known(self) -> None:
        known = {person.id for person in self.work.people}
        machines = {machine.id for machine in self.work.machines}
        for number, step in enumerate(self.shop.steps):
            for person in step.people:
                if person not in known:
                    raise BadInput(f"shop.steps[{number}].people", f"there is no person “{person}”.")
            if step.machine is not None and step.machine not in machines:
                raise BadInput(f"shop.steps[{number}].machine", f"there is no machine “{step.machine}”.")

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
