"""Rules about the hue of a cloth among those of the shirts (common practice; the weights are ours)."""

from __future__ import annotations

import numpy as np

from planner.colour.beside import Beside, Truth
from planner.colour.places import Place

from .verdict import Verdict, first_large, in_words, named, shade_of, some

SAME_HUE = 25.0  # degrees
ALIKE = (2.5, 28.0)  # CIEDE2000 between which a solid looks like a match that failed
ALIKE_HUE = 35.0


def it_picks_up_the_colors_of_the_shirts(table: Beside, place: Place) -> Verdict:
    """Cloth that repeats a hue of the shirts, or lies across from it, holds the pile together."""
    neutral = table.cloth_is_neutral
    near = (table.hue_gap < SAME_HUE) & ~neutral[:, None]

    def words(cloth: int) -> str:
        name = in_words(table.cloth_family[cloth])
        if neutral[cloth]:
            return ""
        if near[cloth].any():
            return f"Picks up the {name} in {some(int(near[cloth].sum()))}"
        across = (table.hue_gap[cloth] > 150) & (table.hue_gap[cloth] <= 180)
        if across.any():
            return f"{first_large(name)} lies across from the colors of the shirts"
        return f"No shirt has this {name} in it"

    return Verdict(np.where(neutral, 0.0, 100 * place.support * table.support), words, near)


def neutrals_go_with_nearly_everything(table: Beside, place: Place) -> Verdict:
    """White, cream, gray, charcoal, black and navy go with nearly every pile."""
    neutral = table.cloth_is_neutral

    def words(cloth: int) -> str:
        return f"{first_large(shade_of(table, cloth))} goes with nearly everything" if neutral[cloth] else ""

    return Verdict(np.where(neutral, 100 * place.support * table.support, 0.0), words)


def a_solid_is_never_matched_to_shirts_of_its_color(table: Beside, place: Place) -> Verdict:
    """Never try to match a solid to shirts of the same color: it looks like a match that failed."""
    hit = all_but_matched(table)

    def words(cloth: int) -> str:
        if not (place.near and hit[cloth].any()):
            return ""
        return f"A plain {in_words(table.cloth_family[cloth])}, near {named(table, hit[cloth])} and no match"

    return Verdict(-place.near * np.minimum(1.0, 2.0 * (hit @ table.weights)), words, hit)


def all_but_matched(table: Beside) -> Truth:
    """Say which plain cloths look like a match that failed beside which shirts."""
    near = (table.to_main_color > ALIKE[0]) & (table.to_main_color < ALIKE[1])
    return np.asarray(near & (table.ground_hue_gap < ALIKE_HUE) & table.cloth_is_plain[:, None])


def a_mottled_print_sits_well_beside_all_its_hues(table: Beside, place: Place) -> Verdict:
    """A mottled print that holds several shades of a color sits well beside all shirts of it."""
    mottled = table.is_of("mottled") & ~table.cloth_is_neutral
    holds = (table.ground_hue_gap < ALIKE_HUE) & mottled[:, None]

    def words(cloth: int) -> str:
        count = int(holds[cloth].sum())
        return f"Mottled, in several shades: sits well beside {some(count)} of its color" if count else ""

    gain = 0.0 if not place.near else 4.0 if place.is_between else 10.0
    return Verdict(gain * np.minimum(1.0, 2.0 * (holds @ table.weights)), words, holds)


def corner_squares_may_be_the_one_bright_spot(table: Beside, place: Place) -> Verdict:
    """Corner squares are small and may be the one bright spot; a border or an edge may have some of it."""
    bright = np.clip(table.cloth_chroma / 0.14, 0, 1)

    def words(cloth: int) -> str:
        if not place.pop:
            return ""
        if place.role == "cornerstone":
            return (
                "Small and bright: the one spot of it" if bright[cloth] > 0.7 else "Quiet for a corner square"
            )
        return "Brings color of its own" if bright[cloth] > 0.7 else "Brings little color of its own"

    return Verdict(100 * place.pop * bright, words)
