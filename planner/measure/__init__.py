"""Real sizes read from a photograph with something of known size in it."""

from .cloth import measure_cloth
from .overlay import seen_on
from .photo import measure
from .reference import A4, CARD, LETTER, MAT_12, Measured, Reference

__all__ = ["A4", "CARD", "LETTER", "MAT_12", "Measured", "Reference", "measure", "measure_cloth", "seen_on"]
