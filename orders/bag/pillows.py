"""What the leftovers would still give before they go home: pillows out of whole panels that were not cut."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from orders.bag import leftovers
from orders.bag.kinds import kind_of
from orders.models import Order, Shirt, Shop
from planner.units import INCH, Size

WHOLE_PANELS = ("front", "back")
SEAMS = INCH // 2
LAP = (
    7 * INCH
)  # an envelope back is two pieces that lap: each half the pillow and half of this (common practice)
FINISHED = {"in": 16 * INCH, "cm": 128_000}  # 16 in, 40 cm


@dataclass(frozen=True)
class Pillows:
    """How many pillows of which side are left in which shirts; the sizes of some are the usual ones."""

    count: int
    side: int
    shirts: tuple[str, ...]
    is_about: bool


@dataclass(frozen=True)
class Given:
    """What one shirt still gives: whole squares of a pillow, and halves of an envelope back."""

    shirt: str
    squares: int
    halves: int
    is_about: bool


def enough_for(order: Order, shop: Shop) -> Pillows | None:
    """Return the pillows that the leftovers give, out of as few shirts as can be; None for none."""
    side = FINISHED[shop.unit]
    given = [each for shirt in leftovers.due(order) if (each := _given(shirt, side)) is not None]
    given.sort(key=lambda each: (-each.squares, -each.halves, each.shirt))
    most = pillows_in(given)
    if not most:
        return None
    while len(given) > 1 and pillows_in(given[:-1]) == most:
        given.pop()
    names = tuple(sorted(each.shirt for each in given))
    return Pillows(most, side, names, any(each.is_about for each in given))


def pillows_in(given: Iterable[Given]) -> int:
    """Return how many pillows there are: a square in front of each, a square or two halves behind it."""
    every = list(given)
    squares, halves = sum(each.squares for each in every), sum(each.halves for each in every)
    count = 0
    while 2 * (count + 1) - min(count + 1, halves // 2) <= squares:
        count += 1
    return count


def _given(shirt: Shirt, side: int) -> Given | None:
    cut = side + SEAMS
    sizes, is_about = _whole_panels(shirt)
    squares = sum((size.width // cut) * (size.height // cut) for size in sizes)
    halves = sum(size.width // cut * (size.height % cut >= (side + LAP) // 2) for size in sizes)
    return Given(str(shirt), squares, halves, is_about) if squares or halves else None


def _whole_panels(shirt: Shirt) -> tuple[list[Size], bool]:
    """The panels of a shirt that no quilt took, at their size, else at the usual size of its kind."""
    kind, sizes, is_about = kind_of(shirt.kind), [], False
    known = {piece.side: piece for piece in shirt.pieces.all()}
    for side in (each for each in WHOLE_PANELS if each in kind.panels):
        piece = known.get(side)
        if piece is not None and (piece.cut_width or piece.order_id):
            continue
        if piece is None or piece.sizes_are_usual:
            usual = kind.size_of(side)
            is_about = True
            sizes.append(_with(usual.print_size, usual.free))
        else:
            printed = Size(piece.print_width, piece.print_height)
            width = printed.width + piece.free_left + piece.free_right
            sizes.append(Size(width, printed.height + piece.free_top + piece.free_bottom))
    return sizes, is_about


def _with(size: Size, free: object) -> Size:
    top, right, bottom, left = (getattr(free, name) for name in ("top", "right", "bottom", "left"))
    return Size(size.width + left + right, size.height + top + bottom)
