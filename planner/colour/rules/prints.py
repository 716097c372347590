"""Rules about printed cloth (common practice; the weights are ours)."""

from __future__ import annotations

import numpy as np

from planner.colour.beside import Beside
from planner.colour.places import Place

from .verdict import Verdict


def prints_of_one_to_three_colors_read_as_blenders(table: Beside, place: Place) -> Verdict:
    """A print of one to three colors reads as a blender, nearly as quiet as a solid."""
    blends = table.is_of("blender") & (place.quiet > 0)
    points = np.where(blends, 30 * place.quiet * table.busy_from_afar, 0.0)
    words = "Reads as a blender: few colors, so it stays behind"
    return Verdict(points, lambda cloth: words if blends[cloth] else "")


def a_themed_print_is_the_customers_exception(table: Beside, place: Place) -> Verdict:
    """A print of many colors is for the back, unless the customer asks for its theme."""
    hit = table.is_of("multi") & (place.role != "backing")
    words = "Many colors: a themed print is for the back, unless she asks for it"
    return Verdict(np.where(hit, -30.0, 0.0), lambda cloth: words if hit[cloth] else "")


def a_themed_print_she_asked_for_is_welcome(table: Beside, place: Place) -> Verdict:
    """The customer asked for a theme: its print counts as quiet, since it is what she wants to see."""
    hit = table.is_of("multi")
    points = np.where(hit, 10.0 + 100 * place.quiet * table.busy_from_afar, 0.0)
    return Verdict(points, lambda cloth: "A themed print, as she asked" if hit[cloth] else "")


def a_print_is_not_cut_to_pieces_by_a_narrow_place(table: Beside, place: Place) -> Verdict:
    """A print larger than the place it is cut for shows another piece of itself in each."""
    prints = (table.is_of("multi") | table.is_of("blender")) & (place.width < 4)
    over = np.where(prints, table.scale / place.width, 0.0)
    points = -18.0 * np.clip(over - 0.75, 0, 1)
    larger = f"Its print is larger than {place.name}: each shows another piece of it"

    def words(cloth: int) -> str:
        return larger if points[cloth] < -4 else f"Its print just fits {place.name}" if points[cloth] else ""

    return Verdict(points, words)
