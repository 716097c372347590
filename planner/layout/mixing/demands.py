"""What a bag asks of a mixed layout: which pieces must be in, and the block sizes each may take."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.quilt import Bag, Piece
from planner.units import INCH

from ..options import LeftOut
from ..window import LEAST_STRIP
from .bands import Span
from .fields import Demand, Field
from .places import COST_SECOND_SIDE, Chooser, Module, Place, in_steps

COST_PLAIN = INCH // 4  # a square inch of plain cloth
MOST_PLAIN = 5  # plain cloth is at most one part in so many


@dataclass(frozen=True)
class Wanted:
    """The pieces wanted with their places; those in `homeless` have none at all."""

    places: Mapping[str, Mapping[Span, Place]]
    demands: tuple[Demand, ...]
    homeless: tuple[Piece, ...]

    @property
    def required(self) -> int:
        """How many pieces must be in at least: each that must, and one of every other garment."""
        groups = {each.group for each in self.demands if each.group}
        return sum(len(each.pieces) for each in self.demands if each.required) + len(groups)

    def left_out(self, bag: Bag, placed: set[str]) -> tuple[LeftOut, ...]:
        """Return every piece of the bag without a block, with its reason."""
        unfit = {piece.id for piece in self.homeless}
        return tuple(
            LeftOut(piece.id, _reason(piece, piece.id in unfit))
            for piece in sorted(bag.pieces, key=lambda each: each.id)
            if piece.id not in placed
        )


def wanted_of(bag: Bag, chooser: Chooser) -> Wanted:
    """Return what the bag asks for; pieces alike in sizes, costs and need are one demand."""
    pieces = sorted((each for each in bag.pieces if each.wanted != "out"), key=lambda each: each.id)
    places = {piece.id: chooser.places(piece) for piece in pieces}
    homeless = tuple(piece for piece in pieces if not places[piece.id])
    housed = [piece for piece in pieces if places[piece.id]]
    alike: dict[tuple[object, ...], list[str]] = defaultdict(list)
    for piece in housed:
        required, group = _need(piece, housed)
        costs = tuple(sorted((span, _cost(place, required)) for span, place in places[piece.id].items()))
        alike[costs, required, group].append(piece.id)
    demands = tuple(
        Demand(tuple(ids), dict(costs), required, group)  # type: ignore[call-overload, arg-type]
        for (costs, required, group), ids in alike.items()
    )
    return Wanted(places, demands, homeless)


def field_of(wanted: Wanted, across: int, down: int, module: Module) -> Field:
    """Return the field of so many modules with what is asked of it; any block may be plain."""
    plain = frozenset(span for each in wanted.demands for span in each.costs)
    cost = in_steps(COST_PLAIN * module.step * module.step // (INCH * INCH))
    strip = module.least(LEAST_STRIP)
    return Field(across, down, wanted.demands, plain, cost, across * down // MOST_PLAIN, strip)


def _need(piece: Piece, housed: Sequence[Piece]) -> tuple[bool, str]:
    """Whether a piece must be in, and the garment that needs one of its pieces, if none of them must."""
    siblings = [each for each in housed if each.garment == piece.garment]
    if piece.wanted == "must" or len(siblings) == 1:
        return True, ""
    served = any(each.wanted == "must" for each in siblings)
    return False, "" if served else piece.garment


def _cost(place: Place, required: bool) -> int:
    return place.cost if required else place.cost + COST_SECOND_SIDE


def _reason(piece: Piece, unfit: bool) -> str:
    if piece.wanted == "out":
        return "Not wanted in this quilt."
    if unfit:
        return "It has not the cloth for any block of this module."
    return "Every block is taken, and its garment has another."
