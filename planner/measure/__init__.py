"""Real sizes read from a photograph with something of known size in it."""

from .cloth import measure_cloth
from .edges import Edges, edges_near, grid_near
from .overlay import seen_on
from .photo import measure
from .reference import A4, CARD, LETTER, MAT_12, Measured, Reference

__all__ = [
    "A4", "CARD", "LETTER", "MAT_12", "Edges", "Measured", "Reference", "edges_near", "grid_near",
    "measure", "measure_cloth", "seen_on",
]  # fmt: skip
