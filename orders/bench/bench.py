"""The bench of one order: its blocks in piles for the table, the iron, the ruler and the machine."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from orders.bag.kinds import kind_of
from orders.bench.cut_again import cut_again_after_the_iron, waiting_in
from orders.bench.work import OWNER_PRESSES_BELOW
from orders.models import ApprovedPiece, Block, Order, Photo, Piece, Shirt
from orders.models.blade import is_cut_by_itself
from orders.planning import garment_of, piece_id, piece_of
from orders.quilt.blocks import drawn_quilt, label
from orders.yes.asking import TWO_LOOKS, ready_for_the_blade
from planner import quilt
from planner.care import Needs, needs
from planner.layout import SeamTree, seam_rects, straight_seams
from planner.materials import ShirtCut, shirt_cuts

PLACES = {"table": "cut", "iron": "fuse", "ruler": "trim", "machine": "join"}
LIES_IN = {"planned": "table", "cut": "iron", "fused": "ruler", "trimmed": "machine"}
Pieces = Mapping[str, Piece]


@dataclass(frozen=True)
class Cutting:
    """One piece at the bench: what it is called, how large it is cut, what it bears, who said yes.

    `why_not` is what keeps the blade away, empty when it may be cut.
    """

    piece: Piece
    name: str
    sizes: ShirtCut
    care: Needs
    yes: ApprovedPiece | None
    photo: Photo | None
    why_not: str = ""

    @property
    def is_cut(self) -> bool:
        return hasattr(self.yes, "cut")

    @property
    def is_alone(self) -> bool:
        """Say whether it is held and tapped by itself, in no pile; not once it is cut."""
        return not self.is_cut and is_cut_by_itself(self.piece, self.yes)

    @property
    def cautions(self) -> tuple[str, ...]:
        """What to mind at the table of a garment of its kind."""
        return kind_of(self.piece.shirt.kind).cautions


@dataclass(frozen=True)
class Item:
    """One block at the bench; a composite has several cuttings, a filler none."""

    block: Block
    name: str
    cuttings: tuple[Cutting, ...]

    @property
    def has_every_yes(self) -> bool:
        return all(each.yes is not None for each in self.cuttings)

    @property
    def why_not_cut(self) -> str:
        """What keeps the blade away from it, empty when it may be cut."""
        return next((each.why_not for each in self.cuttings if each.why_not), "")

    @property
    def may_be_cut(self) -> bool:
        """Say whether nothing keeps the blade away from it."""
        return not self.why_not_cut and not self.block.held

    @property
    def alone(self) -> tuple[Cutting, ...]:
        """Its pieces that are tapped one at a time, and are not cut yet."""
        return tuple(each for each in self.cuttings if each.is_alone)

    @property
    def uncut(self) -> tuple[Cutting, ...]:
        """Its pieces that are not cut yet; of a shared block some may be."""
        return tuple(each for each in self.cuttings if not each.is_cut)

    @property
    def heat(self) -> int:
        """The least heat that one of its pieces bears, in °F."""
        return min((each.care.heat for each in self.cuttings), default=0)


@dataclass(frozen=True)
class Batch:
    """Blocks pressed at one limit under one cover; `is_for_owner` where a helper must stop."""

    heat: int
    cover: str
    seconds: int
    items: tuple[Item, ...]
    cautions: tuple[str, ...]

    @property
    def mixed(self) -> tuple[Item, ...]:
        """Composites whose pieces do not all bear the same: each piece is pressed at its own limit."""
        return tuple(item for item in self.items if len({each.care.heat for each in item.cuttings}) > 1)

    @property
    def is_for_owner(self) -> bool:
        return self.heat < OWNER_PRESSES_BELOW


@dataclass(frozen=True)
class Row:
    """Blocks joined with one another before the row is joined to the next."""

    number: int
    items: tuple[Item, ...]

    @property
    def is_joined(self) -> bool:
        return all(item.block.progress == "joined" for item in self.items)

    @property
    def lacks(self) -> tuple[Item, ...]:
        """What is not trimmed yet."""
        return tuple(item for item in self.items if item.block.progress not in ("trimmed", "joined"))


@dataclass(frozen=True)
class Bench:
    """Everything of an order that lies at the bench, in the order of its cells."""

    order: Order
    quilt: quilt.Quilt | None
    items: tuple[Item, ...]

    def pile(self, place: str) -> tuple[Item, ...]:
        """Return what lies at a place now."""
        found = (item for item in self.items if LIES_IN.get(item.block.progress) == place)
        return tuple(item for item in found if item.cuttings or place == "machine")

    def to_cut(self) -> tuple[Item, ...]:
        """Return the pile that may be cut: each has its yes, nothing holds it, none is tapped alone."""
        return tuple(each for each in self.pile("table") if each.may_be_cut and not each.alone)

    def one_by_one(self) -> tuple[Cutting, ...]:
        """Return the pieces that may be cut, each held and tapped by itself."""
        return tuple(each for item in self.pile("table") if item.may_be_cut for each in item.alone)

    def not_to_cut(self) -> tuple[Item, ...]:
        """Return what the blade must not come near yet."""
        return tuple(each for each in self.pile("table") if not each.may_be_cut)

    @property
    def wants_looks(self) -> bool:
        """Say whether anything waits for no more than a second look."""
        return any(item.why_not_cut == TWO_LOOKS for item in self.pile("table"))

    def to_trim(self) -> tuple[Item, ...]:
        """Return what is fused, waits for the ruler and is not held."""
        return self._free("ruler")

    def held(self, place: str) -> tuple[Item, ...]:
        """Return what lies at a place and must wait, such as after something was not right."""
        return tuple(item for item in self.pile(place) if item.block.held)

    def _free(self, place: str) -> tuple[Item, ...]:
        return tuple(item for item in self.pile(place) if not item.block.held)

    @property
    def joined(self) -> int:
        """How many blocks are sewn in."""
        return sum(item.block.progress == "joined" for item in self.items)

    def batches(self) -> tuple[Batch, ...]:
        """Return what waits for the iron and is not held, coolest first."""
        piles: dict[tuple[int, str], list[Item]] = {}
        for item in self._free("iron"):
            coolest = min(item.cuttings, key=lambda each: each.care.heat)
            piles.setdefault((coolest.care.heat, coolest.care.cover), []).append(item)
        return tuple(_batch(heat, cover, items) for (heat, cover), items in sorted(piles.items()))

    def rows(self) -> tuple[Row, ...]:
        """Return the rows or columns in which the blocks are joined."""
        if self.quilt is None:
            return (Row(1, self.items),) if self.items else ()
        by_place = dict(zip(seam_rects(self.quilt), (cell.id for cell in self.quilt.cells), strict=True))
        by_cell = {item.block.cell: item for item in self.items}
        tree = straight_seams(tuple(by_place))
        strips = _strips(tree) if isinstance(tree, SeamTree) else [list(by_place)]
        found = [[by_cell[by_place[at]] for at in strip if by_place[at] in by_cell] for strip in strips]
        return tuple(Row(number, tuple(items)) for number, items in enumerate(found, 1))

    def rows_to_join(self) -> tuple[Row, ...]:
        """Return the rows of which a block is not sewn in yet."""
        return tuple(row for row in self.rows() if not row.is_joined)


def bench_of(order: Order, *, rough: int) -> Bench:
    """Return the bench of an order; `rough` is what the first cut leaves all round, in ticks."""
    drawn = drawn_quilt(order)
    blocks = {block.cell: block for block in order.blocks.all()}
    pieces = _pieces_of(order)
    ready = ready_for_the_blade(order, pieces.values(), drawn)
    sizes = _sizes(drawn, pieces, rough)
    held, again = _held(drawn, blocks), cut_again_after_the_iron([order])
    here = {
        cell: waiting_in(blocks[cell], [name for name in names if name in pieces], again)
        for cell, names in held.items()
        if cell in blocks
    }
    items = [_item(order, blocks[cell], names, (pieces, sizes, ready)) for cell, names in here.items()]
    return Bench(order, drawn, tuple(items))


def _pieces_of(order: Order) -> dict[str, Piece]:
    found = {}
    shirts = Shirt.objects.here_for(order).select_related("asked_singly")
    for shirt in shirts.prefetch_related("photos", "pieces__photo"):
        for piece in shirt.pieces.all():
            piece.shirt = shirt
            found[piece_id(piece)] = piece
    return found


def _held(drawn: quilt.Quilt | None, blocks: Mapping[str, Block]) -> dict[str, list[str]]:
    if drawn is None:
        return {cell: [piece_id(block.piece)] if block.piece else [] for cell, block in blocks.items()}
    return {cell.id: [each.piece or "" for each in cell.with_pieces()] for cell in drawn.cells}


def _sizes(drawn: quilt.Quilt | None, pieces: Pieces, rough: int) -> dict[str, ShirtCut]:
    if drawn is None:
        return {}
    placed = {each.piece for cell in drawn.cells for each in cell.with_pieces()}
    if not placed <= pieces.keys():
        return {}  # a shirt of the drawing has left the bag: the Quilt room says so
    garments = {f"S{piece.shirt_id}": garment_of(piece.shirt) for piece in pieces.values()}
    bag = quilt.Bag(tuple(garments.values()), tuple(piece_of(piece) for piece in pieces.values()))
    return {each.piece: each for each in shirt_cuts(drawn, bag, rough=rough)}


def _item(order: Order, block: Block, names: list[str], of: tuple[Pieces, Any, Any]) -> Item:
    pieces, sizes, ready = of
    cuttings = tuple(
        Cutting(
            piece=pieces[name],
            name=label(order, pieces[name]),
            sizes=sizes[name],
            care=needs(garment_of(pieces[name].shirt), piece_of(pieces[name])),
            yes=ready[pieces[name].pk][0],
            photo=pieces[name].photo or next(iter(pieces[name].shirt.photos.all()), None),
            why_not=ready[pieces[name].pk][1],
        )
        for name in names
        if name in sizes
    )
    name = cuttings[0].name if len(cuttings) == 1 else f"{order.number} block {block.cell}"
    return Item(block, name, cuttings)


def _batch(heat: int, cover: str, items: list[Item]) -> Batch:
    cares = [each.care for item in items for each in item.cuttings]
    cautions = {words: None for care in cares for words in care.cautions}
    return Batch(heat, cover, min(care.seconds for care in cares), tuple(items), tuple(cautions))


def _strips(tree: SeamTree) -> list[list[Any]]:
    """The parts on either side of the seams that run right through, each as the blocks in it."""
    if tree.cut == "none":
        return [[tree.rect]]
    found: list[list[Any]] = []
    for part in tree.parts:
        found += _strips(part) if part.cut == tree.cut else [list(part.leaves())]
    return found
