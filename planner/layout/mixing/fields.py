"""A field of modules to fill, what is asked of it, and how it was filled."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from .bands import Span
from .dealing import Column


@dataclass(frozen=True)
class Demand:
    """Pieces that may take the same block sizes at the same costs.

    Every one must be in when `required`; of a `group`, a garment, at least one.
    """

    pieces: tuple[str, ...]
    costs: Mapping[Span, int]
    required: bool
    group: str = ""

    def turned(self) -> Demand:
        """Return the demand with every size on its side."""
        return replace(self, costs={turn(span): cost for span, cost in self.costs.items()})


@dataclass(frozen=True)
class Field:
    """A field to fill, `across` by `down` modules.

    `plain` are the sizes that may be plain cloth, at `plain_cost` a module, at most `most_plain`
    modules of it in all; so may strips of `strip` modules over the whole of a column. So many as
    `spare` says of the pieces that are required may stay out.
    """

    across: int
    down: int
    demands: tuple[Demand, ...]
    plain: frozenset[Span]
    plain_cost: int
    most_plain: int
    strip: int = 1
    spare: int = 0

    @property
    def widest(self) -> int:
        """The widest block that a piece may take."""
        return max((span[0] for each in self.demands for span in each.costs), default=1)

    def may_be_filled(self) -> bool:
        """Say whether the pieces have neither too much cloth for the field nor too little, by area alone."""
        sizes = [(each, [across * down for across, down in each.costs]) for each in self.demands]
        most = sum(max(areas) * len(each.pieces) for each, areas in sizes) + self.most_plain
        must = sorted(min(areas) for each, areas in sizes if each.required for _ in each.pieces)
        least = sum(must[: len(must) - self.spare])
        return least <= self.across * self.down <= most

    def turned(self) -> Field:
        """Return the field on its side, so that its rows are columns."""
        demands = tuple(each.turned() for each in self.demands)
        plain = frozenset(turn(span) for span in self.plain)
        return replace(self, across=self.down, down=self.across, demands=demands, plain=plain)


@dataclass(frozen=True)
class Packing:
    """A field filled: its columns from left to right, and which pieces got blocks of which size."""

    columns: tuple[Column, ...]
    pieces: Mapping[Span, tuple[str, ...]]
    cost: int


@dataclass(frozen=True)
class Settled:
    """How a search ended: the best packing, the least cost there can be, and whether all is known.

    Without a packing and `proved` there is none. `bound` is no cost of a packing when there is none.
    """

    packing: Packing | None
    bound: int
    proved: bool


def turn(span: Span) -> Span:
    """Return a size on its side."""
    return span[1], span[0]
