"""How much of each thing a quilt holds: what standard minutes and prices are reckoned by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from planner.problems import BadInput
from planner.units import INCH, Size

from .bag import Bag
from .sizes import SIZES, size_name
from .top import Cell, Quilt

OVERSIZE = 14 * INCH


def _none(quilt: Quilt, bag: Bag) -> int:
    return 0


def _one(quilt: Quilt, bag: Bag) -> int:
    return 1


def _garments(quilt: Quilt, bag: Bag) -> int:
    return sum(garment.count for garment in bag.garments)


def _blocks(quilt: Quilt, bag: Bag) -> int:
    return sum(not cell.is_filler for cell in quilt.cells)


def _cells(quilt: Quilt, bag: Bag) -> int:
    return len(quilt.cells)


def _sashed(quilt: Quilt, bag: Bag) -> int:
    return len(quilt.cells) if quilt.sashing else 0


def _fitted(quilt: Quilt, bag: Bag) -> int:
    mixed = len({cell.at.size for cell in quilt.cells}) > 1
    return len(quilt.cells) if quilt.sashing or mixed else 0


def _composites(quilt: Quilt, bag: Bag) -> int:
    return sum(bool(cell.inside) for cell in quilt.cells)


def _fillers(quilt: Quilt, bag: Bag) -> int:
    return sum(cell.is_filler for cell in quilt.cells)


def _frames(quilt: Quilt, bag: Bag) -> int:
    return sum(bool(cell.frame) for cell in quilt.with_pieces())


def _bordered(quilt: Quilt, bag: Bag) -> int:
    return int(bool(quilt.borders))


def _second_sides(quilt: Quilt, bag: Bag) -> int:
    sides = Counter(bag.piece(cell.piece).garment for cell in quilt.with_pieces() if cell.piece)
    return sum(count - 1 for count in sides.values())


def _oversize(quilt: Quilt, bag: Bag) -> int:
    def kept_over(cell: Cell) -> bool:
        lying = bag.piece(cell.piece or "").print_size
        size = Size(lying.height, lying.width) if cell.turn in (90, 270) else lying
        return min(size.width, cell.room.width) > OVERSIZE or min(size.height, cell.room.height) > OVERSIZE

    return sum(kept_over(cell) for cell in quilt.with_pieces())


def _area(quilt: Quilt, bag: Bag) -> int:
    return quilt.size.area


def _perimeter(quilt: Quilt, bag: Bag) -> int:
    return quilt.perimeter


def _sleeves(quilt: Quilt, bag: Bag) -> int:
    return quilt.finish.count("sleeve")


def _labels(quilt: Quilt, bag: Bag) -> int:
    return quilt.finish.count("label")


_AMOUNTS: dict[str, Callable[[Quilt, Bag], int]] = {
    "quilt": _one,
    "garment": _garments,
    "block": _blocks,
    "cell": _cells,
    "sashed": _sashed,
    "fitted": _fitted,
    "composite": _composites,
    "filler": _fillers,
    "frame": _frames,
    "border": _bordered,
    "second-side": _second_sides,
    "oversize": _oversize,
    "sleeve": _sleeves,
    "label": _labels,
    "in2": _area,
    "plush-back": _area,
    "pillow": _none,
    "in": _perimeter,
}
PER = (*_AMOUNTS, *(f"size:{word}" for word, *_ in SIZES), "garment:…")


def amount_of(per: str, quilt: Quilt, bag: Bag) -> int:
    """Return how much of `per` there is: a count, ticks² for in2, ticks of perimeter for in.

    A block holds shirts, a cell is any block, filler or not; sashed counts the cells of a sashed
    quilt, fitted those of a sashed or mixed one; border is 1 when there are any; oversize counts
    prints kept over 14 in; `garment:fleece` counts the pieces whose garment is of that kind or
    carries that flag; `plush-back` is the area, for backs of plush;
    a quilt is no `pillow`, of which the order says how many there are;
    `size:throw` is 1 when that is what a finished size like this is called.
    """
    if per.startswith("size:") and per in PER:
        return int(per.removeprefix("size:") == size_name(quilt.size))
    if per.startswith("garment:"):
        return _of_garments(per.removeprefix("garment:"), quilt, bag)
    if per not in _AMOUNTS:
        raise BadInput("per", f"“{per}” is not one of {', '.join(PER)}.")
    return _AMOUNTS[per](quilt, bag)


def _of_garments(word: str, quilt: Quilt, bag: Bag) -> int:
    chosen = {each.id for each in bag.garments if word == each.kind or word in each.flags}
    return sum(bag.piece(cell.piece or "").garment in chosen for cell in quilt.with_pieces())
