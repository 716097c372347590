"""The least that must be bought: a bound no layout can beat."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from .cloth import Cloth, Ribbon
from .table import Lying

FINEST_SHARE = 48
MOST_SUMS = 20_000


def least_to_buy(cloth: Cloth, pieces: Sequence[Lying], ribbons: Sequence[Ribbon]) -> int:
    """Return a lower bound on the length bought, in whole steps, whatever the layout.

    By area, and by shares of the width; every length on hand is taken as if it were used to the last tick.
    """
    on_hand = sum(piece.height for piece in cloth.on_hand)
    fixed = [piece for piece in pieces if piece.fixed]
    by_shares = max((_length_by(share, fixed) for share in _shares(cloth.usable, fixed)), default=0)
    return cloth.to_buy(max(0, by_shares - on_hand, _length_by_area(cloth, pieces, ribbons)))


def can_never_be_enough(cloth: Cloth, pieces: Sequence[Lying], ribbons: Sequence[Ribbon]) -> bool:
    """Say whether no layout of any kind, whole strips or not, gets everything out of what is on hand.

    Over each line along the cloth pieces add up to no more than its length, and to no more than the
    largest sum their own heights can make; across it a dual feasible function may stand for the
    width (Fekete and Schepers, from memory).
    """
    if _length_by_area(cloth, pieces, ribbons) > 0 or not all(_goes_in(cloth, piece) for piece in pieces):
        return True
    if ribbons or not all(piece.fixed for piece in pieces):
        return False
    heights = {piece.along for piece in pieces}
    on_hand = sum(_fullest(heights, piece.height) for piece in cloth.on_hand)
    return any(
        sum((share(piece.across) * piece.along * piece.count for piece in pieces), start=Fraction(0))
        > on_hand
        for share in (lambda across: Fraction(across, cloth.usable), *_shares(cloth.usable, pieces))
    )


def _goes_in(cloth: Cloth, piece: Lying) -> bool:
    """Say whether a piece goes into one of those on hand, where it may not lie another way."""
    return not piece.fixed or any(
        piece.across <= min(each.width, cloth.usable) and piece.along <= each.height for each in cloth.on_hand
    )


def _length_by(share: Callable[[int], Fraction], pieces: Sequence[Lying]) -> int:
    """Return the length that pieces take when each counts by its share of the width.

    Dual feasible functions: Martello and Toth's L2 (1990), and u^(k) of Fekete and Schepers (2001),
    from memory. Over each line across the cloth the shares add up to no more than one.
    """
    whole = sum((share(piece.across) * piece.along * piece.count for piece in pieces), start=Fraction(0))
    return -(-whole.numerator // whole.denominator)


def _length_by_area(cloth: Cloth, pieces: Sequence[Lying], ribbons: Sequence[Ribbon]) -> int:
    wanted = sum(piece.across * piece.along * piece.count for piece in pieces)
    wanted += sum(ribbon.width * ribbon.length for ribbon in ribbons)
    on_hand = sum(min(piece.width, cloth.usable) * piece.height for piece in cloth.on_hand)
    return -(-(wanted - on_hand) // cloth.usable)


def _fullest(heights: set[int], length: int) -> int:
    """Return the largest sum of heights, each as often as wanted, that the length holds."""
    sums, fresh = {0}, {0}
    while fresh and len(sums) < MOST_SUMS:
        fresh = {each + height for each in fresh for height in heights if each + height <= length} - sums
        sums |= fresh
    return length if fresh else max(sums)


def _shares(width: int, pieces: Sequence[Lying]) -> Iterator[Callable[[int], Fraction]]:
    sizes = sorted({piece.across for piece in pieces})
    for least in sizes:
        if 2 * least <= width:
            yield _without_those_below(least, width)
    most = min(FINEST_SHARE, width // sizes[0]) if sizes else 0
    for parts in range(1, most + 1):
        yield _in_parts(parts, width)


def _without_those_below(least: int, width: int) -> Callable[[int], Fraction]:
    """A piece that leaves less than `least` beside it counts as a whole strip, a small one as none."""

    def share(across: int) -> Fraction:
        if across > width - least:
            return Fraction(1)
        return Fraction(across, width) if across >= least else Fraction(0)

    return share


def _in_parts(parts: int, width: int) -> Callable[[int], Fraction]:
    """A piece counts by how many (parts + 1)-ths of the width it passes, as so many parts."""

    def share(across: int) -> Fraction:
        passed = Fraction(across * (parts + 1), width)
        return Fraction(across, width) if passed.denominator == 1 else Fraction(int(passed), parts)

    return share
