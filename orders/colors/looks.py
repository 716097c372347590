"""What is known of a shirt's colors: its palette, or the main color of a panel until it has one."""

from __future__ import annotations

from typing import Any

from orders.models import Piece, Shirt
from planner.colour import Palette, Swatch, srgb_to_lab

FROM_ONE_COLOR = 0.3  # how sure a single color is that somebody picked or a camera averaged
MAIN_COLOR = "Main color alone."


def palette_of(shirt: Shirt) -> Palette | None:
    """Return the colors of a shirt; None before anybody saw any."""
    seen = next((piece for piece in shirt.pieces.all() if piece.ground), None)
    return palette_of_piece(seen) if seen else None


def palette_of_piece(piece: Piece) -> Palette | None:
    """Return the colors of one panel: as its photo shows them, unless a person picked its main color."""
    if not piece.ground:
        return None
    if piece.palette and piece.ground_is_about:
        return from_record(piece.palette)
    return palette_of_color(piece.ground)


def from_record(kept: dict[str, Any]) -> Palette:
    """Return a palette that was kept."""

    def swatch(each: dict[str, Any]) -> Swatch:
        lightness, a, b = each["lab"]
        return Swatch((lightness, a, b), each["share"])

    prints = tuple(swatch(each) for each in kept["prints"])
    return Palette(swatch(kept["ground"]), prints, kept["confidence"], tuple(kept["notes"]))


def palette_of_color(color: str) -> Palette:
    """Return a palette of one color written #rrggbb, which says that it is no more than that."""
    red, green, blue = (int(color[start : start + 2], 16) for start in (1, 3, 5))
    lightness, a, b = (float(each) for each in srgb_to_lab([red, green, blue]))
    return Palette(Swatch((lightness, a, b)), confidence=FROM_ONE_COLOR, notes=(MAIN_COLOR,))
