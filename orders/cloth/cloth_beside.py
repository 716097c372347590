"""Which shirts do not go with the cloth that touches them, by the rules that cloth is chosen by."""

from __future__ import annotations

from collections.abc import Mapping

from orders.colors.looks import palette_of_piece
from orders.models import Piece
from planner.colour import FabricLook, Palette, family, spoken_of
from planner.colour.rules import (
    a_shirt_close_to_the_cloth_is_set_off_but_little,
    a_solid_is_never_matched_to_shirts_of_its_color,
    dark_or_red_beside_white_is_soaked_first,
    the_cloth_must_not_get_lost_beside_the_shirts,
)
from planner.colour.rules.dye import PALE


def get_lost(shirts: Mapping[str, Palette], cloth: FabricLook | None, role: str) -> tuple[str, ...]:
    """Return the shirts that have no edge beside a cloth."""
    return spoken_of(the_cloth_must_not_get_lost_beside_the_shirts, shirts, cloth, role) if cloth else ()


def are_close(shirts: Mapping[str, Palette], cloth: FabricLook | None, role: str) -> tuple[str, ...]:
    """Return the shirts that have an edge beside a cloth, but one that hardly shows from afar."""
    return spoken_of(a_shirt_close_to_the_cloth_is_set_off_but_little, shirts, cloth, role) if cloth else ()


def fail_to_match(shirts: Mapping[str, Palette], cloth: FabricLook | None, role: str) -> tuple[str, ...]:
    """Return the shirts that a plain cloth all but matches, those left out that get lost in it."""
    if cloth is None:
        return ()
    near = spoken_of(a_solid_is_never_matched_to_shirts_of_its_color, shirts, cloth, role)
    lost = get_lost(shirts, cloth, role)
    return tuple(each for each in near if each not in lost)


def may_stain(shirts: Mapping[str, Palette], cloth: FabricLook | None, role: str) -> tuple[str, ...]:
    """Return the shirts beside which dye may run: white ones beside dark cloth, dark ones beside white."""
    return spoken_of(dark_or_red_beside_white_is_soaked_first, shirts, cloth, role) if cloth else ()


def is_white(cloth: FabricLook) -> bool:
    """Say whether it is the cloth that is white, where dye may run."""
    return family(cloth.palette.ground.lab).name in PALE


def palettes_of(pieces: Mapping[str, Piece]) -> dict[str, Palette]:
    """Return the colors of pieces by name, as far as anybody saw any."""
    seen = {name: palette_of_piece(piece) for name, piece in pieces.items()}
    return {name: palette for name, palette in seen.items() if palette is not None}
