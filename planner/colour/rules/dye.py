"""A rule about dye that runs (trade handbook 3.5, P13; a warning, it weighs nothing)."""

from __future__ import annotations

import numpy as np

from planner.colour.beside import Beside, Names, Truth
from planner.colour.convert import Array
from planner.colour.places import Place

from .verdict import Verdict, first_large, some

PALE = ("white", "cream")
DARK = 0.37  # OKLab lightness: navy, maroon, black


def dark_or_red_beside_white_is_soaked_first(table: Beside, place: Place) -> Verdict:
    """Dark or red beside white: soak a scrap of it first, since its dye may run."""
    cloth_runs = may_run(table.cloth_family, table.shelf.light)
    shirt_runs = may_run(table.families, table.pile.oklab[table.pile.starts, 0])
    beside_white = cloth_runs[:, None] & np.isin(table.families, PALE)[None, :]
    white_beside = np.isin(table.cloth_family, PALE)[:, None] & shirt_runs[None, :]

    def words(cloth: int) -> str:
        pale, deep = int(beside_white[cloth].sum()), int(white_beside[cloth].sum())
        if pale:
            kind = "pale " if (table.families[beside_white[cloth]] == "cream").any() else "white "
            return f"Beside {some(pale, kind)}: soak a scrap first, its dye may run"
        kind = first_large(str(table.cloth_family[cloth]))
        return (
            f"{kind} beside {some(deep, 'dark or red ')}: soak those first, their dye may run" if deep else ""
        )

    return Verdict(np.zeros(len(table.cloths)), words, beside_white | white_beside)


def may_run(family: Names, light: Array) -> Truth:
    """Say which colors are known to run: red, maroon, navy, black."""
    return np.asarray((family == "red") | (light < DARK))
