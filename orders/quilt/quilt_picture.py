"""The large picture of a quilt: the real photo of each panel in its block, or its colors, and its name."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field, replace

from django.urls import reverse
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders.cloth.swatch_tiles import Address, Swatch, as_patterns, fills_of
from orders.models import Piece
from orders.quilt.little_quilt import DARK, LIGHT, PLAIN, UNIT, cornerstones, readable_on
from orders.quilt.panel_photos import PANEL_SIZES, Panel, panel_of
from orders.quilt.picture_in_words import sentence
from planner.quilt import Cell, Quilt
from planner.units import Rect

SMALL, MIDDLING, LARGE = PANEL_SIZES
FEW_BLOCKS, SOME_BLOCKS = 6, 20  # the more blocks, the smaller each is on the same screen


def for_the_shop(panel: Panel, size: int) -> str:
    """Return where the shop's own pages find a panel laid flat."""
    return reverse("photo-panel", args=[panel.photo, panel.corners, size])


@dataclass(frozen=True)
class View:
    """What the picture shows beside the quilt: panels, cloth, blocks in chalk and under pins.

    A panel is a piece as it is now, or as it was kept when somebody was asked. `named` tells the
    patterns of two pictures on one page apart. `whole` is the address of one photo of all of it, cloth and
    panels, that is fetched instead of each by itself.
    """

    panels: Mapping[str, Piece | Panel] = field(default_factory=dict)
    cloth: Mapping[str, str] = field(default_factory=dict)
    swatches: Mapping[str, Swatch] = field(default_factory=dict)
    chalked: Collection[str] = ()
    pinned: Collection[str] = ()
    link: Callable[[Cell], str] = lambda cell: ""
    address: Address = for_the_shop
    named: str = "laid"
    whole: str = ""

    def panel(self, cell: Cell) -> Panel:
        """Return what a block shows of its shirt."""
        found = self.panels.get(cell.piece or "")
        return found if isinstance(found, Panel) else panel_of(found, cell) if found else Panel()

    def in_cloth(self) -> View:
        """Return the view with each part filled with its swatch, where there is one."""
        return replace(self, cloth={**self.cloth, **fills_of(self.swatches, named=self.named)})


def draw(quilt: Quilt, view: View) -> SafeString:
    """Draw the quilt as SVG; each block links to its label, where the view says where that is."""
    patterns = as_patterns(view.swatches, view.address, named=view.named)
    view = view.in_cloth()
    wide, high = _n(quilt.size.width), _n(quilt.size.height)
    every = [each for cell in quilt.cells for each in (cell, *cell.inside)]
    marked = [cell for cell in every if cell.id in view.chalked]
    # In reading order, because that is the order the keyboard goes in; the chalk lies over all of them.
    in_order = sorted(quilt.cells, key=lambda cell: (cell.at.y, cell.at.x))
    blocks = "".join(_block(cell, quilt, view) for cell in in_order)
    blocks += _over_all(marked, quilt)
    ground = _cloth(quilt, view) + (_in_one_photo(quilt, view) or ("" if view.swatches else _weave(quilt)))
    return mark_safe(
        f'<svg class="big-quilt" viewBox="-3 -3 {_f(wide + 6)} {_f(high + 6)}" role="group" '
        f'aria-label="{escape(sentence(quilt))}"><defs>{WEAVE}{patterns}</defs>{ground}{blocks}'
        f"{_string(marked, wide, high) if len(marked) == 1 else ''}</svg>"
    )


def thumbnail(quilt: Quilt, view: View) -> SafeString:
    """Draw the quilt small, without names and links."""
    wide, high = _n(quilt.size.width), _n(quilt.size.height)
    return mark_safe(
        f'<svg class="lq" viewBox="-2 -2 {_f(wide + 4)} {_f(high + 4)}" role="img" '
        f'aria-label="{escape(sentence(quilt))}">{_sewn(quilt, view)}</svg>'
    )


def laid(quilt: Quilt, view: View) -> str:
    """Return the quilt in its swatches as a part of another drawing, a quarter inch to a unit."""
    patterns = as_patterns(view.swatches, view.address, named=view.named)
    return f"<defs>{patterns}</defs>{_sewn(quilt, view.in_cloth())}"


def _sewn(quilt: Quilt, view: View) -> str:
    size = pixels_for(quilt)
    panels = (_panel(each, size, view) for cell in quilt.cells for each in cell.inside or (cell,))
    chalk = "".join(_chalk(cell.at) for cell in quilt.cells if cell.id in view.chalked)
    return f"{_cloth(quilt, view)}{_in_one_photo(quilt, view)}{''.join(panels)}{chalk}"


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


