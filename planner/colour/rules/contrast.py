"""Rules about how a cloth stands off from the shirts (common practice; the weights are ours)."""

from __future__ import annotations

import numpy as np

from planner.colour.beside import Beside, Truth
from planner.colour.places import Place

from .hues import all_but_matched
from .verdict import Verdict, named, out_of

LOST, CLOSE, CLEAR = 6.0, 12.0, 22.0  # CIEDE2000
VALUE_FREE, VALUE_LOST = 0.30, 0.55  # OKLab lightness
STRONG, LOUD = 0.13, 0.20  # OKLab chroma


def the_strips_between_touch_every_shirt(table: Beside, place: Place) -> Verdict:
    """What lies beside every shirt has to set each of them off, not one of them alone."""
    clear = np.clip((table.apart - LOST) / (CLEAR - LOST), 0, 1)
    sets_off = table.apart >= (LOST + CLEAR) / 2
    darker = table.shelf.light[:, None] < table.pile.oklab[table.pile.starts, 0][None, :]

    def words(cloth: int) -> str:
        off, count = sets_off[cloth], int(sets_off[cloth].sum())
        if not place.touches_shirts:
            return ""
        if not count:
            return "Sets hardly a shirt off"
        sides = set(darker[cloth][off].tolist())
        how = "Sets off" if len(sides) > 1 else "Darker than" if sides.pop() else "Lighter than"
        each = ": each one stands out" if count == len(table.ids) and count > 1 and how != "Sets off" else ""
        return f"{how} {out_of(count, len(table.ids))}{each}"

    return Verdict(100 * place.edge * clear.mean(axis=1), words, sets_off)


def the_cloth_must_not_get_lost_beside_the_shirts(table: Beside, place: Place) -> Verdict:
    """A shirt whose color is nearly that of the strip beside it has no edge: it gets lost."""
    lost = _nearer_than(LOST, table)

    def words(cloth: int) -> str:
        return f"Gets lost beside {named(table, lost[cloth])}" if place.lost and lost[cloth].any() else ""

    return Verdict(-place.lost * lost.mean(axis=1), words, lost)


def a_shirt_close_to_the_cloth_is_set_off_but_little(table: Beside, place: Place) -> Verdict:
    """Between lost and clear a shirt still has an edge, but one that hardly shows from across the room."""
    close = _nearer_than(CLOSE, table) & ~_nearer_than(LOST, table) & ~all_but_matched(table)
    at_stake = place.lost / 3 if place.is_wide else 0.0

    def words(cloth: int) -> str:
        return f"Close to {named(table, close[cloth])}" if at_stake and close[cloth].any() else ""

    return Verdict(-at_stake * close.mean(axis=1), words, close)


def _nearer_than(limit: float, table: Beside) -> Truth:
    """Say which cloths lie nearer than so much to which shirts, as a whole or in their one main color."""
    plain = table.shelf.share[table.shelf.starts] > 0.5
    return np.asarray((table.apart < limit) | (table.to_main_color < limit) & plain[:, None])


def it_is_not_far_too_dark_or_light_against_the_set(table: Beside, place: Place) -> Verdict:
    """Cloth far darker or far lighter than the middle of the pile makes holes or glare."""
    off = table.shelf.light - np.median(table.pile.oklab[table.pile.starts, 0])
    keeps = np.clip((VALUE_LOST - np.abs(off)) / (VALUE_LOST - VALUE_FREE), 0, 1)

    def words(cloth: int) -> str:
        side = "dark" if off[cloth] < 0 else "light"
        if keeps[cloth] > 0.75:
            return "Neither far darker nor far lighter than the set"
        return f"{'Rather' if keeps[cloth] > 0.35 else 'Far too'} {side} against the set"

    return Verdict(100 * place.value * keeps, words)


def a_loud_color_takes_over_where_it_is_wide(table: Beside, place: Place) -> Verdict:
    """A strong red or a neon takes over where it is wide; use it narrow: binding, corner squares."""
    loud = np.clip((table.cloth_chroma - STRONG) / (LOUD - STRONG), 0, 1) * place.is_wide

    def words(cloth: int) -> str:
        if loud[cloth] > 0.25:
            return "Takes over at this width; better as binding or corner squares"
        return "A strong color at this width" if loud[cloth] else ""

    return Verdict(-25 * loud, words)


def quiet_cloth_leaves_the_talking_to_the_shirts(table: Beside, place: Place) -> Verdict:
    """The shirts are the picture, the cloth is the frame: solids and tone on tone before prints."""
    busy = table.busy_from_afar

    def words(cloth: int) -> str:
        if not place.quiet:
            return ""
        if busy[cloth] > 0.55:
            return "Busy: it talks over the shirts"
        return "Quiet beside the prints" if busy[cloth] < 0.3 else "Has some life in it, and is not loud"

    return Verdict(100 * place.quiet * (1 - busy), words)
