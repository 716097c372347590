"""What a shirt or a cloth looks like, in numbers and in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from planner.problems import BadInput

Lab = Annotated[tuple[float, float, float], "colour"]
FABRIC_KINDS = ("solid", "mottled", "blender", "multi")


@dataclass(frozen=True)
class Swatch:
    """One color (CIELAB D65) and its share of the garment or cloth, 0 to 1."""

    lab: Lab
    share: float = 1.0

    def __post_init__(self) -> None:
        if len(self.lab) != 3 or not 0 <= self.lab[0] <= 100.001:
            raise BadInput("lab", "must be lightness 0 to 100 and two hue coordinates.")
        if not 0 <= self.share <= 1:
            raise BadInput("share", "must lie between 0 and 1.")


@dataclass(frozen=True)
class Palette:
    """The ground and the print colors of a shirt; the shares add up to 1."""

    ground: Swatch
    prints: tuple[Swatch, ...] = ()
    confidence: float = 1.0
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        whole = self.ground.share + sum(each.share for each in self.prints)
        if abs(whole - 1) > 1e-6:
            raise BadInput("prints", "the shares of ground and prints must add up to 1.")


@dataclass(frozen=True)
class Neutral:
    """A spot in the picture known to be white or gray: center and radius in pixels, reflectance 0 to 1."""

    x: float
    y: float
    radius: float
    reflectance: float

    def __post_init__(self) -> None:
        if not self.radius > 0:
            raise BadInput("radius", "must be more than 0 pixels.")
        if not 0 < self.reflectance <= 1:
            raise BadInput("reflectance", "must be more than 0 and at most 1; white paper has about 0.85.")


@dataclass(frozen=True)
class Outline:
    """Where the garment lies in a picture: a mask of its pixels, their polygon, and how sure that is."""

    mask: Any
    polygon: tuple[tuple[float, float], ...]
    confidence: float


@dataclass(frozen=True)
class Family:
    """The color group a person would name, how far its edge is, and the group beyond that edge."""

    name: str
    margin: float
    beside: str


@dataclass(frozen=True)
class FabricLook:
    """What a cloth looks like: its colors, lightness, busyness, how many hues, its kind and print scale."""

    palette: Palette
    value: float
    busy: float
    hues: int
    kind: str
    scale: float | None = None

    def __post_init__(self) -> None:
        if self.kind not in FABRIC_KINDS:
            raise BadInput("kind", f"must be one of {', '.join(FABRIC_KINDS)}.")


@dataclass(frozen=True)
class Reason:
    """One rule's say about a cloth: its points, the sentence, and the shirts it speaks of."""

    rule: str
    points: float
    words: str
    shirts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Advice:
    """How well a cloth would serve in a role, with reasons."""

    cloth: str
    role: str
    score: float
    reasons: tuple[Reason, ...]
