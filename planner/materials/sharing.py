"""Cloth from a garment: it gives the pieces it can, another cloth gives the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.problems import Limit

from .cloth import Cloth, CutPiece, CutPlan, Item
from .strips import plan_cuts


@dataclass(frozen=True)
class Shared:
    """What a garment gives of a list of pieces, with its cut plan, and what is left for another cloth."""

    given: tuple[CutPiece, ...]
    rest: tuple[Item, ...]
    plan: CutPlan | None

    @property
    def count(self) -> int:
        """How many pieces it gives."""
        return sum(piece.count for piece in self.given)


def share_out(garment: Cloth, items: Sequence[Item], *, limit: Limit) -> Shared:
    """Cut as many of the pieces out of what is on hand of a cloth as go in, the longest first.

    Lengths that are sewn together from strip ends stay with the other cloth.
    """
    owned = replace(garment, price=None)
    given: list[CutPiece] = []
    plan: CutPlan | None = None
    pieces = [item for item in items if isinstance(item, CutPiece)]
    for piece in sorted(pieces, key=lambda piece: (-piece.across, -piece.along, piece.name)):
        most, found = _most_of(owned, given, piece, limit)
        if most:
            given.append(piece.some(most))
            plan = found
    return Shared(tuple(given), tuple(_without(items, given)), plan)


def _most_of(
    garment: Cloth, given: Sequence[CutPiece], piece: CutPiece, limit: Limit
) -> tuple[int, CutPlan | None]:
    """Return how many more of one piece go in beside those given, by halving, and the plan that has them."""
    most, found, too_many = 0, None, piece.count + 1
    while most + 1 < too_many:
        tried = piece.count if not most and too_many > piece.count else (most + too_many) // 2
        plan = plan_cuts(garment, [*given, piece.some(tried)], limit=limit)
        if isinstance(plan, CutPlan):
            most, found = tried, plan
        else:
            too_many = tried
    return most, found


def _without(items: Sequence[Item], given: Sequence[CutPiece]) -> list[Item]:
    taken = {piece.name: piece.count for piece in given}
    left: list[Item] = []
    for item in items:
        if not isinstance(item, CutPiece):
            left.append(item)
        elif item.count > taken.get(item.name, 0):
            left.append(item.all_but(taken.get(item.name, 0)))
    return left
