"""What the shop asks for, and what a quilt costs it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from planner.problems import BadInput
from planner.units import Money, Rate, round_exactly

from .checks import share_of_one, whole
from .taxes import TAX_PER, Tax


@dataclass(frozen=True)
class Terms:
    """The shop's terms of money.

    `rush` is the share added for haste, `deposit` the share of the total with tax asked for first
    (0.5 for half), `instalments` how many parts the rest is paid in. Prices before tax on top are
    rounded to whole `round_to`. `rounding` and `tax_per` (invoice or line) are for taxes.
    """

    taxes: tuple[Tax, ...] = ()
    rush: Decimal = Decimal(0)
    round_to: Money | None = None
    deposit: Decimal = Decimal(0)
    instalments: int = 1
    rounding: str = "half up"
    tax_per: str = "invoice"

    def __post_init__(self) -> None:
        share_of_one("rush", self.rush)
        share_of_one("deposit", self.deposit)
        if self.round_to is not None and self.round_to.minor < 1:
            raise BadInput("round_to", "must be more than 0; leave it out for no rounding.")
        whole("instalments", self.instalments, 1)
        round_exactly(Decimal(0), self.rounding)
        if self.tax_per not in TAX_PER:
            raise BadInput("tax_per", f"must be one of {', '.join(TAX_PER)}.")


@dataclass(frozen=True)
class Costs:
    """What the quilt costs the shop, and what an hour should bring.

    `outside` is other people's work, `fees` cards, packing and postage paid, `minutes` all the
    work. `overhead` and `aim` are per hour; `aim` is what an hour should bring before overhead
    is taken off, so it holds the overhead.
    """

    materials: Money
    outside: Money
    fees: Money
    minutes: int
    overhead: Rate
    aim: Rate

    def __post_init__(self) -> None:
        for name in ("materials", "outside", "fees"):
            if getattr(self, name).minor < 0:
                raise BadInput(name, "must not be below 0.")
        whole("minutes", self.minutes, 0)
        for name in ("overhead", "aim"):
            if getattr(self, name).per != "hour":
                raise BadInput(name, "must be a rate per hour.")
        if len({each.currency for each in self._money()}) > 1:
            raise BadInput("currency", "all costs must be in one currency.")

    @property
    def currency(self) -> str:
        """The currency all costs are in."""
        return self.materials.currency

    @property
    def paid_out(self) -> Money:
        """Materials, outside work and fees together."""
        return self.materials + self.outside + self.fees

    def _money(self) -> tuple[Money | Rate, ...]:
        return (self.materials, self.outside, self.fees, self.overhead, self.aim)
