"""The quilt as it would look: real shirts, and in each part the real cloth as its swatch shows it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from django.utils.safestring import SafeString, mark_safe

from orders.cloth.swatch_tiles import Swatch, as_patterns, fills_of, swatch_of
from orders.models import Cloth, Piece
from orders.quilt import quilt_picture
from planner.quilt import Quilt


def draw(
    quilt: Quilt, panels: Mapping[str, Piece], chosen: Mapping[str, Cloth], *, lost: Iterable[str] = ()
) -> SafeString:
    """Draw the quilt in the chosen cloth; the shirts named in `lost` are marked in chalk."""
    colors = {role: cloth.ground for role, cloth in chosen.items()}
    fills = colors | fills_of(_swatches(chosen), named="cloth")
    shirts = set(lost)
    marked = [cell.id for cell in quilt.cells if shirt_in(cell.piece, panels) in shirts]
    view = quilt_picture.View(panels=panels, cloth=fills, chalked=tuple(marked))
    return quilt_picture.thumbnail(quilt, view)


def patterns(chosen: Mapping[str, Cloth]) -> SafeString:
    """Return the swatches as patterns that the pictures of one page lay in, with the true size of a print."""
    made = as_patterns(_swatches(chosen), quilt_picture.for_the_shop, named="cloth")
    return mark_safe(f'<svg class="unseen" width="0" height="0" aria-hidden="true"><defs>{made}</defs></svg>')


def _swatches(chosen: Mapping[str, Cloth]) -> dict[str, Swatch]:
    found = {role: swatch_of(cloth) for role, cloth in chosen.items()}
    return {role: swatch for role, swatch in found.items() if swatch is not None}


def shirt_in(piece: str | None, panels: Mapping[str, Piece]) -> str:
    """Return the number of the shirt whose panel a block holds."""
    panel = panels.get(piece or "")
    return f"{panel.shirt.number:02d}" if panel else ""
