"""The layout of an order as it is drawn: chosen, traded, turned, pinned, left out, undone, dressed.

Each verb names the move it was looking at (`seen`), so that two people never draw over each other:
a later move stands, and the earlier page is refused (Stale). Sent twice is done once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from django.db import transaction
from django.db.models import Exists, OuterRef

from orders import planning
from orders.models import ApprovedPiece, Block, Design, Event, Move, Order, Person, Piece, Shop, Stale
from orders.planning import piece_id, piece_of, shirts_of
from orders.quilt import block_moves, wants
from planner.estimate import StageMinutes
from planner.quilt import Quilt


@transaction.atomic
def choose(
    order: Order, quilt: Quilt, words: str, *, minutes: Sequence[StageMinutes], seen: int, by: Person
) -> None:
    """Take one of the ways to lay the shirts out; stages already laid out get its minutes."""
    design, before = drawn(order)
    draw(order, design, block_moves.with_kept_ids(quilt, before), words, seen=seen, by=by)
    if order.stages.exists():
        planning.lay_out_work(order, minutes, by=by)


@transaction.atomic
def trade(order: Order, first: str, second: str, *, seen: int, by: Person) -> str:
    """Let two blocks trade places; returns in words what was done."""
    design, quilt = standing(order)
    pieces = {piece_id(piece): piece_of(piece) for piece in pieces_of(order)}
    shop = Shop.objects.the()
    unit = shop.unit if shop else "in"
    words = f"{label_of(quilt, first)} and {label_of(quilt, second)} traded places"
    if not is_done(design, words, seen):
        after = block_moves.traded(quilt, first, second, pieces=pieces, unit=unit)
        draw(order, design, after, words, seen=seen, by=by)
    return words


@transaction.atomic
def turn(order: Order, cell: str, *, seen: int, by: Person) -> str:
    """Turn a block half round; returns in words what was done."""
    design, quilt = standing(order)
    words = f"{label_of(quilt, cell)} turned round"
    if not is_done(design, words, seen):
        draw(order, design, block_moves.turned(quilt, cell), words, seen=seen, by=by)
    return words


def pin(order: Order, cell: str, *, seen: int, by: Person) -> str:
    """Pin a block where it lies, so that rearranging leaves it there; returns in words what was done."""
    design, quilt = standing(order)
    words = f"{label_of(quilt, cell)} pinned"
    if not is_done(design, words, seen):
        draw(order, design, quilt, words, seen=seen, by=by, pins=[*pins_of(design), cell])
    return words


def unpin(order: Order, cell: str, *, seen: int, by: Person) -> str:
    """Take the pin out of a block; returns in words what was done."""
    design, quilt = standing(order)
    words = f"{label_of(quilt, cell)} unpinned"
    if not is_done(design, words, seen):
        draw(order, design, quilt, words, seen=seen, by=by, pins=[p for p in pins_of(design) if p != cell])
    return words


def rearrange(
    order: Order, quilt: Quilt, words: str, *, asked: Mapping[str, Any], seen: int, by: Person
) -> None:
    """Let all blocks that moved lie as in `quilt`: one move, however many blocks it is of."""
    design, _ = standing(order)
    if not is_done(design, words, seen):
        draw(order, design, quilt, words, seen=seen, by=by, asked=dict(asked))


@transaction.atomic
def leave_out(order: Order, cell: str, *, why: str, seen: int, by: Person) -> str:
    """Leave a piece out with a reason; plain cloth takes its block. What is cut cannot be left out."""
    design, quilt = standing(order)
    name = label_of(quilt, cell)
    words = f"{name} left out"
    if is_done(design, words, seen):
        return words
    refuse_what_is_cut(order, name)
    out = wants.to_leave_out(order, name, why)
    draw(order, design, block_moves.emptied(quilt, cell), words, seen=seen, by=by, wants=out)
    return words


@transaction.atomic
def undo(order: Order, *, seen: int, by: Person) -> None:
    """Take the last move back, and with it what it said about pieces and cloth."""
    design, _ = standing(order)
    if design.moves.filter(number=seen, made_on=design.at).exists():
        return
    _refuse_stale(design, seen)
    taken_back = design.undo(by=by)
    if taken_back is not None:
        wants.put_back(order, taken_back.wants, by=by)
        _follow(order, design, "layout undone", by=by)


@transaction.atomic
def redo(order: Order, move: int, *, seen: int, by: Person) -> None:
    """Do a move again that was taken back, and say again what it said about pieces and cloth."""
    design, _ = standing(order)
    if design.at == move:
        return
    _refuse_stale(design, seen)
    again = design.redo(by=by)
    if again is not None:
        wants.say(order, again.wants, by=by)
        _follow(order, design, "layout done again", by=by)


@transaction.atomic
def dress(order: Order, cloth: Mapping[str, str], words: str, *, version: int, by: Person) -> None:
    """Choose cloth for parts of the quilt; an empty name is no cloth. `words` name it in the undo."""
    after = {role: name for role, name in {**order.cloth, **cloth}.items() if name}
    if after == order.cloth:
        return
    order.change(seen=version, cloth=after)
    Event.objects.note(
        "cloth chosen", by=by, order=order, **{role: name or "none" for role, name in cloth.items()}
    )
    design, quilt = drawn(order)
    if quilt is not None:
        draw(order, design, replace(quilt, cloth=after), words, seen=design.at, by=by)


@transaction.atomic
def wish(order: Order, *, version: int, by: Person, **wishes: object) -> None:
    """Write down the size that is wished and what the layout may be made of; other wishes stand."""
    if isinstance(wishes.get("wish"), dict):
        wishes["wish"] = {**order.wish, **wishes["wish"]}  # type: ignore[dict-item]
    if all(getattr(order, name) == value for name, value in wishes.items()):
        return
    order.change(seen=version, **wishes)
    Event.objects.note("size wished", by=by, order=order, width=order.width, height=order.height)


def drawn(order: Order) -> tuple[Design, Quilt | None]:
    """Return the design of an order, a new one if it has none, with the quilt that stands."""
    design, _ = Design.objects.get_or_create(order=order)
    return design, design.quilt


def move_number(order: Order) -> int:
    """Return the move that stands; 0 before anything was drawn."""
    design = Design.objects.filter(order=order).first()
    return design.at if design else 0


def standing_move(order: Order) -> Move | None:
    """Return the move that stands; no query if it came with the order."""
    try:
        design = order.design
    except Design.DoesNotExist:
        return None
    if hasattr(design, "standing"):
        return next(iter(design.standing), None)
    return design.last_move


def pins_of(design: Design) -> list[str]:
    """Return the blocks that are pinned in the layout that stands."""
    move = design.last_move
    return list(move.pins) if move else []


def label_of(quilt: Quilt, cell: str) -> str:
    """Return what a block is called on the picture: its piece, or plain."""
    return block_moves.called(block_moves.block(quilt, cell))


def pieces_of(order: Order) -> list[Piece]:
    """Return every piece an order may use, with shirt and photo."""
    pieces = [piece for shirt in shirts_of(order) for piece in shirt.pieces.all()]
    return [piece for piece in pieces if piece.order_id in (None, order.pk)]


def standing(order: Order) -> tuple[Design, Quilt]:
    """Return the design of an order with the quilt that stands; before there is one, say so."""
    design, quilt = drawn(order)
    if quilt is None:
        raise block_moves.CannotMove("There is no layout yet. Choose one first.")
    return design, quilt


def refuse_what_is_cut(order: Order, name: str) -> None:
    """What is cut cannot be left out any more."""
    begun = order.blocks.exclude(progress=Block.Progress.PLANNED).select_related("piece__shirt")
    cut = {piece_id(each.piece) for each in begun if each.piece}
    cut |= {piece_id(each) for each in pieces_of(order) if each.cut_width}
    if name in cut:
        raise block_moves.CannotMove(f"{name} is cut already, so it stays in the quilt.")


def is_done(design: Design, words: str, seen: int) -> bool:
    """Say whether the move that a page asks for is the one that was just made: it was sent twice."""
    return design.moves.filter(number=design.at, made_on=seen, words=words[:160]).exists()


def _refuse_stale(design: Design, seen: int) -> None:
    if design.at != seen:
        raise Stale(design)


def _follow(order: Order, design: Design, what: str, *, by: Person) -> None:
    """Let cloth, blocks and pieces be as in the move that stands now."""
    quilt = design.quilt
    assert quilt is not None
    _refuse_to_change_what_is_cut(order, quilt)
    Order.objects.filter(pk=order.pk).update(cloth=dict(quilt.cloth))
    planning.keep_blocks(order, quilt)
    _claim_pieces(order, quilt)
    Event.objects.note(what, by=by, order=order, move=design.at)


def _refuse_to_change_what_is_cut(order: Order, quilt: Quilt) -> None:
    """What was cut since a move was made stays in the quilt, and stays as large as it was cut."""
    sizes = Design.sizes_in(quilt)
    for piece in pieces_of(order):
        if piece.cut_width and sizes.get(piece_id(piece)) != [piece.cut_width, piece.cut_height]:
            raise block_moves.CannotMove(
                f"{piece_id(piece)} was cut since then, and the layout before it has no place of that size."
            )


@transaction.atomic
def draw(
    order: Order, design: Design, quilt: Quilt, words: str, *, seen: int, by: Person, **said: Any
) -> None:
    """Make the move unless the quilt stands so already; keep a row for each block, and claim the pieces.

    `pins`, `asked` and `wants` are what the move says of blocks, of the search and of pieces.
    """
    locked = Design.objects.select_for_update().get(pk=design.pk)
    before = locked.quilt
    if before == quilt and sorted(said.get("pins", pins_of(locked))) == pins_of(locked):
        return
    _refuse_stale(locked, seen)
    locked.draw(quilt, words[:160], by=by, **said)
    wants.say(order, said.get("wants", {}), by=by)
    # Another cloth moves no block and no piece; this is what answers while cloth is tried.
    if before is None or replace(before, cloth=quilt.cloth) != quilt:
        planning.keep_blocks(order, quilt)
        _claim_pieces(order, quilt)
    Event.objects.note("layout drawn", by=by, order=order, words=words)


def _claim_pieces(order: Order, quilt: Quilt) -> None:
    """A piece in the layout is this order's; one that was taken out is free, unless its yes stands."""
    used = {cell.piece for cell in quilt.with_pieces()}
    _refuse_those_of_another(order, used)
    pieces = pieces_of(order)
    mine = [piece.pk for piece in pieces if piece_id(piece) in used]
    others = [piece.pk for piece in pieces if piece_id(piece) not in used]
    Piece.objects.filter(pk__in=mine).update(order=order)
    free = Piece.objects.filter(pk__in=others, order=order)
    standing = ApprovedPiece.objects.standing().filter(piece=OuterRef("pk"))
    free.exclude(Exists(standing)).update(order=None)


def _refuse_those_of_another(order: Order, used: set[str | None]) -> None:
    """A piece goes into one quilt: another of the same bag may have taken it since this was reckoned."""
    held = Piece.objects.select_for_update(of=("self",)).filter(shirt__bag__orders=order).order_by("pk")
    for piece in held.select_related("shirt", "order"):
        if piece.order and piece.order != order and piece_id(piece) in used:
            raise block_moves.CannotMove(
                f"{piece_id(piece)} went into No. {piece.order.number} meanwhile. Look at the ways again."
            )
