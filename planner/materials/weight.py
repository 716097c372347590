"""What the finished quilt weighs, from the area of each layer."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from planner.problems import BadInput
from planner.quilt.checks import named
from planner.units import MM, Area, Size

from .cloth import at_least

SQUARE_METRE = (1000 * MM) ** 2
# Grams a square metre, common practice: weigh a piece of the real cloth where it matters.
USUAL_GRAMS: Mapping[str, int] = MappingProxyType(
    {
        "jersey": 170,
        "performance": 150,
        "sweatshirt": 280,
        "denim": 400,
        "cotton": 145,
        "flannel": 170,
        "fleece": 250,
        "plush": 320,
        "light non-woven": 35,
        "tricot": 45,
        "low-heat tricot": 45,
        "woven": 60,
        "80/20 batting": 140,
        "cotton batting": 160,
        "polyester batting": 110,
        "wool batting": 130,
    }
)
USUAL_SEAMS = 8  # hundredths: cloth in the seams of the top, common practice


@dataclass(frozen=True)
class Layer:
    """So much area of one cloth, `grams` a square metre."""

    name: str
    area: Area
    grams: int

    def __post_init__(self) -> None:
        named("name", self.name)
        at_least(0, area=self.area, grams=self.grams)


def usual_layer(kind: str, area: Area) -> Layer:
    """Return a layer at the usual weight of its kind; a kind without one is refused (BadInput)."""
    if kind not in USUAL_GRAMS:
        raise BadInput("kind", f"has no usual weight; weigh it, or take one of {', '.join(USUAL_GRAMS)}.")
    return Layer(kind, area, USUAL_GRAMS[kind])


def quilt_layers(
    size: Size, top: Mapping[str, Area], *, backing: str, batting: str | None
) -> tuple[Layer, ...]:
    """Return the layers of a quilt of finished `size`; `top` is the finished area of each kind in it.

    The top takes 8 in 100 more for its seams; interfacing is a kind of the top too.
    """
    in_seams = {kind: area + area * USUAL_SEAMS // 100 for kind, area in top.items()}
    under = [each for each in (backing, batting) if each is not None]
    return (
        *(usual_layer(kind, area) for kind, area in sorted(in_seams.items())),
        *(usual_layer(kind, size.area) for kind in under),
    )


def quilt_weight(layers: Sequence[Layer]) -> int:
    """Return the weight in whole grams, rounded half up once."""
    exact = sum(layer.area * layer.grams for layer in layers)
    return (2 * exact + SQUARE_METRE) // (2 * SQUARE_METRE)
