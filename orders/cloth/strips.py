"""The strips that a part of a quilt takes of its cloth: each with the piece on the shelf it is planned on."""

from __future__ import annotations

from collections.abc import Sequence

from orders.cloth.off_the_shelf import NEW
from planner.materials import CutPlan
from planner.plan import Offer

Strips = list[list[int]]


def strips_for(
    offer: Offer, cloth: str, role: str, *, lies: Sequence[tuple[int, int]], usable: int
) -> Strips:
    """Return what a cloth gives for a role: number of the piece or `NEW`, and length in ticks.

    `lies` are the pieces the offer was reckoned with, across and along; panels need the whole `usable` width.
    """
    whole = [along if across >= usable else 0 for across, along in lies]
    if role == "backing":
        back = offer.backing[0]
        return _whole([back.length // back.panels] * back.panels, whole)
    if role == "batting":
        return _whole([offer.batting[0].length], whole)
    if role == "interfacing":
        rolls = {option.way: option for option in reversed(offer.interfacing)}
        return [each for roll in rolls.values() if roll.cloth == cloth for each in _of_plan(roll.plan)]
    chosen = {part: id for part, id in offer.layout.quilt.cloth.items() if id == cloth}
    plans = offer.cuts if role in chosen else offer.given
    return next((_of_plan(plan) for part, plan in plans.items() if part == role), [])


def _of_plan(plan: CutPlan) -> Strips:
    return [[NEW if strip.source is None else strip.source, strip.height] for strip in plan.strips]


def _whole(lengths: Sequence[int], pieces: Sequence[int]) -> Strips:
    """Panels in one piece, each from the first piece that is long enough."""
    left, found = list(pieces), []
    for length in lengths:
        at = next((each for each, along in enumerate(left) if along >= length), NEW)
        if at != NEW:
            left[at] -= length
        found.append([at, length])
    return found
