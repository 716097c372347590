"""Whether a cut plan can be cut with a ruler and gives every piece, looked at afresh."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from planner.problems import Problem
from planner.units import Size

from .cloth import Cloth, Column, CutPiece, CutPlan, Item, Ribbon, Strip


def check_cuts(cloth: Cloth, items: Sequence[Item], plan: CutPlan) -> tuple[Problem, ...]:
    """Return what is wrong with the plan, () when it is sound; shares nothing with the planning."""
    strips = [strip for strip in plan.strips if _source_is_known(cloth, strip)]
    unknown = [_fault("A strip is cut from a piece that is not on hand.", cloth)] * (
        len(plan.strips) - len(strips)
    )
    return (
        *unknown,
        *_columns_stay_inside(cloth, strips),
        *_strips_do_not_overlap(cloth, strips),
        *_sources_are_long_enough(cloth, strips, plan),
        *_every_piece_is_there(cloth, items, strips),
        *_ribbons_are_long_enough(cloth, items, strips),
        *_nothing_else_is_cut(cloth, items, strips),
        *_figures_are_right(cloth, strips, plan),
        *_leftovers_are_left(cloth, strips, plan),
    )


def _fault(what: str, cloth: Cloth, *names: str, **figures: int) -> Problem:
    return Problem(what, (cloth.id, *names), "Plan the cuts again.", figures)


def _source_is_known(cloth: Cloth, strip: Strip) -> bool:
    return strip.source is None or 0 <= strip.source < len(cloth.on_hand)


def _sheet(cloth: Cloth, source: int | None, plan: CutPlan) -> Size:
    if source is None:
        washed = plan.buy * (1000 - cloth.shrinkage) // 1000
        return Size(cloth.usable, max(0, washed - cloth.squaring))
    piece = cloth.on_hand[source]
    return Size(min(piece.width, cloth.usable), piece.height)


def _columns_stay_inside(cloth: Cloth, strips: Sequence[Strip]) -> Iterator[Problem]:
    for strip in strips:
        on_hand = cloth.usable if strip.source is None else cloth.on_hand[strip.source].width
        taken = sum(column.across for column in strip.columns)
        if taken > min(on_hand, cloth.usable):
            yield _fault("A strip is wider than the usable width.", cloth, taken=taken)
        for column in strip.columns:
            if column.along * column.count > strip.height:
                yield _fault(
                    f"“{column.item}” does not fit into the height of its strip.", cloth, column.item
                )


def _strips_do_not_overlap(cloth: Cloth, strips: Sequence[Strip]) -> Iterator[Problem]:
    reached: dict[int | None, int] = defaultdict(int)
    for strip in sorted(strips, key=lambda strip: strip.at):
        if strip.at < reached[strip.source]:
            yield _fault("Two strips overlap.", cloth, at=strip.at)
        reached[strip.source] = max(reached[strip.source], strip.at + strip.height)


def _sources_are_long_enough(cloth: Cloth, strips: Sequence[Strip], plan: CutPlan) -> Iterator[Problem]:
    for source in dict.fromkeys(strip.source for strip in strips):
        end = max(strip.at + strip.height for strip in strips if strip.source == source)
        length = _sheet(cloth, source, plan).height
        if end > length:
            what = "More is cut than is bought." if source is None else "More is cut than is on hand."
            yield _fault(what, cloth, cut=end, length=length)


def _every_piece_is_there(cloth: Cloth, items: Sequence[Item], strips: Sequence[Strip]) -> Iterator[Problem]:
    for piece in (item for item in items if isinstance(item, CutPiece)):
        columns = [column for _, column in _columns_of(piece.name, strips)]
        cut = sum(column.count for column in columns)
        if cut != piece.count:
            yield _fault(f"“{piece.name}” is cut {cut} times instead of {piece.count}.", cloth, piece.name)
        for column in columns:
            yield from _lies_as_it_may(cloth, piece, column)
        turned = sum(column.count for column in columns if _is_turned(piece, column))
        if cloth.directional and turned != piece.upright:
            yield _fault(f"“{piece.name}” does not stand with the one-way print.", cloth, piece.name)


def _is_turned(piece: CutPiece, column: Column) -> bool:
    return piece.across != piece.along and (column.across, column.along) == (piece.along, piece.across)


def _lies_as_it_may(cloth: Cloth, piece: CutPiece, column: Column) -> Iterator[Problem]:
    if (column.across, column.along) == (piece.across, piece.along):
        return
    if not _is_turned(piece, column):
        yield _fault(f"“{piece.name}” is cut to another size.", cloth, piece.name)
    elif piece.keep_grain and not cloth.directional:
        yield _fault(f"“{piece.name}” is turned off its grain.", cloth, piece.name)


def _ribbons_are_long_enough(
    cloth: Cloth, items: Sequence[Item], strips: Sequence[Strip]
) -> Iterator[Problem]:
    for ribbon in (item for item in items if isinstance(item, Ribbon)):
        ends: list[int] = []
        for strip, column in _columns_of(ribbon.name, strips):
            if cloth.directional and ribbon.upright != strip.lengthwise:
                yield _fault(f"“{ribbon.name}” does not stand with the print.", cloth, ribbon.name)
            length, width = column.across, column.along
            if strip.lengthwise:
                length, width = width, length
            ends += [length] * column.count
            if width != ribbon.width:
                yield _fault(f"“{ribbon.name}” has an end of another width.", cloth, ribbon.name)
        lost = ribbon.width if ribbon.join is None else ribbon.join
        if sum(ends) - (len(ends) - 1) * lost < ribbon.length:
            yield _fault(f"“{ribbon.name}” is too short once joined.", cloth, ribbon.name)
        if any(end < ribbon.least_end for end in ends):
            yield _fault(f"“{ribbon.name}” has an end that is too short.", cloth, ribbon.name)


def _nothing_else_is_cut(cloth: Cloth, items: Sequence[Item], strips: Sequence[Strip]) -> Iterator[Problem]:
    known = {item.name for item in items}
    cut = {column.item for strip in strips for column in strip.columns}
    for name in sorted(cut - known):
        yield _fault(f"“{name}” is cut but nobody asked for it.", cloth, name)


def _figures_are_right(cloth: Cloth, strips: Sequence[Strip], plan: CutPlan) -> Iterator[Problem]:
    if plan.used != sum(strip.height for strip in strips):
        yield _fault("The length used is not that of the strips.", cloth, used=plan.used)
    if plan.buy % cloth.step:
        yield _fault("What is bought is no whole number of steps.", cloth, buy=plan.buy)
    if plan.buy and cloth.price is None:
        yield _fault("More is bought of a cloth that cannot be bought.", cloth, buy=plan.buy)
    if plan.cost != (cloth.price.on(plan.buy) if cloth.price else None):
        yield _fault("The cost is not the price of what is bought.", cloth)
    if plan.bound > plan.buy:
        yield _fault("Less is bought than the bound says is needed.", cloth, bound=plan.bound, buy=plan.buy)
    if plan.proved != (plan.bound == plan.buy):
        yield _fault("It is proved exactly when bound and purchase are equal.", cloth)


def _leftovers_are_left(cloth: Cloth, strips: Sequence[Strip], plan: CutPlan) -> Iterator[Problem]:
    sheets = [_sheet(cloth, source, plan) for source in {strip.source for strip in strips}]
    cut = sum(column.across * column.along * column.count for strip in strips for column in strip.columns)
    left = sum(size.area for size in plan.leftovers)
    if left > sum(sheet.area for sheet in sheets) - cut:
        yield _fault("More is said to be left over than there can be.", cloth)
    for size in plan.leftovers:
        if not any(size.width <= sheet.width and size.height <= sheet.height for sheet in sheets):
            yield _fault("A leftover is larger than what it was cut from.", cloth)


def _columns_of(name: str, strips: Sequence[Strip]) -> Iterator[tuple[Strip, Column]]:
    return ((strip, column) for strip in strips for column in strip.columns if column.item == name)
