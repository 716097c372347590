"""What changed in a picture since the yes to it: blocks, cloth, size. The rest stays agreed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

from orders.cloth.cloth_needs import ROLES
from planner.layout.remedies import listed
from planner.quilt import Cell, Quilt, Role
from planner.units import Rect, Size, show_length

SHOWN: tuple[Role, ...] = ("sashing", "cornerstone", "border", "binding", "frame", "filler", "backing")


@dataclass(frozen=True)
class Change:
    """One thing that is not as it was agreed, in words, and the blocks it is about."""

    words: str
    blocks: tuple[str, ...] = ()


def changes(before: Quilt, after: Quilt, *, unit: str) -> tuple[Change, ...]:
    """Return what is different in a picture: size and strips first, then blocks, then cloth."""
    return (
        *_of_size(before, after, unit),
        *_of_strips(before, after, unit),
        *_in_and_out(before, after),
        *_of_places(before, after),
        *_of_blocks(before, after, unit),
        *_of_cloth(before, after),
    )


def only_equal_blocks_moved(before: Quilt, after: Quilt) -> bool:
    """Say whether nothing is different but that blocks of one size lie in each other's places."""
    same = replace(after, cells=before.cells) == before
    return same and _lying(before) == _lying(after) and _places(before) == _places(after)


def _lying(quilt: Quilt) -> Counter[object]:
    """Each block as it is in itself, wherever it lies; plain ones are all alike."""
    return Counter(_in_itself(cell) for cell in quilt.cells)


def _in_itself(cell: Cell) -> object:
    inside = tuple(sorted(repr(_beside(each, cell.at)) for each in cell.inside))
    return cell.at.size, cell.piece, cell.frame, cell.turn, inside


def _beside(cell: Cell, whole: Rect) -> object:
    return cell.at.x - whole.x, cell.at.y - whole.y, cell.at.size, cell.piece, cell.frame, cell.turn


def _places(quilt: Quilt) -> Counter[Rect]:
    return Counter(cell.at for cell in quilt.cells)


def _by_piece(quilt: Quilt) -> dict[str, tuple[Cell, str]]:
    """Each piece with its cell, and the block of the picture that it is in."""
    return {each.piece: (each, cell.id) for cell in quilt.cells for each in cell.with_pieces() if each.piece}


def _of_size(before: Quilt, after: Quilt, unit: str) -> Iterator[Change]:
    if before.size != after.size:
        yield Change(f"The quilt is {_size(after.size, unit)} instead of {_size(before.size, unit)}.")


def _of_strips(before: Quilt, after: Quilt, unit: str) -> Iterator[Change]:
    if before.sashing != after.sashing:
        strips = after.sashing
        now = f"{_length(strips.width, unit)} wide" if strips else "left away"
        if strips and before.sashing and strips.width == before.sashing.width:
            now = "laid out another way"
        yield Change(f"The strips between the blocks are {now}.")
    if before.borders != after.borders:
        yield Change("The border is another one." if after.borders else "There is no border any more.")


def _in_and_out(before: Quilt, after: Quilt) -> Iterator[Change]:
    was, now = _by_piece(before), _by_piece(after)
    come = sorted(now.keys() - was.keys())
    gone = sorted(was.keys() - now.keys())
    if come:
        yield Change(f"{listed(tuple(come))} came in.", tuple(now[name][1] for name in come))
    if gone:
        blocks = {cell.at: cell.id for cell in after.cells}
        left = tuple(blocks[was[name][0].at] for name in gone if was[name][0].at in blocks)
        yield Change(f"{listed(tuple(gone))} {'is' if len(gone) == 1 else 'are'} left out.", left)


def _of_places(before: Quilt, after: Quilt) -> Iterator[Change]:
    was, now = _by_piece(before), _by_piece(after)
    moved = {
        name: (was[name][0].at, now[name][0].at)
        for name in sorted(was.keys() & now.keys())
        if (was[name][0].at.x, was[name][0].at.y) != (now[name][0].at.x, now[name][0].at.y)
    }
    here = {start: name for name, (start, _) in moved.items()}
    told: set[str] = set()
    for name, (start, end) in moved.items():
        other = here.get(end, "")
        if name not in told and other and moved[other][1] == start:
            told |= {name, other}
            yield Change(f"{name} and {other} traded places.", (now[name][1], now[other][1]))
    rest = tuple(name for name in moved if name not in told)
    if rest:
        lies = "lies" if len(rest) == 1 else "lie"
        yield Change(f"{listed(rest)} {lies} in another place.", tuple(now[name][1] for name in rest))


def _of_blocks(before: Quilt, after: Quilt, unit: str) -> Iterator[Change]:
    was, now = _by_piece(before), _by_piece(after)
    for name in sorted(was.keys() & now.keys()):
        (old, _), (new, block) = was[name], now[name]
        if new.at.size != old.at.size:
            size = f"{_size(new.at.size, unit)} instead of {_size(old.at.size, unit)}"
            yield Change(f"The block of {name} is {size}.", (block,))
        if new.turn != old.turn:
            yield Change(f"{name} is turned.", (block,))
        if new.frame != old.frame:
            strips = "has other strips round it" if old.frame and new.frame else "sits in strips now"
            yield Change(f"{name} {strips if new.frame else 'has no strips round it any more'}.", (block,))


def _of_cloth(before: Quilt, after: Quilt) -> Iterator[Change]:
    for role in SHOWN:
        old, new = before.cloth.get(role, ""), after.cloth.get(role, "")
        if old != new:
            cloth = f"{new or 'no cloth yet'} instead of {old}" if old else new
            yield Change(f"{ROLES.get(role, role).capitalize()}: {cloth}.")


def _size(size: Size, unit: str) -> str:
    across, down = (_length(side, unit) for side in (size.width, size.height))
    return f"{across.removesuffix(f' {unit}')} × {down}"


def _length(ticks: int, unit: str) -> str:
    return show_length(ticks, unit=unit, rounding="nearest").removeprefix("about ")
