"""What stands in the hand-over booklet: each shirt before cutting, its story, where it lies in the quilt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders import planning
from orders.account.money import the_shop
from orders.bag.panels import label_of
from orders.models import Order, Piece, Shirt
from orders.quilt.blocks import drawn_quilt
from planner.quilt import Cell, Quilt

from .cover import cover_of
from .saying import in_words

ACROSS = ("left", "middle", "right")
DOWN = ("upper", "middle", "lower")


def booklet_facts(order: Order) -> dict[str, Any]:
    """Return a page's worth for each shirt that is in the quilt, in the order of its numbers."""
    shop, quilt = the_shop(), drawn_quilt(order)
    places = dict(_places(quilt)) if quilt else {}
    shirts = [
        _shirt(shirt, quilt, places)
        for shirt in _shirts_of(order)
        if quilt and any(planning.piece_id(piece) in places for piece in shirt.pieces.all())
    ]
    garments = sum(each["garments"] for each in shirts)
    return {
        "order": order.number,
        "title": order.title,
        "recipient": order.recipient,
        "occasion": "" if order.memorial else order.occasion,
        "memorial": order.memorial,
        "year": shop.today().year,
        "maker": shop.name,
        "label": order.label_words.splitlines(),
        "in_words": in_words(garments),
        "count": garments,
        "shirts": shirts,
        "cover": cover_of(order),
    }


def _shirts_of(order: Order) -> list[Shirt]:
    found = Shirt.objects.filter(bag__orders=order).exclude(state=Shirt.State.STRUCK)
    return list(found.prefetch_related("pieces__order", "photos").order_by("bag", "number").distinct())


def _shirt(shirt: Shirt, quilt: Quilt, places: dict[str, Cell]) -> dict[str, Any]:
    photos = sorted(shirt.photos.all(), key=lambda each: (each.received_at, each.pk))
    mine = [piece for piece in shirt.pieces.all() if planning.piece_id(piece) in places]
    cells = [places[planning.piece_id(piece)] for piece in mine]
    return {
        "number": str(shirt),
        "kind": shirt.kind,
        "garments": shirt.garments,
        "story": shirt.story,
        "photo": photos[0].pk if photos else None,
        "where": [_where(piece, cell, quilt) for piece, cell in zip(mine, cells, strict=True)],
        "map": str(map_of(quilt, cells)),
    }


def _places(quilt: Quilt) -> Iterator[tuple[str, Cell]]:
    """Yield each piece of the quilt with its block; one inside a block of several lies where that lies."""
    for cell in quilt.cells:
        for part in (cell, *cell.inside):
            if part.piece:
                yield part.piece, part


def _where(piece: Piece, cell: Cell, quilt: Quilt) -> str:
    side = label_of(piece.side).lower()
    row, place = _row_and_place(cell, quilt)
    if row:
        return f"The {side}: row {row} from the top, block {place} from the left"
    return f"The {side}: {_third(cell, quilt)}"


def _row_and_place(cell: Cell, quilt: Quilt) -> tuple[int, int]:
    """Return the row and the place in it, from 1; (0, 0) where the blocks lie in no plain rows."""
    rows = sorted({each.at.y for each in quilt.cells})
    columns = sorted({each.at.x for each in quilt.cells})
    if len(rows) * len(columns) != len(quilt.cells) or cell.at.y not in rows or cell.at.x not in columns:
        return 0, 0
    return rows.index(cell.at.y) + 1, columns.index(cell.at.x) + 1


def _third(cell: Cell, quilt: Quilt) -> str:
    across = (cell.at.x + cell.at.width // 2) * 3 // quilt.size.width
    down = (cell.at.y + cell.at.height // 2) * 3 // quilt.size.height
    words = (DOWN[min(down, 2)], ACROSS[min(across, 2)])
    return "in the middle" if words == ("middle", "middle") else " ".join(dict.fromkeys(words))


def map_of(quilt: Quilt, here: list[Cell]) -> SafeString:
    """Draw the blocks as outlines with those of one shirt filled: readable in black and white."""
    ids = {cell.id for cell in here}
    blocks = [part for cell in quilt.cells for part in (cell.inside or (cell,))]
    drawn = "".join(
        f'<rect x="{cell.at.x}" y="{cell.at.y}" width="{cell.at.width}" height="{cell.at.height}" '
        f'fill="{"#23283A" if cell.id in ids else "#FFFFFF"}" stroke="#23283A" stroke-width="{line}"/>'
        for line in (max(quilt.size.width // 90, 1),)
        for cell in blocks
    )
    wide, high = quilt.size.width, quilt.size.height
    pad = wide // 60
    words = escape(f"Block {', '.join(sorted(ids))} of {len(quilt.cells)}")
    return mark_safe(
        f'<svg viewBox="{-pad} {-pad} {wide + 2 * pad} {high + 2 * pad}" role="img" aria-label="{words}">'
        f'<rect x="0" y="0" width="{wide}" height="{high}" fill="none" stroke="#23283A" '
        f'stroke-width="{max(wide // 60, 1)}"/>{drawn}</svg>'
    )
