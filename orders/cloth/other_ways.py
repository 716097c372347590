"""The ways to have the back, the batting and the interfacing, side by side, the cheapest first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.materials import BackingOption, BattingOption
from planner.plan import Offer
from planner.units import Money, Size


@dataclass(frozen=True)
class Way:
    """Lengths in ticks; `package` is the size of one that is bought whole, and then the lengths are 0.

    Of fat quarters `quarters` are bought.
    """

    cloth: str
    words: str
    length: int
    buy: int
    cost: Money | None
    package: Size | None = None
    quarters: int = 0

    @property
    def is_here(self) -> bool:
        return not self.buy and self.package is None


@dataclass(frozen=True)
class Ways:
    """One part of the quilt that can be had in several ways; the first is the one that is reckoned with."""

    part: str
    ways: tuple[Way, ...]


def other_ways(offer: Offer) -> tuple[Ways, ...]:
    """Return each part for which there is more than one way."""
    return tuple(each for each in _all_ways(offer) if len(each.ways) > 1)


def _all_ways(offer: Offer) -> Iterator[Ways]:
    yield Ways("Backing", tuple(_back(each) for each in offer.backing))
    yield Ways("Batting", tuple(_wad(each) for each in offer.batting))
    for kind in sorted({each.way for each in offer.interfacing}):
        rolls = [each for each in offer.interfacing if each.way == kind]
        yield Ways(
            f"Interfacing, {kind}",
            tuple(Way(each.cloth, "", each.length, each.buy, each.cost) for each in rolls),
        )


def _back(back: BackingOption) -> Way:
    way = {"upright": "panels upright", "level": "panels level"}.get(back.way, "in one piece")
    words = f"{back.panels} {way}" if back.panels > 1 else "in one piece"
    pieced = f", the last of {back.pieced} pieces" if back.pieced else ""
    return Way(back.cloth, words + pieced, back.length, back.buy, back.cost)


def _wad(wad: BattingOption) -> Way:
    if wad.way == "package":
        return Way(wad.cloth, "a package of", 0, 0, wad.cost, package=wad.size)
    return Way(wad.cloth, "off the roll", wad.length, wad.buy, wad.cost)
