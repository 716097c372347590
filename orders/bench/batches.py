"""The iron over all orders: what waits to be fused, in batches of one heat, coolest first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.db.models import F

from orders.bench.bench import Batch, Cutting, Item
from orders.bench.cut_again import cut_again_after_the_iron, waiting_in
from orders.models import Block, Move, Order, Piece, Shirt
from orders.planning import garment_of, piece_id, piece_of
from orders.quilt.blocks import label
from planner.brief import read_quilt
from planner.care import needs
from planner.materials import ShirtCut, shirt_cuts
from planner.quilt import Bag, Quilt

Found = Mapping[int, dict[str, Piece]]


@dataclass(frozen=True)
class OfAll:
    """A batch over all orders: the orders it comes from, beside what a batch of one order has."""

    batch: Batch
    orders: tuple[Order, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Each piece as its tag says, such as 31-09F."""
        return tuple(each.name for item in self.batch.items for each in item.cuttings)


def waiting_for_the_iron(*, rough: int) -> tuple[OfAll, ...]:
    """Return what is cut, not held and not fused yet, of every order in work, coolest first.

    It asks the database as often for sixty orders as for one. `rough` is what the first cut leaves, in ticks.
    """
    blocks = _blocks()
    orders = {block.order_id: block.order for block in blocks}
    quilts, pieces = _quilts(orders), _pieces(orders)
    sizes = {pk: _sizes(quilts[pk], pieces[pk], rough) for pk in quilts}
    again = cut_again_after_the_iron(orders.values())
    piles: dict[tuple[int, str], list[Item]] = {}
    for block in blocks:
        names = waiting_in(block, _names_in(block, quilts.get(block.order_id)), again)
        item = _item(block, names, pieces[block.order_id], sizes)
        if item.cuttings:
            coolest = min(item.cuttings, key=lambda each: each.care.heat)
            piles.setdefault((coolest.care.heat, coolest.care.cover), []).append(item)
    return tuple(_of_all(heat, cover, items) for (heat, cover), items in sorted(piles.items()))


def _blocks() -> list[Block]:
    waiting = Block.objects.filter(progress=Block.Progress.CUT, held="", order__paused_at=None)
    here = waiting.filter(order__in=Order.objects.in_the_workroom())
    return list(here.select_related("order", "piece").order_by("order__number", "cell"))


def _quilts(orders: Mapping[int, Order]) -> dict[int, Quilt]:
    """The layout of each order as it stands."""
    standing = Move.objects.filter(design__order__in=orders, number=F("design__at"))
    return {move.design.order_id: read_quilt(move.quilt) for move in standing.select_related("design")}


def _pieces(orders: Mapping[int, Order]) -> Found:
    """The pieces of each order by name, each knowing its shirt."""
    shirts = Shirt.objects.filter(bag__orders__in=orders, state__in=["in work", "used"], guest=False)
    found: dict[int, dict[str, Piece]] = {pk: {} for pk in orders}
    for shirt in shirts.distinct().prefetch_related("pieces__photo", "photos", "bag__orders"):
        for piece in shirt.pieces.all():
            piece.shirt = shirt
            for order in shirt.bag.orders.all():
                found.get(order.pk, {})[piece_id(piece)] = piece
    return found


def _sizes(quilt: Quilt, pieces: Mapping[str, Piece], rough: int) -> dict[str, ShirtCut]:
    placed = [each.piece for each in quilt.with_pieces()]
    if not all(name in pieces for name in placed):
        return {}
    held = [pieces[name] for name in placed if name]
    garments = {f"S{piece.shirt_id}": garment_of(piece.shirt) for piece in held}
    bag = Bag(tuple(garments.values()), tuple(piece_of(piece) for piece in held))
    return {each.piece: each for each in shirt_cuts(quilt, bag, rough=rough)}


def _names_in(block: Block, quilt: Quilt | None) -> list[str]:
    cell = next((each for each in quilt.cells if each.id == block.cell), None) if quilt else None
    return [each.piece for each in cell.with_pieces() if each.piece] if cell else []


def _item(
    block: Block,
    names: Iterable[str],
    pieces: Mapping[str, Piece],
    sizes: Mapping[int, dict[str, ShirtCut]],
) -> Item:
    known = sizes.get(block.order_id, {})
    cuttings = tuple(
        _cutting(block.order, pieces[name], known[name]) for name in names if name in pieces and name in known
    )
    name = cuttings[0].name if len(cuttings) == 1 else f"{block.order.number} block {block.cell}"
    return Item(block, name, cuttings)


def _cutting(order: Order, piece: Piece, sizes: ShirtCut) -> Cutting:
    return Cutting(
        piece=piece,
        name=label(order, piece),
        sizes=sizes,
        care=needs(garment_of(piece.shirt), piece_of(piece)),
        yes=None,
        photo=piece.photo or next(iter(piece.shirt.photos.all()), None),
    )


def _of_all(heat: int, cover: str, items: Iterable[Item]) -> OfAll:
    every = tuple(items)
    cares = [each.care for item in every for each in item.cuttings]
    cautions = tuple({words: None for care in cares for words in care.cautions})
    batch = Batch(heat, cover, min(care.seconds for care in cares), every, cautions)
    return OfAll(batch, tuple({item.block.order_id: item.block.order for item in every}.values()))
