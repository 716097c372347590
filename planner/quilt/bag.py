"""What is in the bag.

A garment is what came in; a piece is the part of it that may be kept: one print, or plain cloth.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from planner.colour import Palette
from planner.problems import BadInput
from planner.units import Length, Sides, Size

from .checks import named, once_each, one_of

STRETCHES = ("none", "low", "medium", "high", "very high")
THICKNESSES = ("thin", "medium", "thick")
WASHES = ("ready", "wash", "twice", "apart", "professional", "never")
PRINT_KINDS = (
    "none", "plastisol", "vinyl", "foil", "puff", "glitter", "sublimation", "flock", "soft",
    "transfer", "paint", "embroidery", "twill", "unknown",
)  # fmt: skip
WANTED = ("must", "may", "out")


@dataclass(frozen=True)
class Garment:
    """A garment of the bag, or `count` alike under one tag.

    `kind` is a word of the shop (tee, sweatshirt, dress shirt); `fibres` are per cent and sum to
    100; `flags` are further words that care and prices look at (fleece, zip, bleeds, scent).
    """

    id: str
    kind: str
    fibres: Mapping[str, Decimal]
    knit: bool = True
    stretch: str = "medium"
    thickness: str = "medium"
    wash: str = "wash"
    flags: frozenset[str] = frozenset()
    count: int = 1

    def __post_init__(self) -> None:
        named("id", self.id)
        named("kind", self.kind)
        one_of("stretch", self.stretch, STRETCHES)
        one_of("thickness", self.thickness, THICKNESSES)
        one_of("wash", self.wash, WASHES)
        if self.count < 1:
            raise BadInput("count", "it stands for one garment at least.")
        if any(isinstance(share, float) for share in self.fibres.values()):
            raise BadInput("fibres", "a share is an exact decimal, never a float.")
        whole = sum(self.fibres.values(), start=Decimal(0))
        if whole != 100:
            raise BadInput("fibres", f"they add up to {whole} %; the label's shares must make 100.")
        if min(self.fibres.values()) <= 0:
            raise BadInput("fibres", "every share must be more than 0.")


@dataclass(frozen=True)
class Piece:
    """A part of a garment that may go into the quilt.

    `free` is the cloth beyond the print on each side; `cut` is its size when it is already cut,
    fixed from then on. A plain piece has a print of no size. The print may be larger or smaller by
    `plus_minus`; what is kept of it lies off its middle by `shift`, toward each side.
    """

    id: str
    garment: str
    side: str
    print_size: Size
    free: Sides
    print_kind: str = "unknown"
    wanted: str = "may"
    heavy: bool = False
    palette: Palette | None = None
    cut: Size | None = None
    plus_minus: Length = 0
    shift: Sides = Sides()

    def __post_init__(self) -> None:
        for name in ("id", "garment", "side"):
            named(name, getattr(self, name))
        one_of("print_kind", self.print_kind, PRINT_KINDS)
        one_of("wanted", self.wanted, WANTED)
        if not self.cloth.area:
            raise BadInput("free", "there is no cloth at all; measure the print and what lies beyond it.")
        if self.cut is not None and not self.cut.area:
            raise BadInput("cut", "a cut piece must have a width and a height.")
        if self.plus_minus < 0:
            raise BadInput("plus_minus", "must not be negative.")

    @property
    def cloth(self) -> Size:
        """The largest rectangle the garment gives round the print."""
        free = self.free
        return Size(
            self.print_size.width + free.left + free.right,
            self.print_size.height + free.top + free.bottom,
        )


@dataclass(frozen=True)
class Bag:
    """Garments and the pieces they give; a side is used once per garment."""

    garments: tuple[Garment, ...] = ()
    pieces: tuple[Piece, ...] = ()

    def __post_init__(self) -> None:
        once_each("garments", (each.id for each in self.garments))
        once_each("pieces", (each.id for each in self.pieces))
        once_each("pieces", (f"{each.side} of {each.garment}" for each in self.pieces))
        known = {each.id for each in self.garments}
        for number, piece in enumerate(self.pieces):
            if piece.garment not in known:
                raise BadInput(f"pieces[{number}].garment", f"no garment “{piece.garment}” is in the bag.")

    def garment(self, id: str) -> Garment:
        """Return the garment with this id."""
        for each in self.garments:
            if each.id == id:
                return each
        raise BadInput("garments", f"no garment “{id}” is in the bag.")

    def piece(self, id: str) -> Piece:
        """Return the piece with this id."""
        for each in self.pieces:
            if each.id == id:
                return each
        raise BadInput("pieces", f"no piece “{id}” is in the bag.")
