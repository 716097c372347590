"""Cloth sold in pieces of one size, such as fat quarters: the fewest that give everything."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.problems import Impossible, Limit, Problem, Undecided
from planner.units import INCH, METRE, Length, Money, Size

from .check import check_cuts
from .cloth import Cloth, CutPiece, CutPlan, Item
from .strips import plan_cuts

FAT_QUARTER = Size(20 * INCH, 18 * INCH)
METRIC_FAT_QUARTER = Size(METRE // 2, METRE // 2)
MOST_BOUGHT = 24


@dataclass(frozen=True)
class PieceOption:
    """So many pieces to buy, the plan that cuts them, and the fewest that any plan of this kind takes."""

    cloth: str
    count: int
    cost: Money
    bound: int
    plan: CutPlan

    @property
    def proved(self) -> bool:
        """Whether fewer pieces are known not to do."""
        return self.count == self.bound


def quarter_of(usable: Length, *, unit: str) -> Size:
    """Return what can be cut from a fat quarter of a cloth: no more than half of what is usable of it.

    Of 18 × 22 in 20 in are planned on; of the metric 50 × 55 cm (common practice) 50 cm are.
    """
    whole = FAT_QUARTER if unit == "in" else METRIC_FAT_QUARTER
    return Size(min(whole.width, usable // 2), whole.height)


def pieces_for_less(
    cloth: Cloth, items: Sequence[Item], piece: Size, *, each: Money, than: Money, limit: Limit
) -> PieceOption | Impossible | Undecided:
    """Return the fewest pieces where they cost less than what is paid off the bolt, by a checked plan.

    What is bought is washed and its end squared as the shop does it off the bolt.
    """
    washed = Size(piece.width, cloth.gives(piece.height))
    most = max(0, than.minor - 1) // max(1, each.minor)
    if not washed.area or not most:
        return _not_for_less(cloth, most)
    found = fewest_pieces(cloth, items, washed, each=each, limit=limit, most=most)
    if not isinstance(found, PieceOption):
        return _not_for_less(cloth, most)
    owned = replace(cloth, price=None, on_hand=(*cloth.on_hand, *[washed] * found.count))
    faults = check_cuts(owned, items, found.plan)
    return Impossible(faults) if faults else found


def fewest_pieces(
    cloth: Cloth,
    items: Sequence[Item],
    piece: Size,
    *,
    each: Money,
    limit: Limit,
    most: int = 1000,
) -> PieceOption | Impossible | Undecided:
    """Return how few pieces of one size, at a price `each`, give the items beside what is on hand.

    A fat quarter is half a yard cut in two along the fold: 18 by half the width, of which 20 in are
    planned on (18 × 22 in charts; 20 leaves the selvage). No strip goes from one piece into another.
    More than `most` are not looked for.
    """
    area = sum(_area(item) for item in items) - sum(size.area for size in cloth.on_hand)
    least = max(0, -(-area // piece.area))
    bound = least
    for count in range(least, min(least + MOST_BOUGHT, most) + 1):
        owned = replace(cloth, price=None, on_hand=(*cloth.on_hand, *[piece] * count))
        answer = plan_cuts(owned, items, limit=limit)
        if isinstance(answer, CutPlan):
            return PieceOption(cloth.id, count, Money(each.minor * count, each.currency), bound, answer)
        if isinstance(answer, Impossible) and bound == count:
            bound = count + 1
    return _too_small(cloth, piece)


def _area(item: Item) -> int:
    if isinstance(item, CutPiece):
        return item.across * item.along * item.count
    return item.width * item.length


def _too_small(cloth: Cloth, piece: Size) -> Impossible:
    what = f"Pieces of this size, {cloth.id}, do not give every part."
    change = "Buy it off the bolt, or put the long parts together from shorter ones."
    return Impossible((Problem(what, (cloth.id,), change, {"width": piece.width, "height": piece.height}),))


def _not_for_less(cloth: Cloth, most: int) -> Impossible:
    what = f"No {most} pieces of {cloth.id} give every part, and more cost as much as off the bolt."
    return Impossible((Problem(what, (cloth.id,), "Buy it off the bolt."),))
