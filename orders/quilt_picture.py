"""The large picture of a quilt: the real photo of each panel in its block, or its colors, and its name."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from itertools import groupby

from django.urls import reverse
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders.little_quilt import DARK, LIGHT, PLAIN, UNIT, cornerstones, readable_on
from orders.models import Photo, Piece
from planner.quilt import Cell, Quilt
from planner.units import Rect

LARGE, SMALL = 800, 320  # renditions, by their longer side in pixels
FEW_BLOCKS = 20  # above this many a block is so small on screen that the smallest rendition will do


@dataclass(frozen=True)
class View:
    """What the picture shows beside the quilt: panels, colors of cloth, blocks in chalk and under pins."""

    panels: Mapping[str, Piece] = field(default_factory=dict)
    cloth: Mapping[str, str] = field(default_factory=dict)
    chalked: Collection[str] = ()
    pinned: Collection[str] = ()
    link: Callable[[Cell], str] = lambda cell: ""


def draw(quilt: Quilt, view: View) -> SafeString:
    """Draw the quilt as SVG; each block links to its label, where the view says where that is."""
    wide, high = _n(quilt.size.width), _n(quilt.size.height)
    marked = [cell for cell in quilt.cells if cell.id in view.chalked]
    rest = [cell for cell in quilt.cells if cell.id not in view.chalked]
    blocks = "".join(_block(cell, quilt, view) for cell in [*rest, *marked])
    ground = _cloth(quilt, view) + _weave(quilt)
    return mark_safe(
        f'<svg class="big-quilt" viewBox="-3 -3 {_f(wide + 6)} {_f(high + 6)}" role="group" '
        f'aria-label="{escape(sentence(quilt))}"><defs>{WEAVE}</defs>{ground}{blocks}'
        f"{_string(marked, wide, high) if len(marked) == 1 else ''}</svg>"
    )


def thumbnail(quilt: Quilt, view: View) -> SafeString:
    """Draw the quilt small, without names and links."""
    wide, high = _n(quilt.size.width), _n(quilt.size.height)
    panels = (_panel(each, SMALL, view) for cell in quilt.cells for each in cell.inside or (cell,))
    chalk = "".join(_chalk(cell.at) for cell in quilt.cells if cell.id in view.chalked)
    return mark_safe(
        f'<svg class="lq" viewBox="-2 -2 {_f(wide + 4)} {_f(high + 4)}" role="img" '
        f'aria-label="{escape(sentence(quilt))}">{_cloth(quilt, view)}{"".join(panels)}{chalk}</svg>'
    )


def sentence(quilt: Quilt) -> str:
    """Say the picture row by row."""
    cells = sorted(quilt.cells, key=lambda cell: (cell.at.y, cell.at.x))
    rows = [
        ", ".join(cell.piece or ("several" if cell.inside else "plain cloth") for cell in row)
        for _, row in groupby(cells, key=lambda cell: cell.at.y)
    ]
    return f"The quilt picture, {len(cells)} blocks. From the top: {'; '.join(rows)}."


def without_photo(quilt: Quilt, panels: Mapping[str, Piece]) -> list[str]:
    """Name the pieces that are drawn from their colors, because no photo shows them yet."""
    names = (cell.piece for cell in quilt.with_pieces() if cell.piece)
    return [name for name in names if name not in panels or _photo(panels[name]) is None]


SHIRT = "M8.5 4 4 6.5 2.5 11l3.5 1v8.5h12V12l3.5-1L20 6.5 15.5 4c-1 2.6-6 2.6-7 0z"
WEAVE = (
    '<pattern id="weave" width="2" height="2" patternUnits="userSpaceOnUse">'
    '<path d="M0 0h1v1H0zM1 1h1v1H1z" fill="#fff" fill-opacity=".09"/></pattern>'
)


def _cloth(quilt: Quilt, view: View) -> str:
    size = Rect(0, 0, quilt.size.width, quilt.size.height)
    sashing = (view.cloth.get("sashing") if quilt.sashing else "") or PLAIN
    outside = view.cloth.get("border") if quilt.borders else sashing
    edge = view.cloth.get("binding") or outside or PLAIN
    parts = [f'<rect {_place(size)} rx="2" fill="{outside or PLAIN}"/>']
    if quilt.sashing and quilt.borders:
        parts.append(f'<rect {_place(quilt.field)} fill="{sashing}"/>')
    stone = view.cloth.get("cornerstone") or sashing
    parts += [f'<rect {_place(each)} fill="{stone}"/>' for each in cornerstones(quilt)]
    parts.append(f'<rect {_place(size)} rx="2" fill="none" stroke="{edge}" stroke-width="2.4"/>')
    return "".join(parts)


def _weave(quilt: Quilt) -> str:
    return f'<rect {_place(Rect(0, 0, quilt.size.width, quilt.size.height))} fill="url(#weave)"/>'


def _block(cell: Cell, quilt: Quilt, view: View) -> str:
    size = LARGE if len(quilt.cells) <= FEW_BLOCKS else SMALL
    drawn = "".join(_panel(each, size, view) for each in cell.inside or (cell,))
    chalk = _chalk(cell.at) if cell.id in view.chalked else ""
    name = cell.piece or ("Several pieces" if cell.inside else "Plain cloth")
    tag = _tag(cell, quilt) if cell.piece else ""
    if cell.id in view.pinned:
        name, tag = f"{name}, pinned", tag + _pin(cell, quilt)
    where = view.link(cell)
    ring = f'<rect class="ring" {_place(cell.at)}/>'
    if not where:
        return f"<g>{drawn}{chalk}{tag}</g>"
    current = ' aria-current="true"' if chalk else ""
    return f'<a href="{escape(where)}" aria-label="{escape(name)}"{current}>{drawn}{chalk}{tag}{ring}</a>'


def _panel(cell: Cell, size: int, view: View) -> str:
    frame = view.cloth.get("frame") or view.cloth.get("sashing") or PLAIN
    strips = f'<rect {_place(cell.at)} fill="{frame}"/>' if cell.frame else ""
    if cell.is_filler:
        plain = view.cloth.get("filler") or view.cloth.get("sashing") or PLAIN
        return f'<rect {_place(cell.at)} fill="{plain}"/>'
    piece = view.panels.get(cell.piece or "")
    ground = (piece.ground if piece else "") or PLAIN
    seam = f'<rect {_place(cell.room)} fill="none" stroke="#000" stroke-opacity=".2" stroke-width=".5"/>'
    return strips + _shirt(cell, piece, ground, size=size) + seam


def _shirt(cell: Cell, piece: Piece | None, ground: str, *, size: int) -> str:
    photo = _photo(piece) if piece else None
    color = f'<rect {_place(cell.room)} fill="{ground}"/>'
    if photo is None or piece is None:
        return color + _missing(cell, ground)
    left, top, width, height = piece.window
    window = [left * photo.width, top * photo.height, width * photo.width, height * photo.height]
    href = reverse("photo", args=[photo.pk, size])
    return (
        f"{color}<g{_turned(cell)}><svg {_place(_upright(cell))} "
        f'viewBox="{" ".join(_f(each) for each in window)}" preserveAspectRatio="xMidYMid slice">'
        f'<image href="{href}" width="{photo.width}" height="{photo.height}"/></svg></g>'
    )


def _photo(piece: Piece) -> Photo | None:
    return piece.photo if piece.photo is not None and piece.photo.is_ready else None


def _missing(cell: Cell, ground: str) -> str:
    """A shirt drawn by hand where the photo will be, so that nobody takes its color for the print."""
    size = min(_n(cell.room.width), _n(cell.room.height)) * 0.44
    x = _n(cell.room.x) + (_n(cell.room.width) - size) / 2
    y = _n(cell.room.y) + (_n(cell.room.height) - size) / 2
    ink = readable_on(ground)
    return (
        f'<svg x="{_f(x)}" y="{_f(y)}" width="{_f(size)}" height="{_f(size)}" viewBox="0 0 24 24">'
        f'<path d="{SHIRT}" '
        f'fill="none" stroke="{ink}" stroke-opacity=".6" stroke-width="1.2" stroke-linejoin="round" '
        f'stroke-dasharray="2 1.4"/></svg>'
    )


def _upright(cell: Cell) -> Rect:
    """The place a panel takes before it is turned about its middle."""
    room = cell.room
    if cell.turn in (0, 180):
        return room
    shift = (room.width - room.height) // 2
    return Rect(room.x + shift, room.y - shift, room.height, room.width)


def _turned(cell: Cell) -> str:
    if not cell.turn:
        return ""
    x, y = _n(cell.room.x) + _n(cell.room.width) / 2, _n(cell.room.y) + _n(cell.room.height) / 2
    return f' transform="rotate({cell.turn} {_f(x)} {_f(y)})"'


def _chalk(at: Rect) -> str:
    return f'<rect class="chalkback" {_place(at)}/><rect class="chalkline" {_place(at)}/>'


def _tag(cell: Cell, quilt: Quilt) -> str:
    """The name of a block on a white slip, over its upper left corner."""
    font = _n(quilt.size.width) / 28
    wide, high = font * (0.62 * len(cell.piece or "") + 0.7), font * 1.4
    x, y = _n(cell.at.x) - font * 0.35, _n(cell.at.y) - font * 0.35
    slip = f'x="{_f(x)}" y="{_f(y)}" width="{_f(wide)}" height="{_f(high)}" rx="{_f(font / 5)}"'
    text = f'x="{_f(x + wide / 2)}" y="{_f(y + font * 1.05)}" font-size="{_f(font)}"'
    return (
        f'<rect {slip} fill="{LIGHT}"/>'
        f'<text class="tagt" {text} fill="{DARK}" text-anchor="middle">{escape(cell.piece or "")}</text>'
    )


def _pin(cell: Cell, quilt: Quilt) -> str:
    """A sewing pin stuck through the upper right corner of a block."""
    size = _n(quilt.size.width) / 60
    x, y = _n(cell.at.right) - size * 1.6, _n(cell.at.y) + size * 1.6
    tip = f"{_f(x - size * 3.2)} {_f(y + size * 2.6)}"
    needle = f"M{_f(x)} {_f(y)}L{tip}"
    return (
        f'<path d="{needle}" stroke="{DARK}" stroke-width="{_f(size * 0.5)}" stroke-linecap="round"/>'
        f'<path d="{needle}" stroke="{LIGHT}" stroke-width="{_f(size * 0.24)}" stroke-linecap="round"/>'
        f'<circle cx="{_f(x)}" cy="{_f(y)}" r="{_f(size)}" fill="{DARK}" stroke="{LIGHT}" '
        f'stroke-width="{_f(size * 0.4)}"/>'
    )


def _string(marked: list[Cell], wide: float, high: float) -> str:
    """The thread a cloth label hangs on: from the block to the side of the picture."""
    at = marked[0].at
    x, y = _n(at.right), _n(at.y) + _n(at.height) / 3
    end, level = wide * 1.08, high * 0.3
    bend = (end - x) / 2
    return (
        f'<path class="string" d="M{_f(x)} {_f(y)}C{_f(x + bend)} {_f(y + 6)} {_f(end - bend / 2)} '
        f'{_f(level - 8)} {_f(end)} {_f(level)}"/>'
    )


def _place(place: Rect) -> str:
    return (
        f'x="{_f(_n(place.x))}" y="{_f(_n(place.y))}" '
        f'width="{_f(_n(place.width))}" height="{_f(_n(place.height))}"'
    )


def _n(ticks: int) -> float:
    return ticks / UNIT


def _f(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
