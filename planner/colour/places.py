"""The places in a quilt that cloth is chosen for, and what counts in each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.problems import BadInput


@dataclass(frozen=True)
class Place:
    """What a role asks of its cloth; the first five are weights that add up to 1 (common practice).

    `lost` are the points at stake where the cloth gets lost beside the shirts, `near` where it all
    but matches them; `width` is its usual width in inches, finished (trade handbook 3.1: sashing
    and corner squares 2; binding shows about half an inch).
    """

    role: str
    support: float
    edge: float
    quiet: float
    value: float
    pop: float
    lost: float
    near: float
    width: float
    is_wide: bool
    name: str

    @property
    def is_between(self) -> bool:
        """Say whether it lies between the shirts, strip by strip."""
        return self.role in ("sashing", "frame")

    @property
    def touches_shirts(self) -> bool:
        return self.edge > 0


PLACES: Mapping[str, Place] = {
    place.role: place
    for place in (
        Place("sashing", 0.30, 0.25, 0.30, 0.15, 0.00, 25, 35, 2.0, True, "the strips"),
        Place("frame", 0.30, 0.25, 0.30, 0.15, 0.00, 25, 35, 2.0, True, "a strip"),
        Place("filler", 0.30, 0.15, 0.25, 0.20, 0.10, 15, 30, 12.0, True, "a plain block"),
        Place("border", 0.30, 0.10, 0.20, 0.20, 0.20, 15, 30, 4.0, True, "the border"),
        Place("cornerstone", 0.35, 0.15, 0.00, 0.10, 0.40, 8, 15, 2.0, False, "a corner square"),
        Place("binding", 0.35, 0.05, 0.15, 0.25, 0.20, 5, 10, 0.5, False, "the binding"),
        Place("backing", 0.55, 0.00, 0.00, 0.25, 0.20, 0, 0, 60.0, False, "the back"),
    )
}


def place_of(role: str) -> Place:
    """Return what a role asks of its cloth."""
    if role not in PLACES:
        raise BadInput("role", f"cloth is advised for {', '.join(PLACES)}, not for “{role}”.")
    return PLACES[role]
