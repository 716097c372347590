"""Interfacing for the shirt panels, kind by kind, off any roll that serves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from planner.care.interfacing import SEW_IN
from planner.problems import Impossible, Limit, Problem
from planner.units import INCH, Length, Money, Size

from .allowances import INTERFACING_OVER
from .cheapest import cheapest_first
from .cloth import Cloth, Column, CutPiece, CutPlan, pieces_of_one_size
from .shirts import ShirtCut
from .strips import plan_cuts

WITHOUT_GRAIN = ("light non-woven",)
LONGEST_BEHIND = 18 * INCH
NO_STRIPS: Mapping[str, Sequence[CutPiece]] = MappingProxyType({})


@dataclass(frozen=True)
class InterfacingOption:
    """One roll for all panels that need its kind; `way` is that kind."""

    cloth: str
    way: str
    pieces: int
    length: Length
    buy: Length
    cost: Money | None
    plan: CutPlan


def interfacing_options(
    cuts: Sequence[ShirtCut],
    rolls: Sequence[Cloth],
    *,
    limit: Limit,
    over: int = INTERFACING_OVER,
    behind: Mapping[str, Sequence[CutPiece]] = NO_STRIPS,
) -> tuple[InterfacingOption, ...] | Impossible:
    """Return for each kind needed, in the order of the alphabet, the rolls that serve, cheapest first.

    `behind` are pieces to lie behind strips that are cut from garments, by kind. A roll serves when
    its `kind` is the kind needed and every panel fits. A kind that no roll serves makes the whole
    Impossible and is named.
    """
    kinds = sorted({cut.interfacing for cut in cuts if cut.layers and cut.interfacing != "none"} | {*behind})
    found: list[InterfacingOption] = []
    missing: list[Problem] = []
    for kind in kinds:
        panels = [cut for cut in cuts if cut.interfacing == kind]
        pieces = (*interfacing_pieces(panels, kind=kind, over=over), *behind.get(kind, ()))
        options = _options(kind, pieces, rolls, limit)
        found += options
        missing += [] if options else [_no_roll(kind, cuts, pieces)]
    return Impossible(tuple(missing)) if missing else tuple(found)


def interfacing_size(cut: Size, *, over: int = INTERFACING_OVER) -> Size:
    """Return the room one panel's interfacing takes on the roll: the trimmed block and `over`.

    14 1/2 in makes 16 1/2 (twelve of them are 5 1/2 yd of 20-in cloth). It is trimmed to lie just
    inside the rough panel before fusing, so that no glue meets the board (trade handbook 3.2, P6).
    """
    return cut.grown(over)


def behind_strips(plan: CutPlan, cloth: Cloth, *, name: str = "") -> tuple[CutPiece, ...]:
    """Return what lies behind the strips of a cloth that has to be fused first, at the size they are cut.

    A strip longer than 18 in is backed by pieces laid edge to edge (common practice).
    """
    if cloth.fuse in ("none", SEW_IN):
        return ()
    columns = [column for strip in plan.strips for column in strip.columns for _ in range(column.count)]
    sizes = [size for column in columns for size in _edge_to_edge(column)]
    return pieces_of_one_size(f"behind {name or cloth.id}", sizes, keep_grain=cloth.fuse not in WITHOUT_GRAIN)


def _edge_to_edge(column: Column) -> Iterator[Size]:
    left = column.across
    while left > 0:
        yield Size(min(left, LONGEST_BEHIND), column.along)
        left -= LONGEST_BEHIND


def interfacing_pieces(cuts: Sequence[ShirtCut], *, kind: str, over: int) -> tuple[CutPiece, ...]:
    """Return the pieces, a second layer crosswise to the first.

    Non-woven has no grain and may turn; the others stretch one way and lie across the shirt's own
    stretch (trade handbook 3.3, P5, P6).
    """
    sizes = [size for cut in cuts for size in _layers(interfacing_size(cut.cut, over=over), cut.layers)]
    return pieces_of_one_size("interfacing", sizes, keep_grain=kind not in WITHOUT_GRAIN)


def _layers(size: Size, layers: int) -> list[Size]:
    crosswise = Size(size.height, size.width)
    return [crosswise if number % 2 else size for number in range(layers)]


def _options(
    kind: str, pieces: Sequence[CutPiece], rolls: Sequence[Cloth], limit: Limit
) -> tuple[InterfacingOption, ...]:
    count = sum(piece.count for piece in pieces)
    found = []
    for roll in sorted((roll for roll in rolls if roll.kind == kind), key=lambda roll: roll.id):
        plan = plan_cuts(roll, pieces, limit=limit)
        if isinstance(plan, CutPlan):
            found.append(InterfacingOption(roll.id, kind, count, plan.used, plan.buy, plan.cost, plan))
    return cheapest_first(found)


def _no_roll(kind: str, cuts: Sequence[ShirtCut], pieces: Sequence[CutPiece]) -> Problem:
    return Problem(
        f"No roll of {kind} interfacing serves the panels that need it.",
        tuple(cut.cell for cut in cuts if cut.interfacing == kind),
        "Add a roll of that kind that is wide enough and long enough, or can be bought.",
        {"widest": max(piece.across for piece in pieces)},
    )
