"""Which pieces will not sit whole in their block, and what would help, before any price is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from orders.models import Order
from orders.planning import bag_of, piece_id, wish_of
from orders.quilt.block_fit import as_worn
from orders.quilt.quilt_looks import quilt_of
from planner.layout import Fit, Remedy, fit
from planner.quilt import Bag, Cell, Piece
from planner.units import INCH, Size

SEAM = INCH // 4


@dataclass(frozen=True)
class Misfit:
    """A piece that does not fit a block whole with its margin, and what would help, the best first."""

    piece: Piece
    block: Size
    remedies: tuple[Remedy, ...]

    @property
    def mark(self) -> str:
        """How grave it is: late where cloth or print would be lost whatever is done."""
        return "late" if not self.remedies or self.remedies[0].kind == "crop" else "wait"

    @property
    def shirt(self) -> int:
        """The number of its shirt, as it begins its name."""
        return int(self.piece.id[:2]) if self.piece.id[:2].isdigit() else 0


@dataclass(frozen=True)
class Fitting:
    """What was looked at: which pieces, in blocks that are drawn or only wished for, and the misfits."""

    names: tuple[str, ...]
    blocks: tuple[Size, ...]
    is_drawn: bool
    misfits: tuple[Misfit, ...]

    @property
    def count(self) -> int:
        return len(self.names)


def fitting_of(order: Order, *, unit: str) -> Fitting:
    """Return which pieces of an order do not fit: in their own blocks once they have some, else as wished."""
    bag, margin = bag_of(order), wish_of(order).margin
    placed = _placed(order)
    if placed:
        asked = [(piece, placed[piece.id]) for piece in bag.pieces if piece.id in placed]
        misfits = [_in_place(piece, cell, bag, margin=margin, unit=unit) for piece, cell in asked]
        blocks = tuple(dict.fromkeys(cell.at.size for cell in placed.values()))
        return Fitting(tuple(piece.id for piece, _ in asked), blocks, True, _only(misfits))
    wanted = [piece for piece in _meant_for(order, bag) if piece.wanted != "out"]
    blocks = _blocks_wished_for(order)
    misfits = [_nowhere(piece, blocks, bag, margin=margin, unit=unit) for piece in wanted]
    return Fitting(tuple(piece.id for piece in wanted), blocks, False, _only(misfits))


def _meant_for(order: Order, bag: Bag) -> tuple[Piece, ...]:
    if not order.keeps_to_what_it_was_given:
        return bag.pieces
    given = {piece_id(each) for each in order.pieces.select_related("shirt")}
    return tuple(each for each in bag.pieces if each.id in given) if given else bag.pieces


def _blocks_wished_for(order: Order) -> tuple[Size, ...]:
    """A pillow is one block as large as itself, unless other blocks were asked for."""
    if order.kind == Order.Kind.PILLOW and order.width and order.height and not order.wish.get("blocks"):
        return (Size(order.width, order.height),)
    return wish_of(order).blocks


def _placed(order: Order) -> dict[str, Cell]:
    quilt = quilt_of(order)
    return {cell.piece: cell for cell in quilt.with_pieces() if cell.piece} if quilt else {}


def _in_place(piece: Piece, cell: Cell, bag: Bag, *, margin: int, unit: str) -> Misfit | None:
    """In strips a print may come as near to their seam as its cloth lets it: they are what helped."""
    room = as_worn(cell.room.size, cell.turn)
    return _misfit(piece, room, bag, margin=0 if cell.frame else margin, unit=unit)


def _nowhere(piece: Piece, blocks: Sequence[Size], bag: Bag, *, margin: int, unit: str) -> Misfit | None:
    """A piece that fits none of the blocks that are wished for, told of the one that spoils it least."""
    tried = [_misfit(piece, block, bag, margin=margin, unit=unit) for block in blocks]
    if any(each is None for each in tried):
        return None
    return min((each for each in tried if each is not None), key=_how_grave)


def _how_grave(misfit: Misfit) -> tuple[bool, bool, int]:
    return not misfit.remedies, misfit.mark == "late", -misfit.block.area


def _misfit(piece: Piece, block: Size, bag: Bag, *, margin: int, unit: str) -> Misfit | None:
    answer: Fit = fit(piece, block, margin=margin, seam=SEAM, unit=unit, others=bag.pieces)
    return None if answer.ok else Misfit(piece, block, answer.remedies)


def _only(misfits: Sequence[Misfit | None]) -> tuple[Misfit, ...]:
    found = [each for each in misfits if each is not None]
    return tuple(sorted(found, key=lambda each: (each.mark != "late", each.piece.id)))
