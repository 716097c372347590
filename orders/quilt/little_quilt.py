"""The little quilt: a quilt as a small picture that fills in while it is made, and the sentence for it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from planner.quilt import Cell, Quilt
from planner.units import INCH, Rect, Size

UNIT = INCH // 4  # one unit of the picture
PLAIN = "#D9CDB6"  # a block or cloth whose color nobody wrote down
STEPS = ("planned", "cut", "fused", "trimmed", "joined")
LIGHT, DARK = "#ffffff", "#23283a"


@dataclass(frozen=True)
class Look:
    """What a quilt looks like today: colors of blocks and cloth as #rrggbb, and how far each part is."""

    name: str
    colors: Mapping[str, str] = field(default_factory=dict)
    progress: Mapping[str, str] = field(default_factory=dict)
    cloth: Mapping[str, str] = field(default_factory=dict)
    is_top_done: bool = False
    is_quilted: bool = False
    is_bound: bool = False

    def step_of(self, cell: Cell) -> str:
        """Return how far a block is; once the top is done every block is in it."""
        return "joined" if self.is_top_done else self.progress.get(cell.id, "planned")

    def color_of(self, cell: Cell) -> str:
        """Return the color of a block: its shirt's, or that of the cloth it is filled with."""
        if cell.is_filler:
            return self.cloth.get("filler") or self.cloth.get("sashing") or PLAIN
        return self.colors.get(cell.piece or "") or PLAIN


def finished(name: str, *, colors: Mapping[str, str], cloth: Mapping[str, str]) -> Look:
    """Return a look in which all is sewn: what a layout will be."""
    return Look(name, colors, cloth=cloth, is_top_done=True, is_bound=True)


def draw(quilt: Quilt, look: Look) -> SafeString:
    """Draw a quilt as SVG. Colors stand in attributes, the rest is in the style sheet."""
    wide, high = _n(quilt.size.width), _n(quilt.size.height)
    size = Rect(0, 0, quilt.size.width, quilt.size.height)
    parts = [
        _ground(quilt, look, size),
        *(part for cell in quilt.cells for part in _block(cell, look)),
        _quilting(size) if look.is_quilted else "",
        _edge(look, size),
    ]
    return mark_safe(
        f'<svg class="lq" viewBox="-2 -2 {_f(wide + 4)} {_f(high + 4)}" role="img" '
        f'aria-label="{escape(sentence(quilt, look))}">{"".join(parts)}</svg>'
    )


def draw_wish(name: str, size: Size, shirts: int) -> SafeString:
    """Draw what is wished before anything is laid out: a pencil outline with the number of shirts."""
    wide, high = _n(size.width), _n(size.height)
    words = f"{name}: not laid out yet, {_count(shirts, 'shirt')} logged."
    return mark_safe(
        f'<svg class="lq" viewBox="-2 -2 {_f(wide + 4)} {_f(high + 4)}" role="img" '
        f'aria-label="{escape(words)}">'
        f'<rect class="pencil" x="1.5" y="1.5" width="{_f(wide - 3)}" height="{_f(high - 3)}" rx="4"/>'
        f'<text class="shirts" x="{_f(wide / 2)}" y="{_f(high / 2 + wide / 9)}" '
        f'font-size="{_f(wide / 3)}">{shirts}</text></svg>'
    )


def sentence(quilt: Quilt, look: Look) -> str:
    """Say in words what the picture shows."""
    blocks = _count(len(quilt.cells), "block")
    if look.is_top_done:
        rest = (
            "bound" if look.is_bound else "quilted, not bound yet" if look.is_quilted else "top sewn together"
        )
        return f"{look.name}: {blocks}, {rest}."
    steps = [look.step_of(cell) for cell in quilt.cells]
    words = {"joined": "sewn in", "trimmed": "fused and trimmed", "fused": "fused", "cut": "cut"}
    far = [
        f"{steps.count(step)} {words[step]}" for step in reversed(STEPS) if step in words and step in steps
    ]
    if not far:
        return f"{look.name}: {blocks}, none cut yet."
    to_go = steps.count("planned")
    return f"{look.name}: {blocks}, {', '.join(far)}{f', {to_go} to go' if to_go else ''}."


def _ground(quilt: Quilt, look: Look, size: Rect) -> str:
    """The cloth round the blocks: a breath of it until the top is sewn, then full."""
    sashing = look.cloth.get("sashing") if quilt.sashing else ""
    border = look.cloth.get("border") if quilt.borders else ""
    opacity = "" if look.is_top_done else ' fill-opacity=".14"'
    parts = [_rect(size, f'fill="{border or sashing or PLAIN}"{opacity}', rx=5)]
    if quilt.sashing and quilt.borders:
        parts.append(_rect(quilt.field, f'fill="{sashing or PLAIN}"{opacity}'))
    if quilt.sashing and quilt.sashing.cornerstones:
        color = look.cloth.get("cornerstone") or sashing or PLAIN
        parts += [_rect(each, f'fill="{color}"{opacity}') for each in cornerstones(quilt)]
    return "".join(parts)


def cornerstones(quilt: Quilt) -> Iterator[Rect]:
    """Yield the places where sashing crosses sashing between blocks that stand in rows and columns."""
    sashing = quilt.sashing
    if sashing is None or not sashing.cornerstones:
        return
    inner, wide = quilt.field, sashing.width
    across = sorted({cell.at.x - wide for cell in quilt.cells} | {cell.at.right for cell in quilt.cells})
    down = sorted({cell.at.y - wide for cell in quilt.cells} | {cell.at.bottom for cell in quilt.cells})
    for x in across:
        for y in down:
            stone = Rect(x, y, wide, wide)
            if inner.holds(stone) and not any(stone.overlaps(cell.at) for cell in quilt.cells):
                yield stone


