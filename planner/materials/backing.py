"""Ways to make the back: whole panels side by side, upright or level, or one wide cloth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.problems import Impossible, Problem
from planner.units import Length, Money, Size

from .cheapest import cheapest_first
from .cloth import Cloth, at_least


@dataclass(frozen=True)
class BackingOption:
    """One way to make the back of one cloth.

    `way` is upright (panels run along the quilt's height), level (across it) or whole (one panel).
    `length` is the cloth that goes in, `buy` what is missing on hand, in whole steps.
    """

    cloth: str
    way: str
    panels: int
    length: Length
    buy: Length
    cost: Money | None


def backing_options(
    size: Size, cloths: Sequence[Cloth], *, overhang: int, seam_loss: int, least_panel: int
) -> tuple[BackingOption, ...] | Impossible:
    """Return every way to back a quilt of finished `size`, cheapest first, those without a price last.

    The back is larger by `overhang` on each side; k panels of the usable width w give
    k·w − (k−1)·seam_loss (trade handbook 3.3). Panels are whole: what is too wide is trimmed off
    both outer panels alike, and a way that leaves those narrower than `least_panel` is not offered.
    A one-way print is only laid upright. Of a cloth without a price only what is on hand can be used;
    `buy` then says what is missing.
    """
    at_least(0, overhang=overhang, seam_loss=seam_loss, least_panel=least_panel)
    needed = size.grown(2 * overhang)
    by_id = sorted(cloths, key=lambda cloth: cloth.id)
    found = [option for cloth in by_id for option in _ways(needed, cloth, seam_loss, least_panel)]
    return cheapest_first(found) if found else _no_cloth(cloths)


def _ways(needed: Size, cloth: Cloth, seam_loss: int, least_panel: int) -> Iterator[BackingOption]:
    ways = {"upright": (needed.width, needed.height)}
    if not cloth.directional:
        ways["level"] = (needed.height, needed.width)
    whole = [length for breadth, length in ways.values() if breadth <= cloth.usable]
    if whole:
        yield _option(cloth, "whole", 1, min(whole))
    for way, (breadth, length) in ways.items():
        panels = _panels(breadth, cloth.usable, seam_loss)
        if panels > 1 and _outer_panel(breadth, panels, cloth.usable, seam_loss) >= least_panel:
            yield _option(cloth, way, panels, length)


def _panels(breadth: int, usable: int, seam_loss: int) -> int:
    """Return how many panels reach over the breadth; 0 when each seam eats a whole panel."""
    if breadth <= usable:
        return 1
    return -(-(breadth - seam_loss) // (usable - seam_loss)) if usable > seam_loss else 0


def _outer_panel(breadth: int, panels: int, usable: int, seam_loss: int) -> int:
    """Return what is seen of each outer panel when the back is trimmed alike on both sides."""
    too_wide = panels * usable - (panels - 1) * seam_loss - breadth
    return usable - seam_loss // 2 - -(-too_wide // 2)


def _option(cloth: Cloth, way: str, panels: int, length: int) -> BackingOption:
    missing = max(0, panels - _panels_on_hand(cloth, length))
    buy = cloth.in_steps(missing * length)
    return BackingOption(cloth.id, way, panels, panels * length, buy, cloth.cost_of(buy))


def _panels_on_hand(cloth: Cloth, length: int) -> int:
    """Count the whole panels that pieces of full usable width on hand give."""
    return sum(piece.height // length for piece in cloth.on_hand if piece.width >= cloth.usable)


def _no_cloth(cloths: Sequence[Cloth]) -> Impossible:
    return Impossible(
        (
            Problem(
                "None of these cloths can back the quilt in panels wide enough.",
                tuple(sorted(cloth.id for cloth in cloths)),
                "Take a wider cloth, or allow narrower panels.",
            ),
        )
    )
