"""What one garment, or one piece of it, needs at the iron and in the wash."""

from __future__ import annotations

from dataclasses import dataclass

from planner.quilt import Garment, Piece

from .heat import NO_HEAT, heat_limit
from .interfacing import LOW_HEAT, SEW_IN, interfacing_for, layers_of

SHORT, USUAL, LONG = 10, 12, 15
COVERS = {
    "none": "damp cloth", "soft": "press cloth", "plastisol": "non-stick sheet", "vinyl": "non-stick sheet",
    "unknown": "non-stick sheet", "foil": "non-stick sheet", "sublimation": "paper above and below",
    "glitter": "towel", "flock": "towel", "embroidery": "towel", "twill": "towel", "puff": "padded board",
    "transfer": "nothing hot", "paint": "nothing hot",
}  # fmt: skip

_PRINT_CAUTIONS = {
    "plastisol": "Let the print cool before the sheet is peeled off.",
    "vinyl": "Vinyl moves near 300 °F and fumes when scorched: window open, stop at the first smell.",
    "unknown": "Nobody has felt this print yet: treat it as vinyl and try a corner that will be cut away.",
    "foil": "Heat and rubbing kill foil; expect some cracking and say so.",
    "puff": "No pressure: it flattens.",
    "glitter": "Keep glitter and stones out of the seams and away from the needle.",
    "sublimation": "The dye can ghost onto the board: clean paper above and below.",
    "transfer": "Photograph it first; it may flake at a touch.",
    "paint": "Lay paper between the blocks: the paint can stick to its neighbor.",
    "twill": "Sew slowly over the letters: needles break. Eye protection is wise.",
    "embroidery": "Sew slowly over the stitching.",
}
_FLAG_CAUTIONS = {
    "white": "White beside dark cloth: try the dark one for running dye before the two are sewn together.",
    "bleeds": "Its dye runs: wash it apart, keep it from white cloth, and say so on the care card.",
    "scent": "Keep it sealed and unwashed; the finished quilt then cannot be washed.",
    "smoke": "Air it and wash it twice before it comes near the machine.",
    "soiled": "Gloves and a sealed bag; a professional cleaner, or leave it out.",
    "mould": "Do not open it indoors; ask a restorer or leave it out.",
    "flame-resistant": "The quilt may make no claim of flame resistance.",
    "snaps": "Take snaps and buttons off: small parts are a choking hazard under three years.",
    "zip": "Mark the zip on the quilter's sheet: it breaks needles.",
    "infant": "Not for the sleep space of a baby under 12 months.",
}


@dataclass(frozen=True)
class Needs:
    """Heat limit in °F (0 = none), seconds a spot, cover, side to press, interfacing, washing, cautions."""

    heat: int
    seconds: int
    cover: str
    side: str
    interfacing: str
    layers: int
    wash: str
    cautions: tuple[str, ...]


def needs(garment: Garment, piece: Piece | None = None) -> Needs:
    """Return what the garment needs, or the piece with its print.

    Seconds are those of fusing guides (10-15 a spot, P5); press, do not slide.
    """
    heat = heat_limit(garment, piece)
    interfacing = interfacing_for(garment, heat)
    print_kind = piece.print_kind if piece else "none"
    return Needs(
        heat=heat,
        seconds=_seconds(garment, heat, interfacing),
        cover="nothing hot" if heat == NO_HEAT else COVERS[print_kind],
        side="back" if print_kind != "none" else "either",
        interfacing=interfacing,
        layers=layers_of(garment, interfacing),
        wash=garment.wash,
        cautions=_cautions(garment, print_kind),
    )


def _seconds(garment: Garment, heat: int, interfacing: str) -> int:
    if heat == NO_HEAT or interfacing == SEW_IN:
        return 0
    if garment.thickness == "thin":
        return SHORT
    return LONG if garment.thickness == "thick" or interfacing == LOW_HEAT else USUAL


def _cautions(garment: Garment, print_kind: str) -> tuple[str, ...]:
    by_flag = [words for flag, words in _FLAG_CAUTIONS.items() if flag in garment.flags]
    by_print = [_PRINT_CAUTIONS[print_kind]] if print_kind in _PRINT_CAUTIONS else []
    unwashable = ["Told “no wash”: fuse it dry."] if garment.wash == "never" else []
    return (*by_print, *by_flag, *unwashable)
