"""What lies in the picture beside the print, and what comes of it."""

from __future__ import annotations

from dataclasses import dataclass

from planner.problems import BadInput
from planner.units import INCH, MM, Length, Size

KINDS = ("grid", "sheet", "card", "known")


@dataclass(frozen=True)
class Reference:
    """A flat thing of known size in the picture; `kind` is grid, sheet, card or known."""

    kind: str
    size: Size

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise BadInput("kind", f"must be one of {', '.join(KINDS)}.")
        if not self.size.area:
            raise BadInput("size", "must have a width and a height.")


@dataclass(frozen=True)
class Measured:
    """A print's size in ticks, with the 95 % plus-or-minus and how it was found."""

    width: Length
    height: Length
    plus_minus: Length
    method: str


# A cutting mat's twelve-inch grid; a bank card, ISO/IEC 7810 ID-1 (85.60 x 53.98 mm, held to 0.1 mm);
# US letter paper; A4 paper, ISO 216.
MAT_12 = Reference("grid", Size(12 * INCH, 12 * INCH))
CARD = Reference("card", Size(856 * MM // 10, 540 * MM // 10))
LETTER = Reference("sheet", Size(17 * INCH // 2, 11 * INCH))
A4 = Reference("sheet", Size(210 * MM, 297 * MM))
