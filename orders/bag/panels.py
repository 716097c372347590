"""The parts of a garment that may be kept, each with its word, its letter on the tag, and its usual size.

Usual sizes of a tee are the lesser of the usable rectangles of trade handbook 3.1 (prints: P2; the
cloth beyond them common practice); those of other garments are our own judgment. All of them are
there to be measured: a panel says so until it is.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from planner.units import INCH, Sides, Size


@dataclass(frozen=True)
class Usual:
    """The usual print and the cloth beyond it; plain cloth has a print of no size."""

    print_size: Size
    free: Sides


@dataclass(frozen=True)
class Panel:
    """`letter` stands on the tag, as in 31-09F."""

    word: str
    label: str
    letter: str
    usual: Usual


def printed(across: float, down: float, *free: float) -> Usual:
    """Return a usual print in inches with the cloth above, right, below and left of it."""
    return Usual(Size(_ticks(across), _ticks(down)), Sides(*(_ticks(side) for side in free)))


def plain(across: float, down: float) -> Usual:
    """Return plain cloth of so many inches."""
    half = (_ticks(down) // 2, _ticks(across) // 2)
    return Usual(Size(0, 0), Sides(*half, *half))


def _ticks(inches: float) -> int:
    return int(Fraction(inches) * INCH)


PANELS = tuple(
    Panel(*row)
    for row in (
        ("front", "Front", "F", printed(11, 12, 2, 2.5, 4, 2.5)),
        ("back", "Back", "B", printed(12, 14, 2, 2, 2, 2)),
        ("sleeve-l", "Left sleeve", "L", printed(3, 3, 1, 1, 2, 1)),
        ("sleeve-r", "Right sleeve", "R", printed(3, 3, 1, 1, 2, 1)),
        ("pocket", "Pocket", "P", printed(3, 3, 1, 1, 1, 1)),
        ("left-front", "Left front", "LF", plain(8, 16)),
        ("right-front", "Right front", "RF", plain(8, 16)),
        ("collar", "Collar", "C", plain(3, 14)),
        ("cuff-l", "Left cuff", "CL", plain(9, 3)),
        ("cuff-r", "Right cuff", "CR", plain(9, 3)),
        ("hood", "Hood", "H", plain(9, 11)),
        ("skirt", "Skirt", "S", plain(16, 14)),
        ("leg-l", "Left leg", "LL", plain(7, 16)),
        ("leg-r", "Right leg", "LR", plain(7, 16)),
        ("back-pocket-l", "Left back pocket", "PL", plain(6, 6)),
        ("back-pocket-r", "Right back pocket", "PR", plain(6, 6)),
        ("blade", "Front blade", "T", plain(3, 9)),
        ("tail", "Tail", "TT", plain(2, 9)),
        ("whole", "Whole piece", "W", plain(10, 20)),
    )
)
BY_WORD = {panel.word: panel for panel in PANELS}
_COUNTED = re.compile(r"(.+)-(\d+)")


def counted(side: str) -> tuple[str, int]:
    """Return a side without its number, and the number: the third front of a group is `front-3`."""
    match = _COUNTED.fullmatch(side)
    return (match[1], int(match[2])) if match and match[1] in BY_WORD else (side, 1)


def letters_of(side: str) -> str:
    """Return what stands on the tag for a side: F, F3 for a third front, -YOKE for a shop’s own word."""
    word, number = counted(side)
    if word not in BY_WORD:
        return f"-{side.upper()}"
    return BY_WORD[word].letter + (str(number) if number > 1 else "")


def label_of(side: str) -> str:
    """Return a side in words."""
    word, number = counted(side)
    label = BY_WORD[word].label if word in BY_WORD else side.replace("-", " ").capitalize()
    return f"{label} {number}" if number > 1 else label


def place_of(side: str) -> tuple[int, int, str]:
    """Return what sides are sorted by: as in the table, then by number, a shop’s own words last."""
    word, number = counted(side)
    at = next((at for at, panel in enumerate(PANELS) if panel.word == word), len(PANELS))
    return at, number, side
