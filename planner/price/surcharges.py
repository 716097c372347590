"""What makers often charge beside the block: ranges seen, to be set or left by the shop.

Common practice in the United States, in dollars; no survey was found. None is on a list by itself.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Surcharge:
    """One usual surcharge, `least` to `most` whole dollars; `per` is None where only the maker can see it."""

    words: str
    least: int
    most: int
    per: str | None = None
    kind: str = "labour"


USUAL = (
    Surcharge("Second side of a shirt", 25, 60, "second-side"),
    Surcharge("Composite blocks", 10, 25, "composite"),
    Surcharge("Frame strips", 3, 10, "frame"),
    Surcharge("Fleece", 5, 10, "garment:fleece"),
    Surcharge("Nylon or zip", 5, 10, "garment:zip"),
    Surcharge("Border", 30, 80, "border"),
    Surcharge("Odd shape or missing corner", 3, 10),
    Surcharge("Embroidered text or label", 15, 40),
    Surcharge("Plush backing", 40, 120, kind="materials"),
    Surcharge("Washing or de-linting, a load", 10, 20),
    Surcharge("Pillow from what is left", 35, 75, "pillow"),
    Surcharge("Weekend or evening collection", 0, 25),
    Surcharge("Shipping and insurance, at cost and packing", 20, 60, kind="shipping"),
    Surcharge("Forgotten shirt after cutting", 10, 10),
)


def not_on(pers: frozenset[str]) -> tuple[Surcharge, ...]:
    """Return the usual surcharges that a price list with these `per` has no price for."""
    return tuple(each for each in USUAL if each.per is not None and each.per not in pers)


def by_hand() -> tuple[Surcharge, ...]:
    """Return those that only the maker can see, to be written as a line."""
    return tuple(each for each in USUAL if each.per is None)
