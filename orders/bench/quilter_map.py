"""Where a quilt melts and where it breaks needles, drawn for whoever quilts it: black and white, top up."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders.bench.bench import Bench, Item
from orders.planning import garment_of, piece_of
from planner.care import hard_items, show_heat
from planner.care.warnings import STOP_BELOW
from planner.quilt import Cell, Quilt
from planner.units import INCH

UNIT = INCH // 8
TOP = 60


@dataclass(frozen=True)
class Marked:
    """A block to mind: what it bears where it melts below the usual heat, what is hard in it."""

    name: str
    melts: str
    hard: tuple[str, ...]


def marked_blocks(lies: Bench, *, unit: str) -> dict[str, Marked]:
    """Return by its cell each block that bears less than 300 °F or has something hard in it."""
    found = {item.block.cell: _marked(item, unit) for item in lies.items}
    return {cell: each for cell, each in found.items() if each.melts or each.hard}


def _marked(item: Item, unit: str) -> Marked:
    hard = (hard_items(garment_of(each.piece.shirt), piece_of(each.piece)) for each in item.cuttings)
    melts = item.cuttings and item.heat < STOP_BELOW
    heat = show_heat(item.heat, unit="F" if unit == "in" else "C") if melts else ""
    return Marked(item.name, heat, tuple(dict.fromkeys(words for each in hard for words in each)))


def map_of(quilt: Quilt, marked: dict[str, Marked]) -> SafeString:
    """Draw the quilt to scale: hatched is what melts, a cross is what is hard, each with its number."""
    wide, high = quilt.size.width // UNIT, quilt.size.height // UNIT
    blocks = "".join(_block(cell, marked.get(cell.id)) for cell in quilt.cells)
    names = ", ".join(each.name for each in marked.values()) or "none"
    words = f"The quilt, its top edge up. Blocks to mind: {names}"
    return mark_safe(
        f'<svg class="quilter-map" font-family="Atkinson, sans-serif" '
        f'viewBox="-4 0 {wide + 8} {high + TOP + 4}" role="img" aria-label="{escape(words)}">'
        '<defs><pattern id="melts" width="14" height="14" patternUnits="userSpaceOnUse">'
        '<path d="M0 14L14 0" stroke="#8a8a8a" stroke-width="2"/></pattern></defs>'
        f'<text x="{wide // 2}" y="40" font-size="36" font-weight="700" text-anchor="middle">TOP EDGE</text>'
        f'<g transform="translate(0 {TOP})"><rect width="{wide}" height="{high}" fill="#fff" stroke="#000" '
        f'stroke-width="5"/>{blocks}</g></svg>'
    )


def _block(cell: Cell, marked: Marked | None) -> str:
    x, y, wide, high = (side // UNIT for side in (cell.at.x, cell.at.y, cell.at.width, cell.at.height))
    fill = "url(#melts)" if marked and marked.melts else "#fff"
    box = (
        f'<rect x="{x}" y="{y}" width="{wide}" height="{high}" fill="{fill}" stroke="#000" stroke-width="2"/>'
    )
    if marked is None:
        return box
    if marked.hard:
        box += (
            f'<path d="M{x + 6} {y + 6}L{x + wide - 6} {y + high - 6}M{x + wide - 6} {y + 6}L{x + 6} '
            f'{y + high - 6}" stroke="#000" stroke-width="4"/>'
        )
    size = max(10, min(32, 3 * wide // (2 * len(marked.name))))
    middle, half = (x + wide // 2, y + high // 2), len(marked.name) * size // 3 + 6
    return (
        f'{box}<rect x="{middle[0] - half}" y="{middle[1] - size // 2 - 4}" width="{2 * half}" '
        f'height="{size + 8}" rx="6" fill="#fff" stroke="#000"/><text x="{middle[0]}" '
        f'y="{middle[1] + size // 3}" font-size="{size}" font-weight="700" text-anchor="middle">'
        f"{escape(marked.name)}</text>"
    )
