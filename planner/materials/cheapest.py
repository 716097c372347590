"""Options in the order a maker wants to see them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol, TypeVar

from planner.problems import BadInput
from planner.units import Length, Money


class Priced(Protocol):
    """Something that can be had for a price."""

    @property
    def buy(self) -> Length: ...
    @property
    def length(self) -> Length: ...
    @property
    def cost(self) -> Money | None: ...


Option = TypeVar("Option", bound=Priced)


def cheapest_first(options: Iterable[Option]) -> tuple[Option, ...]:
    """Sort by cost, then by what is bought and used, else as they came; what has no price comes last."""
    found = tuple(options)
    if len({option.cost.currency for option in found if option.cost}) > 1:
        raise BadInput("price", "all prices must be in one currency.")
    return tuple(sorted(found, key=_rank))


def _rank(option: Priced) -> tuple[bool, int, int, int]:
    cost = option.cost
    return cost is None, cost.minor if cost else 0, option.buy, option.length
