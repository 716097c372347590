"""A pile of shirts and a shelf of cloth laid side by side: every difference the trade's rules ask for.

Rows are cloths, columns are shirts, both in the order of their ids.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import compress

import numpy as np
from numpy.typing import NDArray

from .convert import Array, difference, lab_to_oklab
from .groups import NEUTRALS, family_names
from .look import FabricLook, Palette, Swatch

Truth = NDArray[np.bool_]
Names = NDArray[np.str_]

COLORED = 0.035  # OKLab chroma below which a hue is noise
NAVY = 0.36  # OKLab lightness below which blue goes with everything, as black and charcoal do
SEEN = 0.03  # share of a shirt from which a print color is noticed
NEUTRAL_COUNTS = 0.35  # white and gray are always there and count little
SAME_HUE, NEAR_HUE, ACROSS = 25.0, 50.0, 150.0  # degrees
READS_PLAIN = 0.25  # inches from motif to motif: a print as small reads as plain from across a room


@dataclass(frozen=True)
class Colors:
    """Swatches of many palettes in one table; `starts` is where the swatches of each palette begin."""

    lab: Array
    share: Array
    starts: NDArray[np.intp]

    @classmethod
    def of(cls, palettes: Sequence[Palette]) -> Colors:
        """Put the swatches of palettes one below the other, the ground of each first."""
        each = [_swatches(palette) for palette in palettes]
        flat = [swatch for swatches in each for swatch in swatches]
        starts = np.concatenate([[0], np.cumsum([len(swatches) for swatches in each])])[:-1]
        lab = np.array([swatch.lab for swatch in flat], dtype=np.float64).reshape(-1, 3)
        return cls(lab, np.array([swatch.share for swatch in flat]), starts.astype(np.intp))

    @cached_property
    def oklab(self) -> Array:
        return lab_to_oklab(self.lab)

    @cached_property
    def hue(self) -> Array:
        return np.asarray(np.degrees(np.arctan2(self.oklab[:, 2], self.oklab[:, 1])) % 360)

    @cached_property
    def chroma(self) -> Array:
        return np.asarray(np.hypot(self.oklab[:, 1], self.oklab[:, 2]))

    @cached_property
    def family(self) -> Names:
        return family_names(self.lab)

    @cached_property
    def has_hue(self) -> Truth:
        return (self.chroma >= COLORED) & ~np.isin(self.family, NEUTRALS)

    @cached_property
    def light(self) -> Array:
        """The lightness of each palette as a whole, OKLab 0 to 1."""
        return self.mean(self.oklab[:, 0])

    def mean(self, values: Array) -> Array:
        """Return the mean of each palette, weighted by area; `values` has a row for each swatch."""
        share = self.share.reshape(-1, *[1] * (values.ndim - 1))
        return np.asarray(np.add.reduceat(values * share, self.starts) / np.add.reduceat(share, self.starts))

    def first(self, values: Array | Names | Truth) -> NDArray[np.generic]:
        """Return the value of each palette's ground."""
        return np.asarray(values[self.starts])

    def any(self, values: Truth) -> Truth:
        """Say of each palette whether it holds for one of its swatches."""
        return np.asarray(np.logical_or.reduceat(values, self.starts))


