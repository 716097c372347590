"""The whole sum: price, tax, what is paid when, and what an hour of the work brings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from planner.problems import BadInput
from planner.units import Money, round_exactly, total

from .bill import Line
from .shares import split
from .taxes import Taxed, taxes_on
from .terms import Costs, Terms


@dataclass(frozen=True)
class Pricing:
    """A price that adds up, or it cannot be built.

    `net` is before tax, `total` with it; `lines` add up to the net and the taxes their prices
    hold already. `hour` is what an hour brings before overhead, `wage` what is left of it, both
    None when there are no minutes to divide by; `net_at_aim` is the net that would bring the aim.
    """

    lines: tuple[Line, ...]
    net: Money
    tax: Money
    total: Money
    deposit: Money
    instalments: tuple[Money, ...]
    hour: Money | None
    wage: Money | None
    net_at_aim: Money
    taxes: tuple[Taxed, ...]

    def __post_init__(self) -> None:
        currency = self.net.currency
        on_top = total((each.amount for each in self.taxes if not each.inclusive), currency)
        if total((each.amount for each in self.taxes), currency) != self.tax:
            raise BadInput("taxes", "do not add up to the tax.")
        if self.net + self.tax != self.total:
            raise BadInput("total", "is not the price and its tax.")
        if total((each.amount for each in self.lines), currency) + on_top != self.total:
            raise BadInput("lines", "do not add up to the price.")
        if total(self.instalments, currency) + self.deposit != self.total:
            raise BadInput("instalments", "do not add up to the total with the deposit.")


def price(lines: Sequence[Line], terms: Terms, costs: Costs) -> Pricing:
    """Return the price of `lines` under the shop's terms, and what the work earns at that price."""
    _one_currency(lines, terms, costs.currency)
    billed = _rounded(_rushed(lines, terms, costs.currency), terms, costs.currency)
    visible = _sum(billed, costs.currency)
    if visible.minor < 0:
        raise BadInput("lines", "the credits come to more than the price; pay the difference back instead.")
    taxes = taxes_on(
        billed, terms.taxes, currency=costs.currency, rounding=terms.rounding, tax_per=terms.tax_per
    )
    due = total((each.amount for each in taxes), costs.currency)
    whole = visible + total((each.amount for each in taxes if not each.inclusive), costs.currency)
    deposit = Money(round_exactly(whole.minor * Fraction(terms.deposit)), costs.currency)
    return Pricing(
        lines=billed,
        net=whole - due,
        tax=due,
        total=whole,
        deposit=deposit,
        instalments=split(whole - deposit, [1] * terms.instalments) if whole != deposit else (),
        hour=_hour(whole - due, costs),
        wage=_wage(whole - due, costs),
        net_at_aim=_net_at_aim(terms, costs),
        taxes=taxes,
    )


@dataclass(frozen=True)
class Earned:
    """What an hour brings, what is left of it after overhead, and the net that would bring the aim."""

    hour: Money
    wage: Money
    net_at_aim: Money


def earn(net: Money, terms: Terms, costs: Costs) -> Earned:
    """Return what work that took some minutes earns at a price before tax."""
    hour, wage = _hour(net, costs), _wage(net, costs)
    if hour is None or wage is None:
        raise BadInput("minutes", "must be more than 0 to say what an hour brings.")
    return Earned(hour, wage, _net_at_aim(terms, costs))


def _one_currency(lines: Sequence[Line], terms: Terms, currency: str) -> None:
    for number, line in enumerate(lines):
        if line.amount.currency != currency:
            raise BadInput(f"lines[{number}].amount", f"must be in {currency} as the costs are.")
    if terms.round_to is not None and terms.round_to.currency != currency:
        raise BadInput("terms.round_to", f"must be in {currency} as the costs are.")


def _rushed(lines: Sequence[Line], terms: Terms, currency: str) -> tuple[Line, ...]:
    exact = _sum(lines, currency).minor * Fraction(terms.rush)
    extra = _to_whole(exact, terms, currency)
    percent = f"{(terms.rush * 100).normalize():f}"
    return (*lines, *([Line.of(f"Rush, {percent} %", extra)] if extra.minor else []))


def _rounded(lines: tuple[Line, ...], terms: Terms, currency: str) -> tuple[Line, ...]:
    exact = _sum(lines, currency)
    off = _to_whole(Fraction(exact.minor), terms, currency) - exact
    return (*lines, *([Line.of("Rounding", off)] if off.minor else []))


def _hour(net: Money, costs: Costs) -> Money | None:
    if not costs.minutes:
        return None
    take = net - costs.paid_out
    return Money(round_exactly(Fraction(take.minor * 60, costs.minutes)), net.currency)


def _wage(net: Money, costs: Costs) -> Money | None:
    hour = _hour(net, costs)
    return hour - costs.overhead.on(60) if hour is not None else None


def _net_at_aim(terms: Terms, costs: Costs) -> Money:
    exact = costs.paid_out.minor + Fraction(costs.aim.minor) * costs.minutes / 60
    return _to_whole(exact, terms, costs.currency, rounding="up")


def _to_whole(exact: Fraction, terms: Terms, currency: str, *, rounding: str = "half up") -> Money:
    step = terms.round_to.minor if terms.round_to else 1
    return Money(round_exactly(exact / step, rounding) * step, currency)


def _sum(lines: Sequence[Line], currency: str) -> Money:
    return total((line.amount for line in lines), currency)
