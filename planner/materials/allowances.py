"""What is added to the finished sizes when cloth is reckoned."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from planner.problems import BadInput
from planner.units import INCH, Length

from .cloth import MOST_SHRINKAGE, at_least

INTERFACING_OVER = 2 * INCH
# A long-arm frame clamps the back: 3-4 in a side (its price pages). At home 2-3 in (a guild's backing
# chart), a hoop 3, tying 2 (common practice).
OVERHANGS = MappingProxyType({"long arm": 4 * INCH, "machine": 3 * INCH, "hand": 3 * INCH, "tied": 2 * INCH})


def overhang_for(quilted: str) -> Length:
    """Return how far the back goes beyond the top on each side, by how the quilt will be quilted."""
    if quilted not in OVERHANGS:
        raise BadInput("quilted", f"must be one of {', '.join(OVERHANGS)}.")
    return OVERHANGS[quilted]


@dataclass(frozen=True)
class Allowances:
    """The shop's own additions.

    `rough` is added to a block's finished size for the first cut (14 in makes 16: trade handbook
    3.2, P6). `overhang` and `batting_overhang` go beyond the top on each side (3-4 in: long-arm price
    pages); `seam_loss` is lost to each backing seam, 1/2 in from both panels (P8). `interfacing_over`
    is added to the trimmed block. `least_panel`, `least_end`, `binding_end` (the shortest end in a
    binding: few joins) and `join` (None: 45°, costing one width) are common practice. Of cloth
    that is bought, `squaring` is cut off to square the end after `shrinkage` thousandths are lost in the
    wash: 0 where the shop does neither (2 in and 30 are common practice).
    """

    rough: Length = 2 * INCH
    overhang: Length = 4 * INCH
    batting_overhang: Length = 4 * INCH
    seam_loss: Length = INCH
    least_panel: Length = 8 * INCH
    interfacing_over: Length = INTERFACING_OVER
    least_end: Length = 6 * INCH
    binding_end: Length = 20 * INCH
    join: Length | None = None
    squaring: Length = 0
    shrinkage: int = 0

    def back_beyond(self, quilted: str = "", *, goes_out: bool = False) -> Length:
        """Return how far the back goes beyond the top on each side: as it is quilted, else as the shop does.

        A quilter outside clamps it in a long arm, so it is never less than that asks for.
        """
        own = overhang_for(quilted) if quilted else self.overhang
        return max(own, OVERHANGS["long arm"]) if goes_out else own

    def __post_init__(self) -> None:
        at_least(
            0,
            rough=self.rough,
            overhang=self.overhang,
            batting_overhang=self.batting_overhang,
            seam_loss=self.seam_loss,
            least_panel=self.least_panel,
            interfacing_over=self.interfacing_over,
            least_end=self.least_end,
            binding_end=self.binding_end,
            join=self.join or 0,
            squaring=self.squaring,
            shrinkage=self.shrinkage,
        )
        if self.shrinkage > MOST_SHRINKAGE:
            raise BadInput("shrinkage", f"must be at most {MOST_SHRINKAGE} thousandths.")