@dataclass(frozen=True)
class Beside:
    """The shirts of a pile and the cloths of a shelf, and how they look next to one another."""

    ids: tuple[str, ...]
    cloths: tuple[str, ...]
    looks: tuple[FabricLook, ...]
    pile: Colors
    shelf: Colors

    @cached_property
    def shirt_is_neutral(self) -> Truth:
        return ~np.asarray(self.pile.first(self.pile.has_hue), dtype=np.bool_)

    @cached_property
    def weights(self) -> Array:
        """How much each shirt counts; the sum is 1."""
        counts = np.where(self.shirt_is_neutral, NEUTRAL_COUNTS, 1.0)
        return np.asarray(counts / counts.sum())

    @cached_property
    def families(self) -> Names:
        """The color group of each shirt's ground."""
        return self.pile.first(self.pile.family).astype(str)

    @cached_property
    def cloth_family(self) -> Names:
        return self.shelf.first(self.shelf.family).astype(str)

    @cached_property
    def cloth_is_neutral(self) -> Truth:
        """Cloth without a color of its own, navy among it."""
        navy = (self.shelf.family == "blue") & (self.shelf.oklab[:, 0] < NAVY)
        return ~self.shelf.any(self.shelf.has_hue & ~navy & (self.shelf.share >= SEEN))

    @cached_property
    def to_main_color(self) -> Array:
        """CIEDE2000 from the main color of each cloth to the ground of each shirt."""
        return np.asarray(self._every_difference[self.shelf.starts])

    @cached_property
    def apart(self) -> Array:
        """CIEDE2000 from each cloth to the ground of each shirt, weighted by the area of its colors."""
        return self.shelf.mean(self._every_difference)

    @cached_property
    def _every_difference(self) -> Array:
        grounds = self.pile.lab[self.pile.starts]
        return np.asarray(difference(self.shelf.lab[:, None, :], grounds[None, :, :]))

    @cached_property
    def hue_gap(self) -> Array:
        """Degrees from the nearest hue of each cloth to the nearest hue of each shirt; 999 without one."""
        gap = np.abs((self.shelf.hue[:, None] - self.pile.hue[None, :] + 180) % 360 - 180)
        seen = self.pile.has_hue & (self.pile.share >= SEEN)
        gap[:, ~seen] = 999
        gap[~(self.shelf.has_hue & (self.shelf.share >= SEEN)), :] = 999
        by_cloth = np.minimum.reduceat(gap, self.shelf.starts, axis=0)
        return np.asarray(np.minimum.reduceat(by_cloth, self.pile.starts, axis=1))

    @cached_property
    def ground_hue_gap(self) -> Array:
        """Degrees from the main hue of each cloth to the hue of each shirt's ground; 999 without one."""
        cloths, shirts = self.shelf.starts, self.pile.starts
        gap = np.abs((self.shelf.hue[cloths][:, None] - self.pile.hue[shirts][None, :] + 180) % 360 - 180)
        gap[~self.shelf.has_hue[cloths], :] = 999
        gap[:, ~self.pile.has_hue[shirts]] = 999
        return np.asarray(gap)

    @cached_property
    def worn(self) -> Mapping[str, int]:
        """How many shirts wear each color group as ground, the colored groups alone."""
        colored = self.families[~self.shirt_is_neutral]
        names, counts = np.unique(colored, return_counts=True)
        return {str(name): int(count) for name, count in zip(names, counts, strict=True)}

    @cached_property
    def shown(self) -> Mapping[str, int]:
        """How many shirts show each color group, as ground or in a print."""
        seen = self.pile.has_hue & (self.pile.share >= SEEN)
        names = {str(name) for name in self.pile.family[seen]}
        return {name: int(self.pile.any(seen & (self.pile.family == name)).sum()) for name in sorted(names)}

    def is_of(self, kind: str) -> Truth:
        """Say of each cloth whether it is solid, mottled, a blender or multi."""
        return np.array([look.kind == kind for look in self.looks], dtype=np.bool_)

    def names(self, shirts: Truth | None, cloth: int) -> tuple[str, ...]:
        """Return the ids of the shirts that a table marks for a cloth."""
        return () if shirts is None else tuple(compress(self.ids, shirts[cloth].tolist()))

    @cached_property
    def support(self) -> Array:
        """How well each cloth goes with the hues of the pile, 0 to 1.

        For each shirt: the same hue 1, a near one .75, one across from it .70, a neutral cloth .85,
        a neutral shirt .60, else .35; shirts count by their weights.
        """
        gap = self.hue_gap
        across = (gap > ACROSS) & (gap <= 180)
        best = np.select([gap < SAME_HUE, gap < NEAR_HUE, across], [1.0, 0.75, 0.70], 0.35)
        best = np.where(self.cloth_is_neutral[:, None], np.maximum(best, 0.85), best)
        hueless = ~self.pile.any(self.pile.has_hue & (self.pile.share >= SEEN))
        return np.asarray(np.where(hueless[None, :], np.maximum(best, 0.60), best) @ self.weights)

    @cached_property
    def cloth_is_plain(self) -> Truth:
        """Cloth of one color that a person would call plain: a solid."""
        return self.is_of("solid") & (self.shelf.share[self.shelf.starts] > 0.5) & ~self.cloth_is_neutral

    @cached_property
    def cloth_chroma(self) -> Array:
        """The OKLab chroma that each cloth shows as a whole."""
        return self.shelf.mean(self.shelf.chroma)

    @cached_property
    def busy_from_afar(self) -> Array:
        """How busy each cloth looks from across the room: a tiny print is half as busy there."""
        busy = np.array([look.busy for look in self.looks], dtype=np.float64)
        tiny = (self.scale > 0) & (self.scale < READS_PLAIN)
        return np.where(tiny, busy / 2, busy)

    @cached_property
    def scale(self) -> Array:
        """Inches from motif to motif; 0 where it is not known."""
        return np.array([look.scale or 0.0 for look in self.looks], dtype=np.float64)


def beside(shirts: Mapping[str, Palette], shelf: Mapping[str, FabricLook]) -> Beside:
    """Lay a pile and a shelf side by side; asked again for another role, it is the same table."""
    return _beside(tuple(sorted(shirts.items())), tuple(sorted(shelf.items())))


@lru_cache(maxsize=4)
def _beside(shirts: tuple[tuple[str, Palette], ...], shelf: tuple[tuple[str, FabricLook], ...]) -> Beside:
    return Beside(
        ids=tuple(id_ for id_, _ in shirts),
        cloths=tuple(id_ for id_, _ in shelf),
        looks=tuple(look for _, look in shelf),
        pile=Colors.of([palette for _, palette in shirts]),
        shelf=Colors.of([look.palette for _, look in shelf]),
    )


def _swatches(palette: Palette) -> tuple[Swatch, ...]:
    return (palette.ground, *palette.prints)
