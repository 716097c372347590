"""The quilt as it would look: real shirts, and in each part the real cloth as its swatch shows it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from django.urls import reverse
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders import quilt_picture
from orders.little_quilt import UNIT
from orders.models import Cloth, Piece
from planner.quilt import Quilt
from planner.units import INCH

SMALL = 320  # rendition of a swatch, by its longer side in pixels
SHOWS = 8 * INCH  # how far a swatch without a ruler is taken to reach across
EDGE = 0.1  # of a swatch is left off on each side: pinked edges, or the ruler


def draw(
    quilt: Quilt, panels: Mapping[str, Piece], chosen: Mapping[str, Cloth], *, lost: Iterable[str] = ()
) -> SafeString:
    """Draw the quilt in the chosen cloth; the shirts named in `lost` are marked in chalk."""
    fills = {role: fill_of(role, cloth) for role, cloth in chosen.items()}
    shirts = set(lost)
    marked = [cell.id for cell in quilt.cells if shirt_in(cell.piece, panels) in shirts]
    view = quilt_picture.View(panels=panels, cloth=fills, chalked=tuple(marked))
    return quilt_picture.thumbnail(quilt, view)


def patterns(chosen: Mapping[str, Cloth]) -> SafeString:
    """Return the swatches as patterns that the pictures of one page lay in, with the true size of a print."""
    made = "".join(_pattern(role, cloth) for role, cloth in chosen.items() if has_swatch(cloth))
    return mark_safe(f'<svg class="unseen" width="0" height="0" aria-hidden="true"><defs>{made}</defs></svg>')


def fill_of(role: str, cloth: Cloth) -> str:
    """Return what a part is filled with: its swatch, or the main color until there is one."""
    return f"url(#cloth-{escape(role)})" if has_swatch(cloth) else cloth.ground


def has_swatch(cloth: Cloth) -> bool:
    return cloth.swatch is not None and cloth.swatch.is_ready


def shirt_in(piece: str | None, panels: Mapping[str, Piece]) -> str:
    """Return the number of the shirt whose panel a block holds."""
    panel = panels.get(piece or "")
    return f"{panel.shirt.number:02d}" if panel else ""


def _pattern(role: str, cloth: Cloth) -> str:
    """A swatch laid four times, each the mirror of its neighbors, so that no edge shows."""
    photo = cloth.swatch
    assert photo is not None
    across = (cloth.shows or SHOWS) / UNIT
    down = across * photo.height / photo.width
    wide, high = across * (1 - 2 * EDGE), down * (1 - 2 * EDGE)
    href = reverse("photo", args=[photo.pk, SMALL])
    tile = (
        f'<svg width="{_f(wide)}" height="{_f(high)}" '
        f'viewBox="{_f(across * EDGE)} {_f(down * EDGE)} {_f(wide)} {_f(high)}">'
        f'<image href="{href}" width="{_f(across)}" height="{_f(down)}" preserveAspectRatio="none"/></svg>'
    )
    mirrored = "".join(
        f'<g transform="translate({_f(x)} {_f(y)}) scale({sx} {sy})">{tile}</g>'
        for x, y, sx, sy in (
            (0, 0, 1, 1),
            (2 * wide, 0, -1, 1),
            (0, 2 * high, 1, -1),
            (2 * wide, 2 * high, -1, -1),
        )
    )
    ground = f'<path d="M0 0h{_f(2 * wide)}v{_f(2 * high)}H0z" fill="{escape(cloth.ground or "none")}"/>'
    return (
        f'<pattern id="cloth-{escape(role)}" width="{_f(2 * wide)}" height="{_f(2 * high)}" '
        f'patternUnits="userSpaceOnUse">{ground}{mirrored}</pattern>'
    )


def _f(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".")
