"""Shirts come in: one tap each for what it is, which print is kept and how that feels.

What nobody has measured yet starts from the usual of its kind, and says so until it is measured.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db import IntegrityError, transaction

from orders.colors import middle_color
from orders.models import Bag, Event, Order, Person, Photo, Piece, Shirt
from planner.units import INCH, Sides, Size


@dataclass(frozen=True)
class Kind:
    """What a garment of this kind usually is; no fibers stand for a label nobody has read."""

    word: str
    fibres: Mapping[str, str] = field(default_factory=dict)
    stretch: str = "medium"


@dataclass(frozen=True)
class Usual:
    """The usual print and the cloth beyond it."""

    print_size: Size
    free: Sides


KINDS = {
    "cotton": Kind("tee", {"cotton": "100"}),
    "sport": Kind("sport tee", {"polyester": "100"}, "high"),
    "other": Kind("garment", {}, "high"),
}
# A full front of 11 × 12 and a full back of 12 × 14 in on an adult S/M: the lesser of the usable
# rectangles of trade handbook 3.1 (prints: P2; the cloth beyond them common practice).
USUAL = {
    "front": Usual(Size(11 * INCH, 12 * INCH), Sides(2 * INCH, 5 * INCH // 2, 4 * INCH, 5 * INCH // 2)),
    "back": Usual(Size(12 * INCH, 14 * INCH), Sides(2 * INCH, 2 * INCH, 2 * INCH, 2 * INCH)),
    "sleeve-l": Usual(Size(3 * INCH, 3 * INCH), Sides(INCH, INCH, 2 * INCH, INCH)),
    "sleeve-r": Usual(Size(3 * INCH, 3 * INCH), Sides(INCH, INCH, 2 * INCH, INCH)),
    "pocket": Usual(Size(3 * INCH, 3 * INCH), Sides(INCH, INCH, INCH, INCH)),
}
SIDES_KEPT = {"front": ("front",), "back": ("back",), "both": ("front", "back")}


@dataclass(frozen=True)
class Said:
    """What was tapped while the shirt lay on the table."""

    kind: str
    keep: str
    feel: str


def log_shirt(
    bag: Bag,
    order: Order,
    said: Said,
    *,
    by: Person,
    photo: Photo | None = None,
    client_id: str | None = None,
) -> Shirt:
    """Give the next garment of a bag its number; sent twice, it is the first one again.

    The photo was received for nothing yet; it becomes the shirt's.
    """
    color = middle_color(photo) if photo else ""
    try:
        return _write(bag, order, said, by=by, photo=photo, color=color, client_id=client_id)
    except IntegrityError:  # a second phone sent the same shirt in the same moment
        before = Shirt.objects.filter(client_id=client_id).first() if client_id else None
        if before is None:
            raise
        return before


@transaction.atomic
def _write(
    bag: Bag, order: Order, said: Said, *, by: Person, photo: Photo | None, color: str, client_id: str | None
) -> Shirt:
    locked = Bag.objects.select_for_update().get(pk=bag.pk)
    before = locked.shirts.filter(client_id=client_id).first() if client_id else None
    if before is not None:
        return before
    kind = KINDS[said.kind]
    shirt = Shirt.objects.create(
        bag=locked,
        number=locked.next_number(),
        kind=kind.word,
        fibres=dict(kind.fibres),
        stretch=kind.stretch,
        flags=_flags_of(locked),
        client_id=client_id,
    )
    for number, side in enumerate(SIDES_KEPT[said.keep]):
        # One photo shows one side; the other is taken later, and is lacking until then.
        of_side = photo if number == 0 else None
        _add(shirt, side, print_kind=said.feel, photo=of_side, color=color)
    if photo is not None:
        Photo.objects.filter(pk=photo.pk, shirt=None).update(shirt=shirt)
    Event.objects.note("logged", by=by, order=order, bag=bag.pk, shirt=shirt.number)
    return shirt


@transaction.atomic
def add_panel(shirt: Shirt, side: str, *, by: Person) -> Piece:
    """Add one more side of a shirt that may go into a quilt; added twice, it is the same."""
    before = shirt.pieces.filter(side=side).first()
    if before is not None:
        return before
    first = shirt.photos.oldest_first().first()
    piece = _add(shirt, side, print_kind="unknown", photo=first, color="")
    Event.objects.note("panel added", by=by, bag=shirt.bag_id, shirt=shirt.number, side=side)
    return piece


@transaction.atomic
def show_panels_on(photo: Photo, shirt: Shirt) -> None:
    """Let the panels that have no photo yet show this one, with the color of its middle."""
    color = middle_color(photo)
    for piece in shirt.pieces.filter(photo=None):
        size = Size(piece.print_width or INCH, piece.print_height or INCH)
        piece.photo, piece.box = photo, usual_box(size, photo)
        if not piece.ground:
            piece.ground, piece.ground_is_about = color, bool(color)
        piece.save(update_fields=["photo", "box", "ground", "ground_is_about"])


def _add(shirt: Shirt, side: str, *, print_kind: str, photo: Photo | None, color: str) -> Piece:
    usual = USUAL.get(side, USUAL["front"])
    return Piece.objects.create(
        shirt=shirt,
        side=side,
        print_kind=print_kind,
        photo=photo,
        ground=color,
        ground_is_about=bool(color),
        box=usual_box(usual.print_size, photo) if photo else None,
        **sizes(usual.print_size, usual.free),
        sizes_are_usual=True,
    )


def sizes(print_size: Size, free: Sides) -> dict[str, Any]:
    """Return the fields of a piece for a print and the cloth beyond it."""
    return {
        "print_width": print_size.width,
        "print_height": print_size.height,
        "free_top": free.top,
        "free_right": free.right,
        "free_bottom": free.bottom,
        "free_left": free.left,
    }


def usual_box(print_size: Size, photo: Photo) -> dict[str, int]:
    """Return where the print usually lies on a photo of a whole shirt, in per cent: in its upper middle.

    The print takes 45 % of the photo's width, less where it would be higher than 60 % (our own
    judgment); its shape is that of the print.
    """
    width = 45
    height = round(width * print_size.height * photo.width / (print_size.width * photo.height))
    if height > 60:
        width, height = max(1, width * 60 // height), 60
    return {"x": (100 - width) // 2, "y": max(0, 46 - height // 2), "width": width, "height": max(1, height)}


@transaction.atomic
def receive_bag(
    order: Order, *, by: Person, photo: Photo | None = None, client_id: str | None = None, **facts: Any
) -> Bag:
    """Take a bag in with the photo of its pile; sent twice, it is the first one again."""
    bag = Bag.objects.receive(order, by=by, client_id=client_id, **facts)
    if photo is not None:
        Photo.objects.of(None).filter(pk=photo.pk).update(bag=bag)
    return bag


@transaction.atomic
def write_bag(bag: Bag, *, seen: int, by: Person, **facts: Any) -> None:
    """Write what is known of a bag; a count that changed is noted as a count of its own."""
    before = bag.count
    bag.change(seen=seen, **facts)
    if facts["count"] != before:
        Event.objects.note("counted", by=by, bag=bag.pk, before=before, count=facts["count"])
    Event.objects.note("bag written", by=by, bag=bag.pk)


@transaction.atomic
def write_shirt(shirt: Shirt, *, seen: int, by: Person, **facts: Any) -> None:
    """Write the facts of a shirt, unless somebody else did so meanwhile (Stale)."""
    shirt.change(seen=seen, **facts)
    Event.objects.note("shirt written", by=by, bag=shirt.bag_id, shirt=shirt.number)


@transaction.atomic
def write_panel(piece: Piece, *, seen: int, by: Person, **facts: Any) -> None:
    """Write the facts of a panel, unless somebody else did so meanwhile (Stale)."""
    piece.change(seen=seen, **facts)
    Event.objects.note("panel written", by=by, order=piece.order, bag=piece.shirt.bag_id, panel=piece.name)


def lacks(shirt: Shirt) -> list[str]:
    """Name what is still to be found out about a shirt before it can be laid out."""
    pieces = list(shirt.pieces.all())
    unseen = [piece.side for piece in pieces if piece.photo_id is None]
    missing = {
        "photo": not list(shirt.photos.all()),
        f"photo of the {' and '.join(unseen)}": bool(unseen) and len(unseen) < len(pieces),
        "panel": not pieces,
        "print size": any(piece.sizes_are_usual for piece in pieces),
        "feel": any(piece.print_kind == "unknown" for piece in pieces),
    }
    return [what for what, is_missing in missing.items() if is_missing]


def _flags_of(bag: Bag) -> list[str]:
    """What is true of the whole bag is true of each shirt until somebody says otherwise."""
    marks = {"smoke": bag.smoke, "soiled": bag.soiled, "mould": bag.mold}
    return [flag for flag, is_so in marks.items() if is_so]
