"""What of the strips of several quilts fits on the pieces that lie here, and what of each has to be new.

A remnant seldom gives whole strips to its end, so lengths are never just added up: each strip is laid on a
piece, and what finds none is bought. That may buy a little more than a search over all quilts would; it
never buys too little.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

NEW = -1


@dataclass(frozen=True)
class Laid:
    """The strips of one quilt, as (piece they are planned on, or `NEW`; length), in ticks.

    `planned_on` are the lengths of the pieces the plan was made with; `again` is cut beside the plan in one
    piece, and `loose` was set aside without a plan: it is taken of any piece.
    """

    strips: tuple[tuple[int, int], ...] = ()
    planned_on: tuple[int, ...] = ()
    again: int = 0
    loose: int = 0


class Pieces:
    """The lengths of the pieces of full width that lie here, in the order they came."""

    def __init__(self, lengths: Iterable[int]) -> None:
        self.left = list(lengths)

    def take_loose(self, length: int) -> int:
        """Take a length off the longest pieces, and return what they do not give."""
        for at in sorted(range(len(self.left)), key=lambda each: -self.left[each]):
            taken = min(length, self.left[at])
            self.left[at] -= taken
            length -= taken
        return length

    def take(self, laid: Laid) -> int:
        """Take what a quilt is cut from, and return the length that has to be new."""
        planned = self._as_planned(laid) if laid.strips else 0
        beside = self._wherever_it_fits([laid.again]) if laid.again else 0
        return planned + beside + self.take_loose(laid.loose)

    def _as_planned(self, laid: Laid) -> int:
        places = self._places_of(laid.planned_on)
        if places is None:
            return self._wherever_it_fits([length for _, length in laid.strips])
        for at, length in laid.strips:
            if at != NEW:
                self.left[places[at]] -= length
        return sum(length for at, length in laid.strips if at == NEW)

    def _places_of(self, planned_on: Sequence[int]) -> list[int] | None:
        """Which piece is which of the plan, where everything lies as it lay when the plan was made."""
        here = sorted((each for each in range(len(self.left)) if self.left[each]), key=self.left.__getitem__)
        then = sorted(range(len(planned_on)), key=planned_on.__getitem__)
        if [self.left[each] for each in here] != [planned_on[each] for each in then]:
            return None
        found = dict(zip(then, here, strict=True))
        return [found[each] for each in range(len(planned_on))]

    def _wherever_it_fits(self, lengths: Iterable[int]) -> int:
        """Lay the longest first on the piece that came first, so that what is bought then moves nothing."""
        new = 0
        for length in sorted(lengths, reverse=True):
            at = next((each for each, left in enumerate(self.left) if left >= length), None)
            if at is None:
                new += length
            else:
                self.left[at] -= length
        return new
