"""What a quilt of shirts weighs, by the usual weight of each of its layers."""

from __future__ import annotations

from collections import Counter

from planner.care import needs
from planner.materials import quilt_layers, quilt_weight
from planner.materials.weight import USUAL_GRAMS
from planner.quilt import Bag, Garment, Quilt
from planner.units import Size

USUAL_BATTING = "80/20 batting"
BATTINGS = {"cotton": "cotton batting", "poly": "polyester batting", "wool": "wool batting"}
MOSTLY = 60  # per cent


def weight_of(quilt: Quilt, size: Size, bag: Bag, *, backing: str, batting: str | None) -> int:
    """Return whole grams: the shirts with what is fused behind them, cotton round them, back and batting.

    `backing` is the kind of the back, `batting` what the shop calls it, None for none.
    """
    top: Counter[str] = Counter()
    for cell in quilt.with_pieces():
        piece = bag.piece(cell.piece or "")
        garment = bag.garment(piece.garment)
        need, area = needs(garment, piece), cell.room.size.area
        top[cloth_like(garment)] += area
        if need.interfacing in USUAL_GRAMS:
            top[need.interfacing] += area * max(1, need.layers)
    shirts = sum(cell.room.size.area for cell in quilt.with_pieces())
    top["cotton"] += max(0, size.area - shirts)
    under = backing if backing in USUAL_GRAMS else "cotton"
    return quilt_weight(quilt_layers(size, top, backing=under, batting=batting and batting_like(batting)))


def cloth_like(garment: Garment) -> str:
    """Return the cloth of the table of weights that a garment is most like."""
    if "fleece" in garment.flags or "fleece" in garment.kind:
        return "fleece"
    if not garment.knit:
        return "denim" if garment.thickness == "thick" else "cotton"
    if garment.thickness == "thick":
        return "sweatshirt"
    return "performance" if garment.fibres.get("polyester", 0) >= MOSTLY else "jersey"


def batting_like(name: str) -> str:
    """Return the batting of the table by what the shop calls its own; 80/20 where the name tells nothing."""
    return next((like for word, like in BATTINGS.items() if word in name.lower()), USUAL_BATTING)
