"""Sashing between blocks of many sizes: one strip along each straight seam, read off the seam tree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.problems import BadInput
from planner.quilt import Quilt, SeamTree, seam_rects, straight_seams
from planner.units import Rect, Size

from .allowances import Allowances
from .cloth import Item, Ribbon, pieces_of_one_size


def sashing_along_seams(quilt: Quilt, allowances: Allowances) -> tuple[Item, ...]:
    """Return one strip for each seam, as long as what it joins, and the outer ones: level, then sides.

    A strip no longer than the longest block is cut in one piece; longer ones may be joined. Blocks
    that do not stand one sashing width apart in straight seams are refused (BadInput).
    """
    assert quilt.sashing is not None
    grown = dict(zip(seam_rects(quilt), (cell.at for cell in quilt.cells), strict=True))
    tree = straight_seams(tuple(grown))
    if not isinstance(tree, SeamTree):
        raise BadInput("quilt.sashing", f"its strips cannot be told: {tree.problems[0].what}")
    width = quilt.sashing.width
    lengths = [*_along(tree, grown)]
    if quilt.sashing.outer:
        lengths += [(quilt.field.width - 2 * width, False)] * 2 + [(quilt.field.height, True)] * 2
    longest = max(max(cell.at.width, cell.at.height) for cell in quilt.cells)
    short = [
        (Size(max(each, width), min(each, width)).grown(2 * quilt.seam), upright)
        for each, upright in lengths
        if each <= longest
    ]
    long = sorted((each for each in lengths if each[0] > longest), reverse=True)
    return (
        *pieces_of_one_size(
            "short sashing",
            (each for each, upright in short if not upright),
            upright=(each for each, upright in short if upright),
        ),
        *(_ribbon(number, each, quilt, allowances) for number, each in enumerate(long, start=1)),
    )


def _along(tree: SeamTree, grown: Mapping[Rect, Rect]) -> Iterator[tuple[int, bool]]:
    """The strips in a tree: each as long as the blocks that it joins, and whether it stands upright."""
    if tree.cut == "none":
        return
    blocks = [grown[leaf] for leaf in tree.leaves()]
    ends = [(each.x, each.right) if tree.cut == "across" else (each.y, each.bottom) for each in blocks]
    yield max(end for _, end in ends) - min(start for start, _ in ends), tree.cut == "down"
    for part in tree.parts:
        yield from _along(part, grown)


def _ribbon(number: int, strip: tuple[int, bool], quilt: Quilt, allowances: Allowances) -> Ribbon:
    assert quilt.sashing is not None
    length, upright = strip
    return Ribbon(
        f"long sashing {number}",
        quilt.sashing.width + 2 * quilt.seam,
        length + 2 * quilt.seam,
        join=allowances.join,
        least_end=allowances.least_end,
        upright=upright,
    )
