"""Her yes: to which pieces it was said, whether her picture is the one that stands, what to write to her."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from orders.drawn import Room, left_out_of
from orders.models import ApprovedPiece, AskedSingly, Consent, Design, DesignVersion, Order, Piece, Shop
from orders.models.blade import covers
from orders.models.design import fingerprint
from planner.brief import as_json
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
class ToPicture:
    """The last version asked about, what was said to it, and whether the draft is still that picture."""

    version: DesignVersion | None
    yes: Consent | None
    wishes: tuple[Consent, ...]
    is_current: bool

    @property
    def is_asked(self) -> bool:
        return self.version is not None and self.is_current

    @property
    def is_said(self) -> bool:
        return self.yes is not None and self.is_current


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


def to_picture(order: Order, quilt: Quilt | None) -> ToPicture:
    """Return where the yes to the picture stands."""
    version = order.versions.order_by("-number").first()
    said = list(order.consents.filter(version=version, withdrawn_at=None)) if version else []
    yes = next((each for each in said if each.kind == Consent.Kind.PICTURE), None)
    wishes = tuple(each for each in said if each.kind == Consent.Kind.WISH)
    current = version is not None and quilt is not None and version.fingerprint == fingerprint(as_json(quilt))
    return ToPicture(version, yes, wishes, current)


def words_to_send(order: Order, quilt: Quilt, left_out: list[str], shop: Shop) -> str:
    """Return what to write beside the picture in a letter or a text message."""
    blocks = sum(1 for _ in quilt.with_pieces())
    out = f" Left out: {', '.join(left_out)}." if left_out else " Nothing is left out."
    size = finished_size(quilt.size, shop.unit)
    return (
        f"Here is the picture of your quilt, No. {order.number}: {blocks} shirts, {size}, "
        f"before the first wash.{out} Please look at every block: which print, which square, which cloth. "
        f"If all is as you want it, answer yes. If not, write what should change."
    )


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
    left_out = [piece.name for piece, _ in left_out_of(room)]
    words = words_to_send(room.order, room.quilt, left_out, room.shop) if room.quilt else ""
    return {"to_picture": to_picture(room.order, room.quilt), "words": words}
