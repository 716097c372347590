"""Which cloth is fused behind a piece so that it stops stretching (trade handbook 3.4, P4-P6).

Bond temperatures are common practice and differ by product: the product's own sheet decides.
"""

from __future__ import annotations

from planner.quilt import Garment

NONE, SEW_IN = "none", "sew-in"
NON_WOVEN, TRICOT, LOW_HEAT, WOVEN = "light non-woven", "tricot", "low-heat tricot", "woven"
INTERFACINGS = (NON_WOVEN, TRICOT, LOW_HEAT, WOVEN, SEW_IN)
BONDS_AT = {NON_WOVEN: 300, WOVEN: 300, TRICOT: 270, LOW_HEAT: 250}


def interfacing_for(garment: Garment, heat: int) -> str:
    """Return the kind whose bond temperature fits under the heat limit, the usual one first."""
    if "coated" in garment.flags:
        return SEW_IN
    wanted = usual_interfacing(garment)
    if wanted == NONE:
        return NONE
    fitting = [kind for kind in (wanted, TRICOT, LOW_HEAT) if BONDS_AT[kind] <= heat]
    return fitting[0] if fitting else SEW_IN


def usual_interfacing(garment: Garment) -> str:
    """Return the kind this garment usually gets, heat aside."""
    if not garment.knit:
        return WOVEN if garment.thickness == "thin" else NONE
    if garment.thickness == "thick" and garment.stretch in ("none", "low"):
        return NONE
    if garment.stretch in ("high", "very high") or garment.thickness == "thin":
        return TRICOT
    return NON_WOVEN


def layers_of(garment: Garment, kind: str) -> int:
    """Return how many layers: two, crossed, behind a thin knit that stretches most."""
    if kind == NONE:
        return 0
    thin_and_stretchy = garment.thickness == "thin" and garment.stretch == "very high"
    return 2 if garment.knit and thin_and_stretchy else 1
