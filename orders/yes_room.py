"""Her yes: to which pieces it was said, whether her picture is the one that stands, what to write to her."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from orders.drawn import Room, left_out_of
from orders.models import ApprovedPiece, Consent, Design, DesignVersion, Order, Piece, Shop
from orders.models.blade import covers
from orders.models.design import fingerprint
from planner.brief import as_json
from planner.quilt import Quilt
from planner.units import Size, show_length


@dataclass(frozen=True)
class ToCut:
    """Pieces of the layout by name: those with a yes, those to ask for, those that changed since."""

    covered: tuple[str, ...]
    to_ask: tuple[str, ...]
    changed: tuple[str, ...]
    said: tuple[Consent, ...]

    @property
    def total(self) -> int:
        return len(self.covered) + len(self.to_ask)


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
    approvals = ApprovedPiece.objects.filter(order=order, withdrawn_at=None).select_related("cut")
    standing = {each.piece_id: each for each in approvals}
    sizes = Design.sizes_in(quilt) if quilt else {}
    covered, changed = [], []
    for name in names:
        approved = standing.get(pieces[name].pk)
        if approved is not None and covers(approved.facts, pieces[name], sizes=sizes):
            covered.append(name)
        elif approved is not None:
            changed.append(name)
    said = order.consents.filter(kind=Consent.Kind.CUT, withdrawn_at=None).order_by("at", "pk")
    rest = [name for name in names if name not in covered]
    return ToCut(tuple(covered), tuple(rest), tuple(changed), tuple(said))


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
