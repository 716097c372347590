"""The entries of the notebook that is kept by hand: panels, lines of the log, yeses, what is ticked."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass
class Panel:
    """A part of a shirt; `least` is the smallest square block, in inches, that keeps its whole print."""

    name: str
    shirt: int
    least: int
    box: int | None = None
    order: int | None = None
    wanted: str = "may"
    wanted_before: str = "may"


@dataclass
class Line:
    """One shirt of the log."""

    bag: int
    garments: int
    state: str = "in work"
    leftovers: str = ""


@dataclass
class Yes:
    """A yes that stands for a piece: for which order, to which crop and size, until the end of which day."""

    order: int
    facts: tuple[int | None, int | None]
    until: int | None
    consent: int


@dataclass
class Voice:
    order: int
    piece: int
    name: str
    facts: tuple[int | None, int | None]
    until: int | None
    consent: int
    gone: bool = False


@dataclass(frozen=True)
class Door:
    """What is ticked as a quilt leaves: whole shirts, needles, leftovers, leave for them, a packed box."""

    whole: bool
    needles: bool
    leftovers: str
    leave: bool
    packed: bool
