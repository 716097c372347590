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
    Where `pieced` is not 0, the last panel is a narrower one, sewn end to end from so many pieces.
    `length` is the cloth that goes in, `buy` what is missing on hand, in whole steps.
    """

    cloth: str
    way: str
    panels: int
    length: Length
    buy: Length
    cost: Money | None
    pieced: int = 0


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


def pieced_backing_options(
    size: Size, cloths: Sequence[Cloth], *, overhang: int, seam_loss: int, least_panel: int
) -> tuple[BackingOption, ...]:
    """Return the ways whose last panel is put together from pieces, cheapest first; () when there is none.

    k whole panels reach k·(w − seam_loss); the last adds what is missing, but never a sliver: at least
    `least_panel` of it is seen. Its pieces are cut along the cloth, or over its width where the print
    allows, whichever takes less.
    """
    at_least(0, overhang=overhang, seam_loss=seam_loss, least_panel=least_panel)
    needed = size.grown(2 * overhang)
    found: list[BackingOption] = []
    for cloth in sorted(cloths, key=lambda cloth: cloth.id):
        for way, breadth_and_length in _ways_to_lie(needed, cloth).items():
            found += _pieced(cloth, way, breadth_and_length, seam_loss=seam_loss, least_panel=least_panel)
    return cheapest_first(found)


def _pieced(
    cloth: Cloth, way: str, size: tuple[int, int], *, seam_loss: int, least_panel: int
) -> Iterator[BackingOption]:
    breadth, length = size
    whole = _panels(breadth, cloth.usable, seam_loss) - 1
    if whole < 1:
        return
    width = max(breadth - whole * (cloth.usable - seam_loss), least_panel + -(-seam_loss // 2))
    side_by_side = cloth.usable // width
    ways = []
    if side_by_side:
        ways.append((-(-(length + (side_by_side - 1) * seam_loss) // side_by_side), side_by_side))
    if not cloth.directional:
        strips = _panels(length, cloth.usable, seam_loss)
        ways.append((strips * width, strips))
    segment, pieces = min(ways, default=(0, 0))
    if pieces < 2 or segment >= length:
        return
    missing = max(0, whole - _panels_on_hand(cloth, length))
    buy = cloth.to_buy(missing * length + segment)
    used = whole * length + segment
    yield BackingOption(cloth.id, way, whole + 1, used, buy, cloth.cost_of(buy), pieces)


def _ways_to_lie(needed: Size, cloth: Cloth) -> dict[str, tuple[int, int]]:
    """Return per way how broad the back is over the panels and how long they are."""
    upright = {"upright": (needed.width, needed.height)}
    return upright if cloth.directional else upright | {"level": (needed.height, needed.width)}


def _ways(needed: Size, cloth: Cloth, seam_loss: int, least_panel: int) -> Iterator[BackingOption]:
    ways = _ways_to_lie(needed, cloth)
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
    buy = cloth.to_buy(missing * length)
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
