"""Several who pay one sum: some give a set amount, the others share what that leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.problems import BadInput
from planner.units import Money

from .checks import whole
from .together import split_in_turn


@dataclass(frozen=True)
class Portion:
    """What one of several pays: a set amount in minor units, or, where it is 0, a share by `weight`."""

    weight: int = 1
    set_amount: int = 0

    def __post_init__(self) -> None:
        whole("weight", self.weight, 0)
        whole("set_amount", self.set_amount, 0)

    @property
    def share(self) -> int:
        """Its weight in what the set amounts leave; 0 for who gives a set amount."""
        return 0 if self.set_amount else self.weight


def portions_in_turn(totals: Sequence[Money], portions: Sequence[Portion]) -> tuple[tuple[Money, ...], ...]:
    """Return what each pays of each total, exact to the minor unit.

    Of every total the set amounts come off first, never more than is left of it, the earlier one first.
    The rest is divided by weight as `split_in_turn` divides it.
    """
    if not any(each.share for each in portions):
        raise BadInput("portions", "at least one must pay a share of what the set amounts leave.")
    given = [_given(each.minor, portions) for each in totals]
    rests = [
        Money(each.minor - sum(minors), each.currency) for each, minors in zip(totals, given, strict=True)
    ]
    shared = split_in_turn(rests, [each.share for each in portions])
    return tuple(
        tuple(Money(minor, part.currency) + part for minor, part in zip(minors, parts, strict=True))
        for minors, parts in zip(given, shared, strict=True)
    )


def parts_in_turn(parts: Sequence[Money], portions: Sequence[Portion]) -> tuple[tuple[Money, ...], ...]:
    """Return what each pays of each part of one sum, such as its deposit and what is due later.

    Every part is divided alike, so a set amount is spread over them, and each in the end has paid the
    portion of the whole that `portions_in_turn` gives, to the minor unit.
    """
    if not any(each.set_amount for each in portions):
        return portions_in_turn(parts, portions)
    whole_sum = sum((each.minor for each in parts), start=0)
    (paid,) = portions_in_turn([Money(whole_sum, parts[0].currency)], portions)
    weights = [each.minor for each in paid]
    return split_in_turn(parts, weights if any(weights) else [each.share for each in portions])


def _given(total: int, portions: Sequence[Portion]) -> list[int]:
    left, given = max(total, 0), []
    for each in portions:
        given.append(min(each.set_amount, left))
        left -= given[-1]
    return given
