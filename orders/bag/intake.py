"""Garments come in: one tap each for what it is, which print is kept and how that feels.

What nobody has measured yet starts from the usual of its kind, and says so until it is measured.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db import IntegrityError, transaction

from orders.bag.kinds import Kind, kind_of
from orders.bag.panels import counted
from orders.colors.colors import middle_color
from orders.colors.shirt_colors import send_colors
from orders.models import Bag, Event, Order, Person, Photo, Piece, Shirt
from planner.units import INCH, Sides, Size

APART = ("mold", "insects", "soiled")  # what keeps a whole bag sealed, the gravest first
MARKS = {"smoke": "smoke", "soiled": "soiled", "mold": "mould"}  # of a bag, as flags of its shirts


@dataclass(frozen=True)
class Said:
    """What was tapped while it lay on the table; `facts` are fields of a shirt that were told as well.

    `number` is what stands on its tag, `offered` what the phone had shown for it.
    """

    kind: str
    keep: str
    feel: str
    number: int | None = None
    offered: int | None = None
    garments: int = 1
    guest: bool = False
    facts: Mapping[str, Any] = field(default_factory=dict)


class TagTaken(Exception):
    """A tag was written that another shirt has."""

    def __init__(self, number: int, other: Shirt) -> None:
        super().__init__(
            f"{number:02d} is a {other.kind} that is logged already. Look at both tags, and leave this"
            " one’s number as it was offered."
        )
        self.other = other


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

    The photo was received for nothing yet; it becomes the shirt's. Raises TagTaken for a number
    that somebody typed; one that was only offered makes way for the next, and the shirt says so.
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
    kind = kind_of(said.kind)
    number = _number_of(locked, said)
    shirt = Shirt.objects.create(
        bag=locked, number=number, client_id=client_id, **_facts_of(kind, said, locked, number)
    )
    for at, side in enumerate(_sides(kind, said)):
        # One photo shows one side; the other is taken later, and is lacking until then.
        of_side = photo if at < said.garments else None
        _add(shirt, side, print_kind=said.feel, photo=of_side, color=color if at == 0 else "")
    if photo is not None:
        Photo.objects.filter(pk=photo.pk, shirt=None).update(shirt=shirt)
        send_colors(Photo.objects.get(pk=photo.pk))
    Event.objects.note(
        "logged", by=by, order=order, bag=bag.pk, shirt=number, garments=said.garments, guest=said.guest
    )
    return shirt


def _number_of(bag: Bag, said: Said) -> int:
    """The number on its tag; in the transaction that logs it."""
    number = bag.number_for(said.number)
    if said.number not in (None, said.offered, number):
        other = bag.with_number(said.number or 0)
        if other is not None:
            raise TagTaken(other.number, other)
    return number


def _facts_of(kind: Kind, said: Said, bag: Bag, number: int) -> dict[str, Any]:
    usual = {
        "kind": kind.word,
        "fibres": dict(kind.fibres),
        "label_read": False,
        "knit": kind.knit,
        "stretch": kind.stretch,
        "thickness": kind.thickness,
        "flags": [*dict.fromkeys((*flags_of(bag), *kind.flags))],
        "apart": next((why for why in APART if getattr(bag, why)), ""),
        "garments": said.garments,
        "guest": said.guest,
        "wrong_tag": said.number if said.number not in (None, number) else None,
    }
    return usual | dict(said.facts)


def _sides(kind: Kind, said: Said) -> Iterator[str]:
    """The sides that are kept: each once, or of a group each as often as there are garments."""
    for side in kind.sides(said.keep):
        yield side
        yield from (f"{side}-{number}" for number in range(2, said.garments + 1))


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
    _show(photo, list(shirt.pieces.filter(photo=None)))


@transaction.atomic
def show_first_panel_on(photo: Photo, shirt: Shirt) -> None:
    """Let the side that was logged first show the photo that came after its taps; twice is once.

    The other side of a shirt waits for a photo of its own.
    """
    pieces = list(shirt.pieces.order_by("pk"))
    first = [piece for piece in pieces if counted(piece.side)[0] == counted(pieces[0].side)[0]]
    _show(photo, [piece for piece in first if piece.photo_id is None])


def _show(photo: Photo, pieces: list[Piece]) -> None:
    color = middle_color(photo) if pieces else ""
    for piece in pieces:
        size = Size(piece.print_width or INCH, piece.print_height or INCH)
        piece.photo, piece.box = photo, usual_box(size, photo)
        if not piece.ground:
            piece.ground, piece.ground_is_about = color, bool(color)
        piece.save(update_fields=["photo", "box", "ground", "ground_is_about"])
    send_colors(photo)


def _add(shirt: Shirt, side: str, *, print_kind: str, photo: Photo | None, color: str) -> Piece:
    usual = kind_of(shirt.kind).size_of(counted(side)[0])
    shown = Size(usual.print_size.width or INCH, usual.print_size.height or INCH)
    return Piece.objects.create(
        shirt=shirt,
        side=side,
        print_kind=print_kind,
        photo=photo,
        ground=color,
        ground_is_about=bool(color),
        box=usual_box(shown, photo) if photo else None,
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
    """Write what is known of a bag; a count that changed is noted as a count of its own.

    What is now true of the whole bag becomes true of each shirt that is here.
    """
    before, had = bag.count, set(flags_of(bag))
    bag.change(seen=seen, **facts)
    if bag.count != before:
        Event.objects.note("counted", by=by, bag=bag.pk, before=before, count=bag.count)
    for shirt in bag.shirts.filter(state=Shirt.State.IN_WORK):
        _mark(shirt, [flag for flag in flags_of(bag) if flag not in had])
    Event.objects.note("bag written", by=by, bag=bag.pk)


def _mark(shirt: Shirt, flags: list[str]) -> None:
    added = [flag for flag in flags if flag not in shirt.flags]
    if added:
        Shirt.objects.filter(pk=shirt.pk).update(flags=[*shirt.flags, *added])


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


def flags_of(bag: Bag) -> list[str]:
    """Return what is true of the whole bag as flags of a shirt, until somebody says otherwise of one."""
    return [flag for mark, flag in MARKS.items() if getattr(bag, mark)]
