"""Which cloth of the shelf goes with a pile of shirts, place by place, with reasons."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from .beside import Beside, beside
from .look import Advice, FabricLook, Palette, Reason
from .places import place_of
from .rules import ASKED, UNASKED, Rule, Verdict

TRY_FIRST = 3  # more than three is no advice (trade habit: lay three bolts beside the pile)
GOOD = 45.0
AGAINST = 8.0  # points a rule takes from a cloth before it speaks against it in this place


def advise(
    shirts: Mapping[str, Palette], shelf: Mapping[str, FabricLook], role: str, *, theme_wanted: bool = False
) -> tuple[Advice, ...]:
    """Rank the cloths of a shelf for a role, best first, ties by id; without shirts there is no advice.

    The score is the sum of the points of its reasons, kept within 0 to 100. A rule with nothing to
    say about a cloth leaves no reason; one that only warns has no points. `theme_wanted`: the
    customer asked for a themed print.
    """
    place = place_of(role)
    if not shirts or not shelf:
        return ()
    table = beside(shirts, shelf)
    rules = ASKED if theme_wanted else UNASKED
    verdicts = [(rule.__name__, rule(table, place)) for rule in rules]
    total = np.sum([verdict.points for _, verdict in verdicts], axis=0).round(9)
    order = np.lexsort((np.arange(len(total)), -total))
    return tuple(
        Advice(
            cloth=table.cloths[cloth],
            role=role,
            score=float(min(100.0, max(0.0, total[cloth]))),
            reasons=tuple(_reasons(table, cloth, verdicts)),
        )
        for cloth in order.tolist()
    )


def spoken_of(rule: Rule, shirts: Mapping[str, Palette], cloth: FabricLook, role: str) -> tuple[str, ...]:
    """Return the shirts that one rule speaks of where this cloth lies; none if it has nothing to say."""
    if not shirts:
        return ()
    table = beside(shirts, {"": cloth})
    verdict = rule(table, place_of(role))
    return table.names(verdict.shirts, 0) if verdict.words(0) else ()


def _reasons(table: Beside, cloth: int, verdicts: Sequence[tuple[str, Verdict]]) -> Iterator[Reason]:
    for name, verdict in verdicts:
        words = verdict.words(cloth)
        if words:
            yield Reason(name, float(verdict.points[cloth]), words, table.names(verdict.shirts, cloth))


@dataclass(frozen=True)
class Sorted:
    """The cloths of a shelf in three heaps, each in the order of the advice."""

    try_first: tuple[Advice, ...]
    also_good: tuple[Advice, ...]
    only_narrow: tuple[Advice, ...]


def sort_out(advice: Iterable[Advice]) -> Sorted:
    """Sort advice for one role into what to try first, what is also good, and what is too much of it.

    First come at most three that no rule speaks against; also good is what no rule speaks against
    or what scores 45 and more in spite of it; the others are wrong here, or right only where narrow.
    """
    first: list[Advice] = []
    good: list[Advice] = []
    narrow: list[Advice] = []
    for each in advice:
        worst = min((reason.points for reason in each.reasons), default=0.0)
        if worst > -AGAINST and each.score >= GOOD and len(first) < TRY_FIRST:
            first.append(each)
        elif each.score >= GOOD and worst > -2 * AGAINST:
            good.append(each)
        else:
            narrow.append(each)
    return Sorted(tuple(first), tuple(good), tuple(narrow))
