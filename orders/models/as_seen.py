"""Orders as lists and rooms show them, with all that hangs on them: the same few questions each time."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import F, QuerySet

from .consent import Consent
from .design import Block, DesignVersion, Move
from .order import Order
from .question import Question, bring, bring_to
from .quote import Quote
from .shirt import Piece, Shirt, letters_of
from .stage import Stage

IN_THE_WORKROOM = {"order__handed_over_at": None, "order__cancelled_at": None}


@dataclass(frozen=True, slots=True)
class PieceSeen:
    """What a list shows of a piece: its name within its order, and its ground color."""

    name: str
    ground: str


@dataclass(frozen=True, slots=True)
class BlockSeen:
    """What a list shows of a block."""

    order_id: int
    cell: str
    progress: str
    held: str
    piece_id: int | None
    piece: PieceSeen | None


def cards_of_the_workroom() -> list[Any]:
    """Return the orders in the workroom, the soonest first, with what `as_cards` brings along.

    What hangs on them can be read, not asked further.
    """
    orders = _CARDS.ask()
    bring(orders, "blocks", _seen(_BLOCKS_OF_CARDS.ask()))
    for name, question in _OF_CARDS.items():
        bring(orders, name, question.ask())
    _give_layouts(orders, _MOVES_OF_CARDS.ask())
    return orders


def planned_in_the_workroom() -> list[Any]:
    """Return the orders in the workroom that are not resting, the soonest first, with stages and blocks.

    What hangs on them can be read, not asked further.
    """
    orders = _PLANNED.ask()
    bring(orders, "blocks", _seen(_BLOCKS_OF_CARDS.ask()))
    bring(orders, "stages", _OF_CARDS["stages"].ask())
    return orders


def order_in_its_room(number: int) -> Any:
    """Return an order with its state and its little quilt, or None."""
    order = next(iter(_ROOM.ask(number=number)), None)
    if order is not None:
        for name, question in OF_ONE.items():
            bring_to(order, name, question.ask(order=order.pk))
        _give_layouts([order], _MOVESOF_ONE.ask(order=order.pk))
    return order


def shirts_here(order: int) -> list[Shirt]:
    """Return the shirts of an order's bags that are still here, with their pieces and photos; never a guest.

    Their pieces can be read, not asked further.
    """
    shirts = _SHIRTS.ask(order=order)
    bring(shirts, "pieces", _PIECES.ask(order=order), by="shirt")
    return shirts


def _seen(rows: Iterable[tuple[Any, ...]]) -> Iterable[BlockSeen]:
    for order, cell, progress, held, piece, number, side, ground in rows:
        seen = None if piece is None else PieceSeen(f"{number:02d}{letters_of(side)}", ground)
        yield BlockSeen(order, cell, progress, held, piece, seen)


def _give_layouts(orders: Iterable[Any], moves: Iterable[Move]) -> None:
    """Let each design have the move that stands."""
    standing = {move.design_id: [move] for move in moves}
    for order in orders:
        design = getattr(order, "design", None)
        if design is not None:
            design.standing = standing.get(design.pk, [])


def _versions() -> QuerySet[DesignVersion]:
    return DesignVersion.objects.order_by("number")


def _moves() -> QuerySet[Move]:
    return Move.objects.filter(number=F("design__at"))


_SHOWN = (
    "order",
    "cell",
    "progress",
    "held",
    "piece",
    "piece__shirt__number",
    "piece__side",
    "piece__ground",
)
_CARDS = Question(
    lambda: (
        Order.objects.in_the_workroom()
        .as_cards()
        .prefetch_related(None)
        .select_related("design", "leave_to_move")
        .soonest_first()
    )
)
_PLANNED = Question(lambda: Order.objects.in_the_workroom().filter(paused_at=None).soonest_first())
_BLOCKS_OF_CARDS = Question(
    lambda: Block.objects.filter(**IN_THE_WORKROOM).values_list(*_SHOWN).order_by("pk")
)
_OF_CARDS = {
    "stages": Question(lambda: Stage.objects.filter(**IN_THE_WORKROOM)),
    "quotes": Question(lambda: Quote.objects.filter(**IN_THE_WORKROOM)),
    "consents": Question(lambda: Consent.objects.filter(**IN_THE_WORKROOM)),
    "versions": Question(lambda: _versions().filter(**IN_THE_WORKROOM)),
}
_MOVES_OF_CARDS = Question(
    lambda: _moves().filter(design__order__handed_over_at=None, design__order__cancelled_at=None)
)
_ROOM = Question(
    lambda number: (
        Order.objects.with_state()
        .with_little_quilt()
        .prefetch_related(None)
        .select_related("customer", "design", "leave_to_move")
        .filter(number=number)
    ),
    number=int,
)
OF_ONE = {
    "blocks": Question(
        lambda order: Block.objects.filter(order=order).select_related("piece__shirt"), order=int
    ),
    "stages": Question(lambda order: Stage.objects.filter(order=order), order=int),
    "quotes": Question(lambda order: Quote.objects.filter(order=order), order=int),
    "consents": Question(lambda order: Consent.objects.filter(order=order), order=int),
    "versions": Question(lambda order: _versions().filter(order=order), order=int),
}
_SHIRTS = Question(lambda order: Shirt.objects.here_for(order), order=int)
_PIECES = Question(
    lambda order: (
        Piece.objects.filter(shirt__in=Shirt.objects.here_for(order).order_by())
        .select_related("photo")
        .order_by("shirt", "side")
    ),
    order=int,
)
_MOVESOF_ONE = Question(lambda order: _moves().filter(design__order=order), order=int)
