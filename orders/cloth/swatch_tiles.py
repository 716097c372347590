"""Cloth laid into a picture in its true size: a swatch repeated, each the mirror of its neighbors."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.html import escape

from orders.bag.measuring import WHOLE
from orders.models import Cloth
from orders.quilt.little_quilt import UNIT
from orders.quilt.panel_photos import Panel, Quad, laid_flat
from planner.units import INCH

if TYPE_CHECKING:
    from PIL import Image

SHOWS = 8 * INCH  # how far a swatch without a ruler is taken to reach across
EDGE = WHOLE // 10  # of a swatch is left off on each side: pinked edges, or the ruler
TILE = 160  # pixels of the longer side of what is repeated
INNER: Quad = (EDGE, EDGE, WHOLE - EDGE, EDGE, WHOLE - EDGE, WHOLE - EDGE, EDGE, WHOLE - EDGE)
Address = Callable[[Panel, int], str]


@dataclass(frozen=True)
class Swatch:
    """A cloth as its photo shows it: which photo, the main color, and how much cloth a tile is, in ticks."""

    photo: int
    sha256: str
    ground: str
    across: int
    down: int

    @property
    def panel(self) -> Panel:
        """The tile as a part of its photo."""
        sides = (self.across, self.down)
        return Panel(self.ground, self.photo, self.sha256, INNER, sides, (0, 0, *sides))


def swatch_of(cloth: Cloth) -> Swatch | None:
    """Return the swatch of a cloth, or None while its main color is all there is."""
    photo = cloth.swatch
    if photo is None or not photo.is_ready:
        return None
    whole = cloth.shows or SHOWS
    across = whole * (WHOLE - 2 * EDGE) // WHOLE
    return Swatch(photo.pk, photo.sha256, cloth.ground, across, across * photo.height // photo.width)


def as_patterns(swatches: Mapping[str, Swatch], address: Address, *, named: str) -> str:
    """Return the swatches as SVG patterns `named-role`."""
    there = ((role, each) for role, each in swatches.items() if each.panel.is_on_disk)
    return "".join(_pattern(f"{named}-{role}", each, address) for role, each in there)


def fills_of(swatches: Mapping[str, Swatch], *, named: str) -> dict[str, str]:
    """Return what each part is filled with: the pattern that was made of its swatch."""
    return {role: f"url(#{named}-{role})" for role, each in swatches.items() if each.panel.is_on_disk}


def _pattern(name: str, swatch: Swatch, address: Address) -> str:
    wide, high = swatch.across / UNIT, swatch.down / UNIT
    href = escape(address(swatch.panel, TILE))
    tile = f'<image href="{href}" width="{_f(wide)}" height="{_f(high)}" preserveAspectRatio="none"/>'
    mirrors = ((0, 0, 1, 1), (2 * wide, 0, -1, 1), (0, 2 * high, 1, -1), (2 * wide, 2 * high, -1, -1))
    laid = "".join(
        f'<g transform="translate({_f(x)} {_f(y)}) scale({sx} {sy})">{tile}</g>' for x, y, sx, sy in mirrors
    )
    ground = f'<path d="M0 0h{_f(2 * wide)}v{_f(2 * high)}H0z" fill="{escape(swatch.ground or "none")}"/>'
    return (
        f'<pattern id="{escape(name)}" width="{_f(2 * wide)}" height="{_f(2 * high)}" '
        f'patternUnits="userSpaceOnUse">{ground}{laid}</pattern>'
    )


def laid_out(swatch: Swatch, size: tuple[int, int], *, per_tick: float) -> Image.Image | None:
    """Return the swatch repeated over so many pixels, in true size; None when its file is gone."""
    from PIL import Image, ImageOps

    across, down = (max(1, round(side * per_tick)) for side in (swatch.across, swatch.down))
    tile = laid_flat(swatch.sha256, INNER, max(across, down))
    if tile is None:
        return None
    tile = tile.resize((across, down))
    flipped = ImageOps.mirror(tile)
    quarter = Image.new("RGB", (2 * across, 2 * down))
    quarter.paste(tile, (0, 0))
    quarter.paste(flipped, (across, 0))
    quarter.paste(ImageOps.flip(tile), (0, down))
    quarter.paste(ImageOps.flip(flipped), (across, down))
    whole = Image.new("RGB", size)
    for x in range(0, size[0], 2 * across):
        for y in range(0, size[1], 2 * down):
            whole.paste(quarter, (x, y))
    return whole


def _f(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