def _in_one_photo(quilt: Quilt, view: View) -> str:
    """The photo of all of it, over the color of each block for as long as it is on its way."""
    if not view.whole:
        return ""
    shirts = (each for cell in quilt.cells for each in cell.with_pieces())
    colors = "".join(
        f'<rect {_place(each.room)} fill="{view.panel(each).ground or PLAIN}"/>' for each in shirts
    )
    size = Rect(0, 0, quilt.size.width, quilt.size.height)
    return f'{colors}<image href="{escape(view.whole)}" {_place(size)} preserveAspectRatio="none"/>'


def pixels_for(quilt: Quilt) -> int:
    """Return how large a panel is fetched: as sharp as its block is on a screen, and no larger."""
    blocks = sum(1 for _ in quilt.with_pieces())
    return LARGE if blocks <= FEW_BLOCKS else MIDDLING if blocks <= SOME_BLOCKS else SMALL


def _block(cell: Cell, quilt: Quilt, view: View) -> str:
    size = pixels_for(quilt)
    drawn = "".join(_panel(each, size, view) for each in cell.inside or (cell,))
    names = [each.piece for each in cell.with_pieces() if each.piece]
    name = " and ".join(names) or "Plain cloth"
    tag = _tags(cell, quilt)
    if cell.id in view.pinned:
        name, tag = f"{name}, pinned", tag + _pin(cell, quilt)
    where = view.link(cell)
    ring = f'<rect class="ring" {_place(cell.at)}/>'
    if not where:
        return f"<g>{drawn}{tag}</g>"
    is_marked = any(each.id in view.chalked for each in (cell, *cell.inside))
    current = ' aria-current="true"' if is_marked else ""
    return f'<a href="{escape(where)}" aria-label="{escape(name)}"{current}>{drawn}{tag}{ring}</a>'


def _panel(cell: Cell, size: int, view: View) -> str:
    if view.whole:
        return _over_the_photo(cell, view)
    frame = view.cloth.get("frame") or view.cloth.get("sashing") or PLAIN
    strips = f'<rect {_place(cell.at)} fill="{frame}"/>' if cell.frame else ""
    if cell.is_filler:
        plain = view.cloth.get("filler") or view.cloth.get("sashing") or PLAIN
        return f'<rect {_place(cell.at)} fill="{plain}"/>'
    panel = view.panel(cell)
    seam = f'<rect {_place(cell.room)} fill="none" stroke="#000" stroke-opacity=".2" stroke-width=".5"/>'
    return strips + _shirt(cell, panel, size, view) + seam


def _over_the_photo(cell: Cell, view: View) -> str:
    """What the photo of all of it does not show: a shirt of which there is none."""
    panel = view.panel(cell)
    return "" if cell.is_filler or panel.is_on_disk else _missing(cell, panel.ground or PLAIN)


def _shirt(cell: Cell, panel: Panel, size: int, view: View) -> str:
    """The window of the panel that the block keeps; laid flat, it is in the block's own scale."""
    ground = panel.ground or PLAIN
    color = f'<rect {_place(cell.room)} fill="{ground}"/>'
    if not panel.is_on_disk:
        return color + _missing(cell, ground)
    per = max(panel.sides) / 1000  # short numbers, whatever the sides are counted in
    window = " ".join(_f(each / per) for each in panel.window)
    wide, high = (_f(each / per) for each in panel.sides)
    href = escape(view.address(panel, size))
    return (
        f'{color}<g{_turned(cell)}><svg {_place(_upright(cell))} viewBox="{window}" '
        f'preserveAspectRatio="xMidYMid slice"><image href="{href}" width="{wide}" height="{high}" '
        f'preserveAspectRatio="none"/></svg></g>'
    )


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


def _over_all(marked: list[Cell], quilt: Quilt) -> str:
    """Chalk round the blocks that are marked, and their names on it."""
    names = "".join(_tags(cell, quilt) for cell in marked)
    return f'<g class="over-all">{"".join(_chalk(cell.at) for cell in marked)}{names}</g>' if marked else ""


def _chalk(at: Rect) -> str:
    return f'<rect class="chalkback" {_place(at)}/><rect class="chalkline" {_place(at)}/>'


def _tags(cell: Cell, quilt: Quilt) -> str:
    """The names of a block: above it on the sashing, where there is some, so that they hide no print."""
    strip = quilt.sashing.width if quilt.sashing and not cell.inside else 0
    free = _n(min(strip, max(0, cell.at.y)))
    return "".join(_tag(each, quilt, free=free) for each in cell.with_pieces())


def _tag(cell: Cell, quilt: Quilt, *, free: float) -> str:
    """The name of a block on a white slip, at its upper left corner; `free` is the room above it."""
    font = min(_n(quilt.size.width) / 28, _n(cell.at.width) / 5.2)  # a small block is not all name
    wide, high = font * (0.62 * len(cell.piece or "") + 0.7), font * 1.4
    x, y = _n(cell.at.x) - font * 0.35, _n(cell.at.y) - max(font * 0.35, min(high, free))
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
