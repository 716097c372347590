"""An independent look at a layout before anyone sees it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planner.problems import Impossible, Problem
from planner.quilt import Bag, Cell, Piece, Quilt, seam_rects, straight_seams
from planner.units import Rect, Size

from .options import Layout


def check_layout(layout: Layout, bag: Bag) -> tuple[Problem, ...]:
    """Return what is wrong with the layout: nothing, when it is sound.

    The top is covered once, in straight seams; each piece is used at most once and wanted; every
    other piece is named among those left out; no garment is asked for more cloth than it has; a
    cut piece keeps its size; a print that loses something is named.
    """
    quilt = layout.quilt
    known = {piece.id: piece for piece in bag.pieces}
    return (
        *_covers_the_top_once(quilt),
        *_sews_in_straight_seams(quilt),
        *_composites_are_filled(quilt),
        *_uses_each_piece_once(quilt, known),
        *_names_what_is_left_out(layout, known),
        *_gives_each_piece_its_cloth(quilt, known),
        *_names_what_is_cropped(layout, known),
    )


def _covers_the_top_once(quilt: Quilt) -> Iterator[Problem]:
    rects = seam_rects(quilt)
    covered = sum(rect.width * rect.height for rect in rects)
    whole = quilt.field.width * quilt.field.height
    outside = [cell.id for cell, rect in zip(quilt.cells, rects, strict=True) if not quilt.field.holds(rect)]
    if outside:
        yield Problem("These blocks reach over the edge.", tuple(outside), "Move them inside.")
    if covered != whole:
        yield Problem("Blocks and sashing leave part of the top bare, or cover it twice.")


def _sews_in_straight_seams(quilt: Quilt) -> Iterator[Problem]:
    tree = straight_seams(seam_rects(quilt))
    if isinstance(tree, Impossible):
        yield from tree.problems
    for cell in quilt.cells:
        if cell.inside:
            within = straight_seams([each.at for each in cell.inside])
            if isinstance(within, Impossible):
                yield Problem(f"The composite {cell.id} does not sew in straight seams.", (cell.id,))


def _composites_are_filled(quilt: Quilt) -> Iterator[Problem]:
    for cell in quilt.cells:
        filled = sum(each.at.size.area for each in cell.inside)
        if cell.inside and filled != cell.room.size.area:
            yield Problem(f"The composite {cell.id} has a gap.", (cell.id,), "Add a filler to it.")


def _uses_each_piece_once(quilt: Quilt, known: dict[str, Piece]) -> Iterator[Problem]:
    used = Counter(cell.piece for cell in quilt.with_pieces() if cell.piece)
    for piece, times in sorted(used.items()):
        if piece not in known:
            yield Problem(f"Piece {piece} is not in the bag.", (piece,))
        elif known[piece].wanted == "out":
            yield Problem(f"Piece {piece} was to be left out.", (piece,), "Take it out of its block.")
        if times > 1:
            yield Problem(f"Piece {piece} has {times} blocks.", (piece,), "It can be cut only once.")


def _names_what_is_left_out(layout: Layout, known: dict[str, Piece]) -> Iterator[Problem]:
    used = {cell.piece for cell in layout.quilt.with_pieces()}
    named = {each.piece for each in layout.left_out}
    for piece in sorted(known.keys() - used - named):
        yield Problem(f"Piece {piece} has no block and no reason why.", (piece,), "Name the reason.")
    for piece in sorted(named & {each for each in used if each}):
        yield Problem(f"Piece {piece} is in the quilt and also named as left out.", (piece,))
    for piece in sorted(named & known.keys()):
        if known[piece].wanted == "must":
            yield Problem(f"Piece {piece} must be in the quilt.", (piece,), "Give it a block.")


def _gives_each_piece_its_cloth(quilt: Quilt, known: dict[str, Piece]) -> Iterator[Problem]:
    for cell in quilt.with_pieces():
        piece = known.get(cell.piece or "")
        if piece is None:
            continue
        needed = _as_worn(cell, quilt.seam)
        if piece.cut is not None and needed != piece.cut:
            yield Problem(f"Piece {piece.id} is already cut to another size.", (piece.id,), "Keep its size.")
        elif piece.cut is None and (needed.width > piece.cloth.width or needed.height > piece.cloth.height):
            yield Problem(
                f"Piece {piece.id} has not the cloth for its block.", (piece.id,), "Add strips round it."
            )


def _names_what_is_cropped(layout: Layout, known: dict[str, Piece]) -> Iterator[Problem]:
    for cell in layout.quilt.with_pieces():
        piece = known.get(cell.piece or "")
        if piece is None or piece.id in layout.cropped:
            continue
        finished = _as_worn(cell, 0)
        if piece.print_size.width > finished.width or piece.print_size.height > finished.height:
            yield Problem(f"Piece {piece.id} would lose part of its print.", (piece.id,), "Ask first.")


def _as_worn(cell: Cell, seam: int) -> Size:
    """The size the piece is cut to, seen upright as on the garment."""
    room: Rect = cell.room
    size = Size(room.width + 2 * seam, room.height + 2 * seam)
    return size if cell.turn in (0, 180) else Size(size.height, size.width)
