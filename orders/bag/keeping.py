"""What a piece of a garment is kept as: a print, plain cloth, a feature, or a strip."""

from __future__ import annotations

from orders.bag.kinds import kind_of
from orders.bag.panels import counted
from orders.models import Piece

FEATURES = ("pocket", "collar", "cuff-l", "cuff-r", "back-pocket-l", "back-pocket-r")
STRIPS = ("blade", "tail")
NO_PRINT = (Piece.KeptAs.PLAIN, Piece.KeptAs.STRIP)


def kept_as(piece: Piece) -> str:
    """Return what was said, or what its panel usually is: a tie’s blade a strip, a cuff a feature."""
    if piece.kept_as:
        return piece.kept_as
    word, _ = counted(piece.side)
    if word in STRIPS:
        return Piece.KeptAs.STRIP
    if word in FEATURES:
        return Piece.KeptAs.FEATURE
    has_print = piece.print_width and piece.print_height
    is_usually_plain = not kind_of(piece.shirt.kind).size_of(word).print_size.area
    if not has_print and (is_usually_plain or piece.print_kind == "none"):
        return Piece.KeptAs.PLAIN
    return Piece.KeptAs.PRINT


def is_plain(piece: Piece) -> bool:
    """Say whether it is cloth without a print: any rectangle of it may be cut, its grain kept."""
    return kept_as(piece) in NO_PRINT


def has_print(piece: Piece) -> bool:
    """Say whether there is a print whose size has to be known; a cuff is kept for itself."""
    return kept_as(piece) == Piece.KeptAs.PRINT and piece.print_kind != "none"
