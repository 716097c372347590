"""In which order a top is sewn together: read off its straight seams, from single blocks to the whole."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from planner.problems import BadInput
from planner.quilt import Bag, Cell, SeamTree, seam_rects, straight_seams
from planner.units import Length, Rect

from .options import Layout


@dataclass(frozen=True)
class SewingStep:
    """Parts sewn to one another in parallel seams, which makes one part of them.

    `joins` are blocks by their ids or parts by the name an earlier step gave them, from left to right
    (`cut` down) or from the top down (`cut` across); `length` is that of each finished seam, `seams`
    are their x or y. With sashing a strip lies in each seam, along its middle. `open` numbers the
    seams, from 0, that are pressed open because thick cloth meets thin there; the others are pressed
    to one side.
    """

    makes: str
    joins: tuple[str, ...]
    cut: str
    length: Length
    blocks: tuple[str, ...]
    seams: tuple[Length, ...] = ()
    open: tuple[int, ...] = ()
    words: str = ""


def sewing_order(layout: Layout, bag: Bag) -> tuple[SewingStep, ...]:
    """Return the steps that sew the blocks together, each using only what is there by then.

    Composites come first. Seams in one direction beside each other are one step. A layout that
    straight seams cannot join is refused (BadInput); nothing is sewn where there is a single block.
    """
    quilt = layout.quilt
    thick = {piece.id for piece in bag.pieces if bag.garment(piece.garment).thickness == "thick"}
    steps: list[SewingStep] = []
    for cell in quilt.cells:
        inside = {each.at: each for each in cell.inside}
        steps += _joined(_Sewing(inside, thick, False, f"block {cell.id}"), inside) if inside else ()
    grown = dict(zip(seam_rects(quilt), quilt.cells, strict=True))
    return (*steps, *_joined(_Sewing(grown, thick, quilt.sashing is not None, "the top"), grown))


def _joined(sewing: _Sewing, places: Mapping[Rect, Cell]) -> tuple[SewingStep, ...]:
    tree = straight_seams(tuple(places))
    if not isinstance(tree, SeamTree):
        raise BadInput("layout", tree.problems[0].what)
    return tuple(sewing.steps(tree))


@dataclass
class _Sewing:
    cells: Mapping[Rect, Cell]
    thick: set[str]
    sashed: bool
    whole: str
    names: dict[Rect, str] = field(default_factory=dict)

    def steps(self, tree: SeamTree) -> Iterator[SewingStep]:
        """Yield the steps of a part, those of its own parts first."""
        if tree.cut == "none":
            self.names[tree.rect] = self.cells[tree.rect].id
            return
        parts = _side_by_side(tree, tree.cut)
        for part in parts:
            yield from self.steps(part)
        yield self._step(tree, parts)

    def _step(self, tree: SeamTree, parts: Sequence[SeamTree]) -> SewingStep:
        joins = tuple(self.names[part.rect] for part in parts)
        whole = len(tree.leaves()) == len(self.cells)
        made = sum(name.startswith("part ") for name in self.names.values())
        self.names[tree.rect] = name = self.whole if whole else f"part {_letter(made)}"
        blocks = [self.cells[leaf] for leaf in tree.leaves()]
        ends = [(b.at.x, b.at.right) if tree.cut == "across" else (b.at.y, b.at.bottom) for b in blocks]
        opened = tuple(
            number
            for number, (one, other) in enumerate(pairwise(parts))
            if self._thick_meets_thin(one, other, tree.cut)
        )
        return SewingStep(
            makes=name,
            joins=joins,
            cut=tree.cut,
            length=max(end for _, end in ends) - min(start for start, _ in ends),
            blocks=tuple(block.id for block in blocks),
            seams=tuple(part.rect.y if tree.cut == "across" else part.rect.x for part in parts[1:]),
            open=opened,
            words=_words([self._spoken(part) for part in parts], tree.cut, name, opened, sashed=self.sashed),
        )

    def _spoken(self, part: SeamTree) -> str:
        """A block is called by its piece, as its tag is."""
        if part.cut != "none":
            return self.names[part.rect]
        cell = self.cells[part.rect]
        return cell.piece or f"{'the plain block' if cell.is_filler else 'block'} {cell.id}"

    def _thick_meets_thin(self, one: SeamTree, other: SeamTree, cut: str) -> bool:
        """Say whether somewhere along the seam a thick piece meets one that is not."""
        return any(
            (self._is_thick(a) != self._is_thick(b)) or (self.sashed and self._is_thick(a))
            for a in one.leaves()
            for b in other.leaves()
            if _meet(a, b, cut)
        )

    def _is_thick(self, leaf: Rect) -> bool:
        return any(cell.piece in self.thick for cell in self.cells[leaf].with_pieces())


def _side_by_side(tree: SeamTree, cut: str) -> list[SeamTree]:
    """The parts between seams that run the same way through the same part."""
    if tree.cut != cut:
        return [tree]
    return [part for each in tree.parts for part in _side_by_side(each, cut)]


def _meet(a: Rect, b: Rect, cut: str) -> bool:
    if cut == "across":
        return a.bottom == b.y and a.x < b.right and b.x < a.right
    return a.right == b.x and a.y < b.bottom and b.y < a.bottom


def _letter(number: int) -> str:
    """A, B … Z, then AA, AB …"""
    letter = chr(ord("A") + number % 26)
    return letter if number < 26 else _letter(number // 26 - 1) + letter


def _words(joins: Sequence[str], cut: str, name: str, opened: Sequence[int], *, sashed: bool) -> str:
    listed = f"{', '.join(joins[:-1])} and {joins[-1]}"
    way = "from left to right" if cut == "down" else "from the top down"
    strips = ", with a strip between" if sashed else ""
    press = "Press to one side."
    if len(opened) == len(joins) - 1:
        press = "Press open: thick meets thin."
    elif opened:
        where = ", ".join(f"{joins[number]} and {joins[number + 1]}" for number in opened)
        press = f"Press open between {where}: thick meets thin; the rest to one side."
    return f"Sew {listed} {way}{strips}: {name}. {press}"
