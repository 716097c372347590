"""The blocks of a quilt and the places they may take, as the rules of arranging see them."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from planner.colour import Lab, Palette, Swatch
from planner.problems import BadInput
from planner.quilt import Bag, Cell, Garment, Piece, Quilt, seam_rects
from planner.units import Rect, Sides

from .terms import Array

MOODS = ("calm", "lively", "story")


@dataclass(frozen=True)
class Wishes:
    """What was asked of an arrangement: neighbors wanted and not, favorites, teams, tuck and mood.

    `teams` are groups of pieces whose fronts look alike; `tuck` is how far in from each edge the
    quilt is tucked away, in ticks.
    """

    together: tuple[tuple[str, str], ...] = ()
    apart: tuple[tuple[str, str], ...] = ()
    favorites: frozenset[str] = frozenset()
    teams: tuple[Collection[str], ...] = ()
    tuck: Sides = Sides()
    mood: str = "calm"

    def __post_init__(self) -> None:
        if self.mood not in MOODS:
            raise BadInput("mood", f"“{self.mood}” is not one of {', '.join(MOODS)}.")
        for name in ("together", "apart"):
            if any(len(pair) != 2 or pair[0] == pair[1] for pair in getattr(self, name)):
                raise BadInput(name, "must be pairs of two different pieces.")


@dataclass(frozen=True)
class Board:
    """Blocks in the order of their ids, places in reading order.

    `standing` is the place that each block has now. What a block holds is known by its pieces.
    """

    quilt: Quilt
    bag: Bag
    blocks: tuple[Cell, ...] = field(init=False)
    places: tuple[Rect, ...] = field(init=False)
    standing: tuple[int, ...] = field(init=False)

    def __post_init__(self) -> None:
        blocks = tuple(sorted(self.quilt.cells, key=lambda cell: cell.id))
        places = tuple(sorted((cell.at for cell in blocks), key=lambda at: (at.y, at.x)))
        seat = {at: number for number, at in enumerate(places)}
        object.__setattr__(self, "blocks", blocks)
        object.__setattr__(self, "places", places)
        object.__setattr__(self, "standing", tuple(seat[cell.at] for cell in blocks))

    @cached_property
    def grown(self) -> tuple[Rect, ...]:
        """The places with the sashing shared out, so that neighbors touch."""
        by_place = dict(zip((cell.at for cell in self.quilt.cells), seam_rects(self.quilt), strict=True))
        return tuple(by_place[at] for at in self.places)

    @cached_property
    def pieces(self) -> tuple[tuple[Piece, ...], ...]:
        """The pieces in each block: one, several in a composite, none in a plain block."""
        known = {piece.id: piece for piece in self.bag.pieces}
        lost = sorted({cell.piece for cell in self.quilt.with_pieces() if cell.piece} - known.keys())
        if lost:
            raise BadInput("layout", f"no piece “{lost[0]}” is in the bag.")
        return tuple(
            tuple(known[cell.piece] for cell in block.with_pieces() if cell.piece) for block in self.blocks
        )

    @cached_property
    def block_of(self) -> Mapping[str, int]:
        """Which block a piece is in; a block without a single piece goes by its own id as well."""
        by_piece = {
            piece.id: number for number, pieces in enumerate(self.pieces) for piece in pieces
        }  # fmt: skip
        own = {block.id: number for number, block in enumerate(self.blocks) if block.piece is None}
        return {**own, **by_piece}

    @cached_property
    def palettes(self) -> tuple[Palette | None, ...]:
        """The colors of each block; those of a composite are the colors of its pieces together."""
        return tuple(_palette_of(pieces) for pieces in self.pieces)

    @cached_property
    def lightness(self) -> Array:
        """The mean CIELAB lightness of each block; NaN where nothing is known of its colors."""
        return np.array([_lightness(each) if each else np.nan for each in self.palettes])

    def names(self, numbers: Collection[int] | Array) -> list[str]:
        """Return what blocks are called: by their piece, a composite by its first."""
        return [self.pieces[n][0].id if self.pieces[n] else self.blocks[n].id for n in numbers]

    def garment_of(self, piece: Piece) -> Garment:
        """Return the garment that a piece is of."""
        return self._garments[piece.garment]

    @cached_property
    def _garments(self) -> Mapping[str, Garment]:
        return {garment.id: garment for garment in self.bag.garments}

    def number_of(self, name: str, within: str) -> int:
        """Return the block that a piece is in; one that is in none is bad input."""
        if name not in self.block_of:
            raise BadInput(within, f"no block holds “{name}”.")
        return self.block_of[name]


def _palette_of(pieces: tuple[Piece, ...]) -> Palette | None:
    known = [piece.palette for piece in pieces if piece.palette is not None]
    if not known:
        return None
    if len(known) == 1:
        return known[0]
    swatches = [
        Swatch(each.lab, each.share / len(known))
        for palette in known
        for each in (palette.ground, *palette.prints)
    ]
    return Palette(swatches[0], tuple(swatches[1:]))


def swatches_of(palette: Palette) -> tuple[tuple[Lab, float], ...]:
    """Return every color of a palette with its share."""
    return tuple((each.lab, each.share) for each in (palette.ground, *palette.prints))


def _lightness(palette: Palette) -> float:
    return sum(share * lab[0] for lab, share in swatches_of(palette))
