"""Why an arrangement is as it is, one sentence a rule, in the words of a maker."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from . import pair_rules as pair
from . import place_rules as place
from .board import Board, Wishes
from .places import at_the_top, centers, in_corner, quarters, touching
from .tabu import Found
from .terms import Array

MOST_NAMED = 4
LOOKS_ALIKE = 0.6  # as alike as colors of ΔE₀₀ 10
HARDLY_TUCKED = 0.25
ON_THE_DIAGONAL = 0.2


@dataclass(frozen=True)
class Told:
    """An arrangement to be told of: where each block lies now, and where it lay before."""

    board: Board
    wishes: Wishes
    places: Array
    before: Array

    def pairs_beside(self, some: Array, places: Array) -> list[tuple[int, int]]:
        """Return the pairs of blocks among `some` that lie side by side."""
        beside, _ = touching(self.board.grown)
        found = some & beside[np.ix_(places, places)]
        return [(int(a), int(b)) for a, b in np.argwhere(np.triu(found, 1))]

    def names(self, some: Array) -> list[str]:
        """Return what the blocks of a yes-or-no row are called, in their order."""
        return sorted(self.board.names(np.flatnonzero(some)))

    def listed_pairs(self, pairs: Sequence[tuple[int, int]]) -> str:
        """Return pairs as they are said."""
        return _listed([" beside ".join(self.board.names(each)) for each in pairs])


def reasons_for(board: Board, wishes: Wishes, found: Found, *, pinned: Sequence[str]) -> tuple[str, ...]:
    """Return the sentences, the ones that were asked for first."""
    if not any(board.pieces):
        return ("There is nothing to arrange: no block holds a shirt.",)
    return (*told_of(board, wishes, found.places, pinned=pinned), _agreement(found))


def told_of(board: Board, wishes: Wishes, places: Sequence[int], *, pinned: Sequence[str]) -> tuple[str, ...]:
    """Return the sentences of an arrangement, however it came about."""
    told = Told(board, wishes, np.array(places), np.array(board.standing))
    said = [_pins(pinned), *(tell(told) for tell in TELLERS)]
    return tuple(sentence for sentence in said if sentence)


def _pins(pinned: Sequence[str]) -> str:
    if not pinned:
        return ""
    verb, it = ("lies", "it") if len(pinned) == 1 else ("lie", "them")
    return f"{_listed(pinned)} {verb} where you pinned {it}."


def _together(told: Told) -> str:
    return _wished(told, told.wishes.together, "together", "lie side by side, as you wished")


def _apart(told: Told) -> str:
    return _wished(told, told.wishes.apart, "apart", "lie apart, as you wished")


def _wished(told: Told, pairs: tuple[tuple[str, str], ...], within: str, words: str) -> str:
    beside, _ = touching(told.board.grown)
    kept: list[str] = []
    missed: list[str] = []
    for a, b in sorted(map(sorted, pairs)):
        one, other = (told.places[told.board.number_of(name, within)] for name in (a, b))
        met = bool(beside[one, other]) == (within == "together") or one == other
        (kept if met else missed).append(f"{a} and {b}")
    said = [f"{_listed(kept)} {words}."] if kept else []
    if missed:
        said.append(f"{_listed(missed)} could not: pin them where you want them.")
    return " ".join(said)


def _story(told: Told) -> str:
    if told.wishes.mood != "story":
        return ""
    off = int(np.abs(told.places - place.reading_order(told.board)).max())
    if off == 0:
        return "The shirts read in their order, from the upper left, row by row."
    places = "one place" if off == 1 else f"{off} places"
    return f"The shirts read in their order from the upper left; none is more than {places} off."


def _colors(told: Told) -> str:
    alike = pair.likeness(told.board) > LOOKS_ALIKE
    if not alike.any():
        return ""
    now, before = told.pairs_beside(alike, told.places), told.pairs_beside(alike, told.before)
    was = f"; there {_were(len(before))} before" if len(before) > len(now) else ""
    if not now:
        return f"No two blocks of like color lie side by side{was}."
    touch, verb = ("One pair", "lies") if len(now) == 1 else (f"{len(now)} pairs", "lie")
    named = f" Look at {told.listed_pairs(now)}." if len(now) <= MOST_NAMED else ""
    return f"{touch} of like color {verb} side by side{was}.{named}"


def _balance(told: Told) -> str:
    now, before = unevenness(told.board, told.places), unevenness(told.board, told.before)
    if now is None or before is None:
        return ""
    was = f" It was {before}." if before > now else ""
    return f"Light and dark: the four quarters differ by {now} in 100 of lightness.{was}"


def unevenness(board: Board, places: Array) -> int | None:
    """Return by how many points of 100 the lightest quarter is lighter than the darkest; None if unknown."""
    known = ~np.isnan(board.lightness)
    weight = quarters(board.grown) * np.array([[at.size.area] for at in board.places], dtype=float)
    weight = weight[places] * known[:, None]
    if not (weight.sum(axis=0) > 0).all():
        return None
    mean = (np.nan_to_num(board.lightness)[:, None] * weight).sum(axis=0) / weight.sum(axis=0)
    return int(np.rint(mean.max() - mean.min()))


def _favorites(told: Told) -> str:
    dear = place.favorites(told.board, told.wishes)
    if not dear.any():
        return ""
    x, y = centers(told.board.places)
    at = told.places[dear]
    if (y[at] <= 0.6).all() and (np.abs(x[at] - 0.5) <= 0.35).all():
        seen = "it is seen" if dear.sum() == 1 else "they are seen"
        return f"{_are(told.names(dear), 'favorite')} in the upper middle, where {seen}."
    return f"Not every favorite has room in the upper middle: {_listed(told.names(dear))}."


def _tuck(told: Told) -> str:
    dear, hidden = place.favorites(told.board, told.wishes), place.tucked(told.board, told.wishes.tuck)
    if not dear.any() or not hidden.any():
        return ""
    lost = dear & (hidden[told.places] > HARDLY_TUCKED)
    if not lost.any():
        return "Nothing dear lies in the part that is tucked away."
    return f"{_listed(told.names(lost))} would lie in the part that is tucked away: pin it higher."


def _heavy(told: Told) -> str:
    heavy = pair.heavy(told.board)
    if not heavy.any():
        return ""
    near = told.pairs_beside(np.outer(heavy, heavy), told.places)
    cornered = heavy & in_corner(told.board.places)[told.places]
    if not near and not cornered.any():
        apart = "apart and out of the corners" if heavy.sum() > 1 else "out of the corners"
        return f"{_are(told.names(heavy), 'heavy block')} {apart}."
    said = [f"heavy blocks lie side by side: {told.listed_pairs(near[:MOST_NAMED])}"] if near else []
    said += [f"heavy in a corner: {_listed(told.names(cornered))}"] if cornered.any() else []
    return _sentence("; ".join(said))


def _cool(told: Told) -> str:
    cool = place.cool_iron(told.board)
    if not cool.any():
        return ""
    at_top = cool & at_the_top(told.board.places)[told.places]
    if not at_top.any():
        return "No print that needs a cool iron lies at the top edge, where faces touch."
    return f"Prints for a cool iron lie at the top edge, where faces touch: {_listed(told.names(at_top))}."


def _accents(told: Told) -> str:
    bright = pair.accents(told.board)
    if not bright.any():
        return ""
    x, y = centers(told.board.places)
    at = told.places[bright]
    if (np.abs(x[at] - y[at]) <= ON_THE_DIAGONAL).all():
        return f"The bright ones, {_listed(told.names(bright))}, run from the upper left to the lower right."
    if not told.pairs_beside(np.outer(bright, bright), told.places):
        return f"The bright ones, {_listed(told.names(bright))}, are scattered."
    return ""


def _teams(told: Told) -> str:
    if not told.wishes.teams:
        return ""
    fronts = pair.two_fronts_of_one_team_apart(told.board, told.wishes) > 0
    near = told.pairs_beside(fronts, told.places)
    if not near:
        return "No two fronts of one team lie side by side."
    return f"Fronts of one team lie side by side: {told.listed_pairs(near[:MOST_NAMED])}."


TELLERS: tuple[Callable[[Told], str], ...] = (
    _together, _apart, _story, _favorites, _tuck, _colors, _balance, _teams, _heavy, _cool, _accents,
)  # fmt: skip


def _agreement(found: Found) -> str:
    if found.agree == 1:
        return f"The best found; of {found.chains} starts none other came to the same."
    return f"The best found; {found.agree} of {found.chains} starts came to it."


def _are(names: Sequence[str], kind: str) -> str:
    if len(names) == 1:
        return f"{names[0]}, the {kind}, lies"
    return f"{_listed(names)}, the {kind}s, lie"


def _were(count: int) -> str:
    return "was 1" if count == 1 else f"were {count}"


def _listed(names: Sequence[str]) -> str:
    *first, last = names
    return f"{', '.join(first)} and {last}" if first else last


def _sentence(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}."
