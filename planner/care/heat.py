"""The hottest safe setting of a piece: the lowest of what its fibers and its print can bear.

Fibers: the iron-setting guide of the trade handbook 3.4 (P4); polyester knits by where their dye
starts to move (P3); the last two lines of fibers from memory, on the cautious side. Prints: handbook
3.5 (P3, P6, P26), the rest common practice. Whole degrees Fahrenheit; 0 means no heat at all. A print
nobody has felt yet counts as smooth film; a fiber nobody knows as the coolest a shirt is usually of,
and a knit of it as polyester. What bears less (modacrylic, olefin) is rare in shirts and named on its
label; the way to try it is a corner that will be cut away.
"""

from __future__ import annotations

from planner.quilt import Garment, Piece

NO_HEAT = 0
DYE_MOVES = 265
COOLEST_FIBRE = 275

FIBRES = {
    "linen": 445, "flax": 445, "hemp": 445, "ramie": 445, "cotton": 400,
    "rayon": 375, "viscose": 375, "modal": 375, "lyocell": 375,
    "wool": 300, "silk": 300, "polyester": 300, "cashmere": 300,
    "acetate": 290, "acrylic": 275, "spandex": 275, "elastane": 275, "nylon": 275, "polyamide": 275,
    "triacetate": 275, "modacrylic": 230, "metallic": 230, "vinyon": 0, "saran": 0,
    "olefin": 0, "polypropylene": 0, "polyethylene": 0,
}  # fmt: skip
PRINTS = {
    "none": 445, "embroidery": 400, "plastisol": 300, "soft": 300, "twill": 300, "flock": 300,
    "vinyl": 270, "unknown": 270, "sublimation": 265, "glitter": 265, "foil": 250, "puff": 250,
    "transfer": NO_HEAT, "paint": NO_HEAT,
}  # fmt: skip
UNHEATED_FLAGS = frozenset({"coated", "leather-look", "sequins", "plastic"})


def heat_limit(garment: Garment, piece: Piece | None = None) -> int:
    """Return the heat limit in whole °F of a garment, or of one piece of it with its print."""
    limits = [_fibre_limit(garment), _dye_limit(garment), _coating_limit(garment)]
    if piece is not None:
        limits.append(PRINTS[piece.print_kind])
    return min(limits)


def show_heat(heat: int, *, unit: str = "F") -> str:
    """Return the limit in words; °C is rounded down, so that it is never hotter than meant."""
    if heat == NO_HEAT:
        return "no heat"
    return f"{heat} °F" if unit == "F" else f"{(heat - 32) * 5 // 9} °C"


def _fibre_limit(garment: Garment) -> int:
    return min(FIBRES.get(name.lower(), COOLEST_FIBRE) for name in garment.fibres)


def _dye_limit(garment: Garment) -> int:
    may_be_polyester = sum(
        share for name, share in garment.fibres.items() if name == "polyester" or name.lower() not in FIBRES
    )
    return DYE_MOVES if garment.knit and may_be_polyester > 50 else max(FIBRES.values())


def _coating_limit(garment: Garment) -> int:
    return NO_HEAT if garment.flags & UNHEATED_FLAGS else max(FIBRES.values())
