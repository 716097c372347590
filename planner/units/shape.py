"""Flat shapes in ticks: origin top left, x to the right, y down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from planner.problems import BadInput

from .length import Length


def _whole(shape: Any, least: int | None) -> None:
    for name, value in vars(shape).items():
        if type(value) is not int:
            raise BadInput(name, "must be a whole number of ticks.")
        if least is not None and value < least:
            raise BadInput(name, "must not be negative.")


@dataclass(frozen=True, order=True)
class Size:
    """How wide and how high, in ticks."""

    width: Length
    height: Length

    def __post_init__(self) -> None:
        _whole(self, 0)

    @property
    def area(self) -> int:
        """Area in ticks²."""
        return self.width * self.height

    def grown(self, by: int) -> Size:
        """Return the size with `by` ticks more in both directions."""
        return Size(self.width + by, self.height + by)


@dataclass(frozen=True)
class Sides:
    """A length on each of four sides, in ticks, clockwise from the top."""

    top: Length = 0
    right: Length = 0
    bottom: Length = 0
    left: Length = 0

    def __post_init__(self) -> None:
        _whole(self, 0)

    @classmethod
    def all_round(cls, width: int) -> Sides:
        """Return the same width on all four sides."""
        return cls(width, width, width, width)

    def __bool__(self) -> bool:
        return any((self.top, self.right, self.bottom, self.left))


@dataclass(frozen=True)
class Rect:
    """A place and a size; x and y may lie left of or above the origin."""

    x: Length
    y: Length
    width: Length
    height: Length

    def __post_init__(self) -> None:
        _whole(self, None)
        if self.width < 0 or self.height < 0:
            raise BadInput("width" if self.width < 0 else "height", "must not be negative.")

    @property
    def right(self) -> int:
        """The x of the right edge."""
        return self.x + self.width

    @property
    def bottom(self) -> int:
        """The y of the lower edge."""
        return self.y + self.height

    @property
    def size(self) -> Size:
        """Width and height alone."""
        return Size(self.width, self.height)

    def less(self, sides: Sides) -> Rect:
        """Return what is left inside when `sides` are taken off."""
        return Rect(
            self.x + sides.left,
            self.y + sides.top,
            self.width - sides.left - sides.right,
            self.height - sides.top - sides.bottom,
        )

    def overlaps(self, other: Rect) -> bool:
        """Say whether the two share any area."""
        return (
            self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom
        )

    def holds(self, other: Rect) -> bool:
        """Say whether `other` lies wholly inside."""
        return (
            self.x <= other.x
            and self.y <= other.y
            and other.right <= self.right
            and other.bottom <= self.bottom
        )
