"""How far a knit stretches, from two lengths: as it lies, and pulled out by hand."""

from __future__ import annotations

from fractions import Fraction

from planner.problems import BadInput
from planner.units import round_exactly

# Up to so many per cent; knit gauges of the trade call 25 % moderate, 50 % stretchy, 100 % super (common
# practice), the lines between the words are our own judgment.
WORDS = ((5, "none"), (18, "low"), (35, "medium"), (75, "high"))
MOST = "very high"


def per_cent(original: int, extended: int) -> int:
    """Return the stretch of cloth in whole per cent, half up: 100 × (extended − original) ÷ original.

    The formula is that of ASTM D2594 for low-power knits. The standard pulls with a known load; two
    hands at a table do not, so the number tells one shirt from another and is no test result.
    """
    if original <= 0:
        raise BadInput("stretch_from", "Measure how long it lies, such as 4.")
    if extended < original:
        raise BadInput("stretch_to", "Pulled, it is not shorter than it lies. Measure it once more.")
    return round_exactly(Fraction(100 * (extended - original), original))


def word_of(stretch: int) -> str:
    """Return a stretch in per cent as the word that care and interfacing go by."""
    return next((word for most, word in WORDS if stretch <= most), MOST)
