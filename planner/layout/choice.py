"""What fills the blocks of a grid: one piece of every garment first, then, in this order, second panels,
composites of small prints, plain cloth, and a feature block over four places.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from planner.quilt import Bag, Piece
from planner.units import Size

from .composites import Composer, Part
from .mixing.places import WIDEST_STRIP
from .options import LeftOut
from .sharing import MOST_IN_A_BLOCK, is_small
from .window import keep

MOST_FILLERS = 4
FEATURE = 4  # places that a feature block takes


@dataclass(frozen=True)
class Choice:
    """Pieces with a block each, composites, second panels among both, and blocks left plain.

    `feature` is the one of the pieces that takes four places.
    """

    pieces: tuple[Piece, ...]
    second_sides: int
    fillers: int
    composites: tuple[Part, ...] = ()
    feature: Piece | None = None

    def left_out(self, bag: Bag, placed: Collection[str]) -> tuple[LeftOut, ...]:
        """Return every piece of the bag that has no block, with its reason."""
        chosen = {piece.id for piece in self.pieces}
        return tuple(
            LeftOut(piece.id, _reason(piece, piece.id in chosen))
            for piece in sorted(bag.pieces, key=lambda each: each.id)
            if piece.id not in placed
        )


@dataclass(frozen=True)
class Pool:
    """The pieces wanted, by id: those that must each have a place, and the rest."""

    base: tuple[Piece, ...]
    rest: tuple[Piece, ...]

    @classmethod
    def of(cls, wanted: Sequence[Piece]) -> Pool:
        """Part the pieces: all that must and one of every other garment are the base."""
        base = _base(wanted)
        chosen = {piece.id for piece in base}
        rest = (piece for piece in sorted(wanted, key=lambda each: each.id) if piece.id not in chosen)
        return cls(tuple(base), tuple(rest))


def choose_pieces(pool: Pool, cells: int, composer: Composer) -> Choice | None:
    """Return what fills `cells` blocks, or None where there is too much or too little for them.

    Too many pieces share blocks where their prints are small. Up to seven blocks may be left plain:
    more than four of them ask for a feature block.
    """
    if len(pool.base) > MOST_IN_A_BLOCK * cells:
        return None
    if len(pool.base) > cells:
        return _shared(pool.base, cells, composer)
    small = [piece for piece in pool.rest if is_small(piece, composer.block)]
    panels = [piece for piece in pool.rest if piece not in small][: cells - len(pool.base)]
    spare = cells - len(pool.base) - len(panels)
    together, composites = _composites(small, spare, composer)
    alone = [piece for piece in small if piece not in together][: spare - len(composites)]
    pieces = sorted([*pool.base, *panels, *alone], key=lambda piece: piece.id)
    fillers = spare - len(composites) - len(alone)
    if fillers >= MOST_FILLERS + FEATURE:
        return None
    return Choice(tuple(pieces), len(panels) + len(together) + len(alone), fillers, composites)


def with_feature(choice: Choice, size: Size, *, margin: int, seam: int) -> Choice | None:
    """Return the choice with its largest print over four places, if one is whole there; or None."""
    fitting = [piece for piece in choice.pieces if _is_whole(piece, size, margin, seam)]
    if not fitting or choice.fillers < FEATURE - 1:
        return None
    first = min(fitting, key=lambda piece: (piece.wanted != "must", -piece.print_size.area, piece.id))
    return replace(choice, feature=first, fillers=choice.fillers - (FEATURE - 1))


def _base(wanted: Sequence[Piece]) -> list[Piece]:
    in_order = sorted(wanted, key=lambda piece: piece.id)
    first = [piece for piece in in_order if piece.wanted == "must"]
    seen = {piece.garment for piece in first}
    for piece in in_order:
        if piece.garment not in seen:
            first.append(piece)
            seen.add(piece.garment)
    return sorted(first, key=lambda piece: piece.id)


def _shared(base: Sequence[Piece], cells: int, composer: Composer) -> Choice | None:
    small = [piece for piece in base if is_small(piece, composer.block)]
    large = tuple(piece for piece in base if piece not in small)
    composites = composer.composed(small, cells - len(large))
    return None if composites is None else Choice(large, 0, 0, composites)


def _composites(
    small: Sequence[Piece], spare: int, composer: Composer
) -> tuple[tuple[Piece, ...], tuple[Part, ...]]:
    """Put as many small prints as there are into blocks to spare, two at least in each."""
    for blocks in range(min(spare, len(small) // 2), 0, -1):
        taken = tuple(small[: MOST_IN_A_BLOCK * blocks])
        composites = composer.composed(taken, blocks)
        if composites is not None:
            return taken, composites
    return (), ()


def _is_whole(piece: Piece, size: Size, margin: int, seam: int) -> bool:
    window = keep(piece, size, seam=seam)
    if window is None or not window.keeps_margin(piece, margin):
        return False
    frame = window.frame
    return max(frame.top, frame.right, frame.bottom, frame.left) <= WIDEST_STRIP


def _reason(piece: Piece, chosen: bool) -> str:
    if piece.wanted == "out":
        return "Not wanted in this quilt."
    if chosen:
        return "It has not the cloth for this block."
    return "Every block is taken, and its garment has another."
