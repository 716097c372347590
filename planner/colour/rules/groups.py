"""Rules about the color groups of the pile: count them first (common practice; the weights are ours)."""

from __future__ import annotations

from collections.abc import Collection

import numpy as np

from planner.colour.beside import Beside, Truth
from planner.colour.places import Place

from .verdict import Verdict, first_large, in_words, out_of

LEADS, THIRD, HALF = 0.25, 0.30, 0.50  # of the pile


def the_most_worn_color_is_not_automatically_the_strips(table: Beside, place: Place) -> Verdict:
    """The color that most shirts wear is not by itself that of the strips: its shirts lose their edge."""
    most = max(table.worn.values(), default=0)
    leads = most >= max(3.0, LEADS * len(table.ids))
    names = {name for name, count in table.worn.items() if leads and count == most}
    hit = _is_of(table, names - shared_by_half(table)) & place.is_between

    def words(cloth: int) -> str:
        return f"{_worn(table, cloth)}: strips of it would set few of them off" if hit[cloth] else ""

    return Verdict(np.where(hit, -15.0, 0.0), words)


def a_color_worn_by_a_third_is_a_theme_to_consider(table: Beside, place: Place) -> Verdict:
    """Count the groups first: a color worn by about a third of the pile is a theme to consider."""
    least = max(2.0, THIRD * len(table.ids))
    names = {name for name, count in table.worn.items() if count >= least}
    hit = _is_of(table, names - shared_by_half(table)) & (not place.is_between)

    def words(cloth: int) -> str:
        return f"{_worn(table, cloth)}: a theme to consider" if hit[cloth] else ""

    return Verdict(np.where(hit, 6.0, 0.0), words)


def team_or_school_colors_when_half_the_pile_shares_them(table: Beside, place: Place) -> Verdict:
    """Where half the pile shares a color it is the team’s or the school’s, and the cloth may say so."""
    hit = _is_of(table, shared_by_half(table))

    def words(cloth: int) -> str:
        if not hit[cloth]:
            return ""
        name = str(table.cloth_family[cloth])
        return f"{_color(name)} is in {out_of(table.shown[name], len(table.ids))}, as a team’s color is"

    return Verdict(np.where(hit, 4.0 if place.is_between else 8.0, 0.0), words)


def shared_by_half(table: Beside) -> set[str]:
    """Return the color groups that at least half of the pile shows, as ground or in a print."""
    return {name for name, count in table.shown.items() if count >= max(2.0, HALF * len(table.ids))}


def _is_of(table: Beside, names: Collection[str]) -> Truth:
    return np.isin(table.cloth_family, sorted(names)) & ~table.cloth_is_neutral


def _worn(table: Beside, cloth: int) -> str:
    name = str(table.cloth_family[cloth])
    return f"{_color(name)} is worn by {out_of(table.worn[name], len(table.ids))}"


def _color(name: str) -> str:
    return first_large(in_words(name))
