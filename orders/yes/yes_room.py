"""Her yes: to which pieces it was said, whether her picture is the one that stands, what to write to her."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from orders.forms.picture import PictureSaidForm, WishSaidForm
from orders.models import ApprovedPiece, AskedSingly, Consent, Design, Order, Piece, Shop
from orders.models.blade import covers
from orders.quilt.compromises import compromises
from orders.quilt.drawn import Room, left_out_of
from orders.templatetags.shop import day as short
from orders.yes.picture_changes import Change
from orders.yes.picture_standing import to_picture
from planner.quilt import Quilt
from planner.units import Size, show_length


@dataclass(frozen=True)
class ToCut:
    """Pieces of the layout by name: with a yes, to ask for, to ask for singly, and changed since the yes."""

    covered: tuple[str, ...]
    to_ask: tuple[str, ...]
    singly: tuple[str, ...]
    changed: tuple[str, ...]
    said: tuple[Consent, ...]

    @property
    def total(self) -> int:
        return len(self.covered) + len(self.to_ask) + len(self.singly)

    @property
    def is_said(self) -> bool:
        """Say whether every piece of the layout may be cut."""
        return self.total > 0 and len(self.covered) == self.total


@dataclass(frozen=True)
class Told:
    """What goes with a picture: what is left out, what changed since the yes, compromises, until when."""

    left_out: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    compromises: tuple[str, ...] = ()
    keeps: str = ""


def to_cut(order: Order, quilt: Quilt | None, pieces: Mapping[str, Piece]) -> ToCut:
    """Return where the yes to cut stands for the pieces of the layout."""
    placed = [cell.piece or "" for cell in quilt.with_pieces()] if quilt else []
    names = [name for name in placed if name in pieces]
    approvals = ApprovedPiece.objects.standing().filter(order=order)
    standing = {each.piece_id: each for each in approvals}
    sizes = Design.sizes_in(quilt) if quilt else {}
    covered, changed = [], []
    for name in names:
        approved = standing.get(pieces[name].pk)
        if approved is not None and covers(approved.facts, pieces[name], sizes=sizes):
            covered.append(name)
        elif approved is not None:
            changed.append(name)
    said = order.consents.standing().filter(kind=Consent.Kind.CUT).order_by("at", "pk")
    alone = set(AskedSingly.objects.filter(shirt__bag__orders=order).values_list("shirt", flat=True))
    rest = [name for name in names if name not in covered]
    return ToCut(
        covered=tuple(covered),
        to_ask=tuple(name for name in rest if pieces[name].shirt_id not in alone),
        singly=tuple(name for name in rest if pieces[name].shirt_id in alone),
        changed=tuple(changed),
        said=tuple(said.select_related("piece__shirt")),
    )


def words_to_send(order: Order, quilt: Quilt, told: Told, shop: Shop) -> str:
    """Return what to write beside the picture in a letter or a text message."""
    blocks = sum(1 for _ in quilt.with_pieces())
    out = f" Left out: {', '.join(told.left_out)}." if told.left_out else " Nothing is left out."
    size = finished_size(quilt.size, shop.unit)
    if told.changes:
        since = " ".join(change.words for change in told.changes)
        ask = f"Only this changed since your yes: {since} The rest stays as you agreed."
    else:
        seen = f" Please see: {' '.join(told.compromises)}" if told.compromises else ""
        ask = f"Please look at every block: which print, which square, which cloth.{seen}"
    keeps = f" {told.keeps}" if told.keeps else ""
    return (
        f"Here is the picture of {order.your_thing}, No. {order.number}: {blocks} shirts, {size}, "
        f"before the first wash.{out} {ask} "
        f"If all is as you want it, answer yes. If not, write what should change.{keeps}"
    )


def keeps_the_day(order: Order, answer_by: date | None, today: date) -> str:
    """Say until when an answer keeps the day planned for; nothing where no day is at stake."""
    if answer_by is None or order.promised_for is None:
        return ""
    if answer_by < today:
        return f"There was room until {short(answer_by, today)}. {short(order.promised_for, today)} may move."
    return f"An answer by {short(answer_by, today)} keeps {short(order.promised_for, today)}."


def caption_of(order: Order, quilt: Quilt, shop: Shop) -> str:
    """Return what a picture says of itself: the number, which picture it is, blocks and size."""
    asked = to_picture(order, quilt)
    which = f"picture {asked.version.number}" if asked.version and asked.is_current else "not asked about yet"
    blocks = len(quilt.cells)
    size = finished_size(quilt.size, shop.unit)
    return f"No. {order.number}, {which}. {blocks} blocks, {size}, before the first wash."


def finished_size(size: Size, unit: str) -> str:
    """Return a finished size in full: `50 across, 66 down`; in centimeters the unit is said."""
    across, down = (
        show_length(side, unit=unit, rounding="nearest").removeprefix("about ")
        for side in (size.width, size.height)
    )
    words = f"{across} across, {down} down"
    return words.replace(" in ", " ") if unit == "in" else words


def shown(room: Room) -> dict[str, Any]:
    """Return what the section of her yes shows."""
    order, shop, quilt = room.order, room.shop, room.quilt
    stands = to_picture(order, quilt, unit=shop.unit)
    asks_to_move = not order.memorial and not hasattr(order, "leave_to_move")
    said = {"said_by": order.approver, "number": stands.version.number if stands.version else None}
    answer_by = stands.version.answer_by if stands.version and stands.is_asked else None
    keeps = keeps_the_day(order, answer_by, shop.today())
    left_out = tuple(piece.name for piece, _ in left_out_of(room))
    told = Told(left_out, stands.changes, compromises(room), keeps)
    return {
        "to_picture": stands,
        "keeps": keeps,
        "words": words_to_send(order, quilt, told, shop) if quilt else "",
        "leave": getattr(order, "leave_to_move", None),
        "picture_form": PictureSaidForm(initial=said, asks_to_move=asks_to_move),
        "her_wish_form": WishSaidForm(initial=said, prefix="wish"),
    }
