"""What melts, what breaks a needle, what must be stopped for; common practice where nothing else is said.

Care labels, the makers of tools and products, and professionals come first; these are general cautions.
"""

from __future__ import annotations

from planner.quilt import Garment, Piece

from .heat import NO_HEAT, UNHEATED_FLAGS, heat_limit, show_heat

STOP_BELOW = 300
"""Pieces that bear less than so many °F get a stop tag: one wrong turn of the dial spoils them."""

_HARD_FLAGS = {
    "zip": "a zip", "snaps": "snaps or buttons", "studs": "studs", "sequins": "sequins", "beads": "beads",
}  # fmt: skip
_HARD_PRINTS = {"twill": "sewn-on letters", "embroidery": "thick stitching", "glitter": "glitter or stones"}
_MELTS = {
    "vinyl": "The film moves when it is hot", "unknown": "Nobody has felt the print: it may be film",
    "foil": "Foil dies of heat and rubbing", "puff": "Raised ink goes flat", "glitter": "The glue lets go",
    "transfer": "The old transfer sticks to anything warm", "paint": "The paint softens",
    "plastisol": "The ink softens when it is hot", "sublimation": "The color wanders off as a ghost",
}  # fmt: skip
_HOLDS = {
    "scent": "The scent is kept: sealed, unwashed, and cut only when it is said on the day.",
    "soiled": "Soiled: gloves, sealed bag, a professional cleaner first.",
    "mould": "Mold: not opened indoors; a restorer decides.",
    "contested": "Contested: every named yes first.",
}
_REFUSED = {
    "plastic": "A photograph of it, printed on cloth, with the leave of whoever owns the picture.",
    "leather-look": "A frame of sewn-on cloth around a photograph of it, or give it back whole.",
}


def hard_items(garment: Garment, piece: Piece | None = None) -> tuple[str, ...]:
    """Name what breaks a needle in a garment, and in the print of one piece of it."""
    found = [words for flag, words in _HARD_FLAGS.items() if flag in garment.flags]
    of_print = _HARD_PRINTS.get(piece.print_kind) if piece is not None else None
    return (*found, of_print) if of_print else tuple(found)


def melts(garment: Garment, piece: Piece | None = None) -> str:
    """Say what heat does to the piece, or nothing where it bears as much as plain cloth of its fiber."""
    if garment.flags & UNHEATED_FLAGS:
        return "The coating melts"
    return _MELTS.get(piece.print_kind, "") if piece is not None else ""


def holds(garment: Garment) -> tuple[str, ...]:
    """Say what must be settled before anybody touches the garment."""
    return tuple(words for flag, words in _HOLDS.items() if flag in garment.flags)


def stop_reasons(garment: Garment, piece: Piece | None = None, *, unit: str = "F") -> tuple[str, ...]:
    """Return why a stop tag is pinned to it, its heat first; empty where none is needed."""
    limit = heat_limit(garment, piece)
    if limit >= STOP_BELOW:
        return holds(garment)
    what = melts(garment, piece) or "The fiber bears little heat"
    said = "No heat" if limit == NO_HEAT else f"Never above {show_heat(limit, unit=unit)}"
    return (f"{said}. {what}.", *holds(garment))


def instead_of_cloth(garment: Garment) -> str:
    """Return what can be done with a thing that cannot be sewn in as cloth, or nothing where it can."""
    return next((words for flag, words in _REFUSED.items() if flag in garment.flags), "")
