"""Small pieces that share a block: which of them sit in it together, cut apart by straight seams only."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from planner.quilt import Piece
from planner.units import Size

from .window import sure_margin

MOST_IN_A_BLOCK = 4
MOST_LOOKED_AT = 12
SMALL = 3, 10


def is_small(piece: Piece, block: Size) -> bool:
    """Say whether a piece would fill less than three tenths of a block (common practice)."""
    part, whole = SMALL
    size = piece.print_size if piece.print_size.area else piece.cloth
    return whole * size.area < part * block.area


def sharers(piece: Piece, block: Size, others: Iterable[Piece], *, margin: int, seam: int) -> tuple[str, ...]:
    """Return the ids of up to three other small pieces that sit in the block with this one, or none.

    Each keeps its margin, or all its cloth where it is plain; as many as fit, then the first by id.
    """
    small = [each for each in others if each.id != piece.id and each.wanted != "out" and each.cut is None]
    small = [each for each in small if is_small(each, block)]
    known = {each.id: room_for(each, margin=margin, seam=seam) for each in small}
    names = sorted(id for id, room in known.items() if _holds(block, room))[:MOST_LOOKED_AT]
    own = room_for(piece, margin=margin, seam=seam)
    for count in range(MOST_IN_A_BLOCK - 1, 0, -1):
        for group in combinations(names, count):
            if any(_holds(block, each) for each in outlines([own, *(known[id] for id in group)])):
                return group
    return ()


def room_for(piece: Piece, *, margin: int, seam: int) -> Size:
    """Return the finished room a piece asks for: its print with its margin, or all its cloth."""
    if not piece.print_size.area:
        cloth = piece.cloth
        return Size(max(0, cloth.width - 2 * seam), max(0, cloth.height - 2 * seam))
    more = 2 * sure_margin(piece, margin)
    return Size(piece.print_size.width + more, piece.print_size.height + more)


def outlines(rooms: Sequence[Size]) -> set[Size]:
    """Return the sizes of all ways to put rooms side by side and above each other, joined straight."""
    if len(rooms) == 1:
        return {rooms[0]}
    made = set()
    for first, second in _halves(rooms):
        for a in outlines(first):
            for b in outlines(second):
                made.add(Size(a.width + b.width, max(a.height, b.height)))
                made.add(Size(max(a.width, b.width), a.height + b.height))
    return made


def _halves(rooms: Sequence[Size]) -> Iterator[tuple[list[Size], list[Size]]]:
    """Every way to part the rooms in two, the first always on the left."""
    rest = range(1, len(rooms))
    for count in range(len(rooms) - 1):
        for with_first in combinations(rest, count):
            first = [rooms[0], *(rooms[at] for at in with_first)]
            yield first, [rooms[at] for at in rest if at not in with_first]


def _holds(block: Size, room: Size) -> bool:
    return room.width <= block.width and room.height <= block.height