def _block(cell: Cell, look: Look) -> Iterator[str]:
    step = look.step_of(cell)
    for each in cell.inside or (cell,):
        yield STATES[step](each, look)


def _not_cut(cell: Cell, look: Look) -> str:
    return _rect(cell.at, f'class="un" fill="{look.color_of(cell)}" fill-opacity=".3"', less=2, rx=2)


def _cut(cell: Cell, look: Look) -> str:
    """Smaller than its place, with loose threads at the edge."""
    color, loose = look.color_of(cell), _darker(look.color_of(cell))
    inset = min(_n(cell.at.width), _n(cell.at.height)) * 0.13
    threads = f'fill="{color}" stroke="{loose}" stroke-width="3" stroke-dasharray="1 1.5 .8 2 1.2 1.3"'
    return (
        _rect(cell.at, f'class="un thin" fill="{color}" fill-opacity=".16"', less=2, rx=2)
        + _rect(cell.at, threads, less=inset)
        + _print(cell, color, less=inset)
    )


def _fused(cell: Cell, look: Look) -> str:
    """Straight at the edge, not squared yet."""
    color = look.color_of(cell)
    inset = min(_n(cell.at.width), _n(cell.at.height)) * 0.1
    return (
        _rect(cell.at, f'class="un thin" fill="{color}" fill-opacity=".16"', less=2, rx=2)
        + _rect(cell.at, f'fill="{color}"', less=inset)
        + _print(cell, color, less=inset)
    )


def _trimmed(cell: Cell, look: Look) -> str:
    color = look.color_of(cell)
    return (
        _rect(cell.at, 'class="un thin" fill="none"', less=1, rx=2)
        + _rect(cell.at, f'fill="{color}" stroke="#fff" stroke-width="2.5"', less=2.2)
        + _print(cell, color, less=3)
    )


def _sewn_in(cell: Cell, look: Look) -> str:
    color = look.color_of(cell)
    frame = look.cloth.get("frame") or look.cloth.get("sashing") or PLAIN
    strips = _rect(cell.at, f'fill="{frame}"') if cell.frame else ""
    edge = 'stroke="#000" stroke-opacity=".18" stroke-width="1"'
    return strips + _rect(cell.room, f'fill="{color}" {edge}') + _print(cell, color, less=0)


STATES = {"planned": _not_cut, "cut": _cut, "fused": _fused, "trimmed": _trimmed, "joined": _sewn_in}


def _print(cell: Cell, ground: str, *, less: float) -> str:
    """A hint that a print lies there, light on dark cloth and dark on light."""
    if cell.is_filler:
        return ""
    wide, high = _n(cell.room.width) - 2 * less, _n(cell.room.height) - 2 * less
    x, y = _n(cell.room.x) + less + wide / 2, _n(cell.room.y) + less + high / 2
    side = min(wide, high) * 0.27
    corners = f"M{_f(x)} {_f(y - side)}L{_f(x + side)} {_f(y)}L{_f(x)} {_f(y + side)}L{_f(x - side)} {_f(y)}z"
    return f'<path d="{corners}" fill="{readable_on(ground)}" fill-opacity=".42"/>'


def _quilting(size: Rect) -> str:
    wide, high, waves = _n(size.width), _n(size.height), []
    for row in range(1, int(high // 12)):
        swings = " ".join(f"q6 {-4 if turn % 2 else 4} 12 0" for turn in range(int(wide // 12)))
        waves.append(f"M3 {row * 12}{swings}")
    return f'<path class="quilting" d="{"".join(waves)}"/>'


def _edge(look: Look, size: Rect) -> str:
    if look.is_bound:
        color = look.cloth.get("binding") or look.cloth.get("border") or look.cloth.get("sashing") or DARK
        return _rect(size, f'fill="none" stroke="{color}" stroke-width="5"', less=1.5, rx=4)
    return _rect(size, 'class="edge" fill="none"', less=1.5, rx=4)


def _rect(place: Rect, look: str, *, less: float = 0, rx: int = 0) -> str:
    """Draw a rectangle, `less` units smaller on each side; its corners are rounded by `rx`."""
    x, y, wide, high = (_n(each) for each in (place.x, place.y, place.width, place.height))
    corners = f' rx="{rx}"' if rx else ""
    return (
        f'<rect x="{_f(x + less)}" y="{_f(y + less)}" width="{_f(max(wide - 2 * less, 0.1))}" '
        f'height="{_f(max(high - 2 * less, 0.1))}"{corners} {look}/>'
    )


def readable_on(color: str) -> str:
    """Return the light or the dark ink, whichever stands out from a color."""
    red, green, blue = (int(color[start : start + 2], 16) for start in (1, 3, 5))
    return DARK if 299 * red + 587 * green + 114 * blue > 140_000 else LIGHT


def _darker(color: str) -> str:
    parts = (int(color[start : start + 2], 16) * 7 // 8 for start in (1, 3, 5))
    return "#" + "".join(f"{part:02x}" for part in parts)


def _n(ticks: int) -> float:
    return ticks / UNIT


def _f(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")


def _count(number: int, thing: str) -> str:
    return f"{number} {thing}{'' if number == 1 else 's'}"
