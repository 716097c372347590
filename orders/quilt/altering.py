"""Blocks altered: strips round a shirt, its other side, a border round the quilt, a shirt brought back.

Each verb names the move it was looking at (`seen`), is one move that undo takes back, and says in words
what was done.
"""

from __future__ import annotations

from django.db import transaction

from orders.models import Design, Order, Person, Piece, Shop
from orders.planning import piece_id, piece_of
from orders.quilt import block_moves, block_panels, block_strips, layouts, wants
from orders.quilt.block_fit import strips_in
from planner import quilt as planned
from planner.units import Sides, show_length


@transaction.atomic
def add_strips(order: Order, cell: str, frame: Sides | None, *, seen: int, by: Person) -> str:
    """Put strips round the shirt of a block; None are those that its cloth needs, no width takes them off."""
    design, quilt = layouts.standing(order)
    piece, unit = _piece_in(order, quilt, cell), _unit()
    if frame is None:
        at = block_moves.block(quilt, cell)
        frame = strips_in(piece, at.at.size, turn=at.turn, unit=unit).frame or Sides()
    words = _strips_words(piece.id, frame, unit)
    if not layouts.is_done(design, words, seen):
        after = block_strips.framed(quilt, cell, frame, piece=piece, unit=unit)
        layouts.draw(order, design, after, words, seen=seen, by=by)
    return words


@transaction.atomic
def show_instead(order: Order, cell: str, piece: Piece, *, seen: int, by: Person) -> str:
    """Show another piece in a block; the one that was there is left out, and says for which."""
    design, quilt = layouts.standing(order)
    old, new = block_moves.block(quilt, cell).piece, piece_id(piece)
    words = f"{new} shown instead of {old}" if old else f"{new} put on plain cloth"
    if layouts.is_done(design, words, seen):
        return words
    if old is not None:
        layouts.refuse_what_is_cut(order, old)
    after = block_panels.shown_instead(quilt, cell, piece_of(piece), unit=_unit())
    said = wants.to_want(order, new) | wants.to_leave_out(order, old, f"{new} is shown instead.")
    pins = _pins_after(design, quilt, after, cell)
    layouts.draw(order, design, after, words, seen=seen, by=by, wants=said, pins=pins)
    return words


@transaction.atomic
def bring_back(order: Order, piece: Piece, *, seen: int, by: Person) -> str:
    """Want a piece again that was left out: on plain cloth that it fits, else in the next layout.

    Returns in words what was done; nothing where no plain block takes it.
    """
    design, quilt = layouts.drawn(order)
    words = f"{piece_id(piece)} brought back"
    if quilt is None or layouts.is_done(design, words, seen):
        return words if quilt else _only_want(order, piece, by=by)
    if any(piece_id(piece) in block_moves.pieces_in(cell) for cell in quilt.cells):
        return _only_want(order, piece, by=by)
    place = block_panels.plain_block_for(quilt, piece_of(piece), unit=_unit())
    if place is None:
        return _only_want(order, piece, by=by)
    after = block_panels.shown_instead(quilt, place.id, piece_of(piece), unit=_unit())
    said = wants.to_want(order, piece_id(piece))
    pins = _pins_after(design, quilt, after, place.id)
    layouts.draw(order, design, after, words, seen=seen, by=by, wants=said, pins=pins)
    return words


@transaction.atomic
def add_border(order: Order, *, across: int, down: int, seen: int, by: Person) -> str:
    """Put a border round the quilt, so wide at both sides and at top and bottom; two times 0 takes it off."""
    design, quilt = layouts.standing(order)
    words = _border_words(across, down, _unit())
    if not layouts.is_done(design, words, seen):
        after = block_strips.bordered(quilt, across=across, down=down)
        layouts.draw(order, design, after, words, seen=seen, by=by)
    return words


def _piece_in(order: Order, quilt: planned.Quilt, cell: str) -> planned.Piece:
    name = block_moves.block(quilt, cell).piece
    found = next((each for each in layouts.pieces_of(order) if piece_id(each) == name), None)
    if found is None:
        raise block_moves.CannotMove("Strips go round a shirt. Choose a block with one shirt in it.")
    return piece_of(found)


def _pins_after(design: Design, before: planned.Quilt, after: planned.Quilt, cell: str) -> list[str]:
    """The pins, with that of the block that was there in the new one, for it is the place that is pinned."""
    pins, known = layouts.pins_of(design), {each.id for each in before.cells}
    new = [each.id for each in after.cells if each.id not in known]
    return [*pins, *new] if cell in pins else pins


def _only_want(order: Order, piece: Piece, *, by: Person) -> str:
    wants.bring_back(order, piece, by=by)
    return ""


def _strips_words(name: str, frame: Sides, unit: str) -> str:
    widths = {frame.top, frame.right, frame.bottom, frame.left} - {0}
    if not widths:
        return f"Strips of {name} taken off"
    return (
        f"Strips of {_shown(widths.pop(), unit)} round {name}" if len(widths) == 1 else f"Strips round {name}"
    )


def _border_words(across: int, down: int, unit: str) -> str:
    if not across and not down:
        return "Border taken off"
    if across == down:
        return f"A border of {_shown(across, unit)} all round"
    sides = f"{_shown(across, unit)} at both sides" if across else ""
    ends = f"{_shown(down, unit)} at top and bottom" if down else ""
    return f"A border of {', '.join(filter(None, (sides, ends)))}"


def _shown(length: int, unit: str) -> str:
    return show_length(length, unit=unit, rounding="nearest").removeprefix("about ")


def _unit() -> str:
    shop = Shop.objects.the()
    return shop.unit if shop else "in"
