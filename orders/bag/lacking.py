"""What is still lacking, of a shirt and before a price can be told, and what was only guessed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from orders import planning
from orders.bag.keeping import has_print
from orders.bag.kinds import kind_of
from orders.models import Order, Shirt
from planner.quilt import Quilt


@dataclass(frozen=True)
class Lacks:
    """What has to be found out before a shirt can be quoted, before it is cut, before it is pressed."""

    quote: tuple[str, ...] = ()
    cut: tuple[str, ...] = ()
    press: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """Everything, each once, in the order in which it is needed."""
        return tuple(dict.fromkeys((*self.cut, *self.quote, *self.press)))

    def __bool__(self) -> bool:
        return bool(self.all)


def lacks(shirt: Shirt) -> Lacks:
    """Name what is still to be found out about a shirt; one that has left lacks nothing any more."""
    if shirt.state not in (Shirt.State.IN_WORK, Shirt.State.USED):
        return Lacks()
    apart = tuple(_why_apart(shirt))
    return Lacks(
        quote=tuple(_before_the_price(shirt)),
        cut=(*_before_the_blade(shirt), *apart),
        press=(*_before_the_iron(shirt), *apart),
    )


def _before_the_price(shirt: Shirt) -> Iterator[str]:
    pieces = list(shirt.pieces.all())
    if not pieces:
        yield "panel"
    if any(piece.sizes_are_usual and piece.wanted != "out" for piece in pieces):
        yield "print size"
    if shirt.guest:
        yield "whose it is"


def _before_the_blade(shirt: Shirt) -> Iterator[str]:
    pieces = list(shirt.pieces.all())
    unseen = [piece.side for piece in pieces if piece.photo_id is None]
    if not list(shirt.photos.all()):
        yield "photo"
    if unseen and len(unseen) < len(pieces):
        yield f"photo of the {' and '.join(unseen)}"
    if shirt.wrong_tag is not None:
        yield f"{shirt} on its tag instead of {shirt.wrong_tag:02d}"
    if kind_of(shirt.kind).has_pockets and shirt.pockets == Shirt.Pockets.NOT_SEEN:
        yield "look into the pockets"


def _before_the_iron(shirt: Shirt) -> Iterator[str]:
    if any(piece.print_kind == "unknown" for piece in shirt.pieces.all()):
        yield "feel"
    if not shirt.label_read:
        yield "fibers"


def _why_apart(shirt: Shirt) -> Iterator[str]:
    if shirt.apart:
        yield f"leave to open it ({shirt.get_apart_display().removeprefix('apart: ')})"


def what_is_missing(order: Order, quilt: Quilt | None) -> Iterator[str]:
    """Yield a sentence for each thing a price cannot be told without."""
    lacking = [name for shirt in planning.shirts_of(order) for name in _sides_without_size(shirt, order)]
    if lacking:
        these = f"{', '.join(lacking[:6])}{' and more' if len(lacking) > 6 else ''}"
        yield f"The print of {these} has no size yet. Measure it in the Bag room."
    if quilt is None:
        yield "No layout is drawn yet. Draw one in the Quilt room, and the price follows from it."


def _sides_without_size(shirt: Shirt, order: Order) -> Iterator[str]:
    for piece in shirt.pieces.all():
        is_ours = piece.order_id in (None, order.pk) and piece.wanted != "out"
        measured = (piece.print_width and piece.print_height) or not has_print(piece)
        if is_ours and not measured:
            yield piece.name


def not_measured_or_logged(order: Order) -> Iterator[str]:
    """Yield a sentence for each thing a price can be told without, but had better not be."""
    pieces = [piece for shirt in planning.shirts_of(order) for piece in shirt.pieces.all()]
    usual = sum(piece.sizes_are_usual and piece.wanted != "out" for piece in pieces)
    if usual:
        yield f"Sizes that are the usual ones, not measured: {usual}."
    missing = sum(bag.tally().not_logged for bag in order.bags.all())
    if missing:
        yield f"Shirts counted at the door but not logged yet: {missing}."
