"""Prints measured from their photo or typed in, and which of them still want it.

Nothing here waits for anybody: what was not measured keeps the usual size of its kind, and says so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from orders.bag.keeping import is_plain
from orders.bag.panels import place_of
from orders.models import Event, Order, Person, Photo, Piece
from orders.planning import shirts_of
from planner import measure as measures
from planner.measure import A4, CARD, LETTER, MAT_12, Edges, Measured, Reference
from planner.problems import BadInput
from planner.units import INCH, MM, Sides, Size

Corners = tuple[tuple[int, int], ...]

WHOLE = 10_000  # taps are in ten-thousandths of the picture
SHOWN = 1600  # the longer side of the picture that is tapped on, in pixels
SCATTER = 1.5  # how well a corner is tapped on it, in its pixels (standard deviation)
STEP = {"in": INCH // 16, "cm": MM}
TOO_COARSE = 3 * INCH // 4
COARSE = INCH // 4

MAT_30 = Reference("grid", Size(300 * MM, 300 * MM))
REFERENCES = {"mat": "Mat grid", "letter": "Letter", "a4": "A4", "card": "Bank card"}
BY = {"mat": "the mat’s grid", "letter": "a letter sheet", "a4": "an A4 sheet", "card": "a bank card"}


class TooCoarse(Exception):
    """A measurement that would promise nothing; the message says what would help."""


@dataclass(frozen=True)
class Taps:
    """Where the corners are on the photo, clockwise from the top left, in ten-thousandths."""

    reference: str
    known: Corners
    kept: Corners
    cloth: Corners | None = None

    def as_json(self) -> dict[str, Any]:
        """Return the taps as they are kept on the piece."""
        cloth = {"cloth": [list(each) for each in self.cloth]} if self.cloth else {}
        known, kept = ([list(each) for each in quad] for quad in (self.known, self.kept))
        return {"reference": self.reference, "known": known, "kept": kept, **cloth}


@dataclass(frozen=True)
class Reading:
    """What a photo gave: a size with its plus-or-minus, the cloth beyond it if that was tapped, and how."""

    size: Size
    plus_minus: int
    free: Sides | None
    how: str

    @property
    def is_coarse(self) -> bool:
        """Say whether another picture would be worth its minute."""
        return self.plus_minus > COARSE


def reference_of(word: str, unit: str) -> Reference:
    """Return the thing of known size that a word of the page means."""
    mat = MAT_12 if unit == "in" else MAT_30
    return {"mat": mat, "letter": LETTER, "a4": A4, "card": CARD}[word]


def read(photo: Photo, taps: Taps, *, unit: str) -> Reading:
    """Measure what was tapped. Raises BadInput, which names the corners that are none, and TooCoarse."""
    known, kept = in_pixels(taps.known, photo), in_pixels(taps.kept, photo)
    reference = reference_of(taps.reference, unit)
    camera: dict[str, Any] = {
        "middle_px": (photo.width / 2, photo.height / 2),
        "click_sigma_px": scatter_on(photo),
        "edges": edges_on(photo, taps.reference, known),
    }
    said = measures.measure(reference, known, kept, **camera)
    cloth = in_pixels(taps.cloth, photo) if taps.cloth else None
    free = measures.measure_cloth(reference, known, kept, cloth, **camera) if cloth else None
    reading = rounded(said, free, step=STEP[unit])
    if reading.plus_minus > TOO_COARSE:
        raise TooCoarse(
            "This comes out too coarse to keep. Lay something larger beside the print, closer to it and"
            " flat, take one more photo from straight above, or type the size."
        )
    return reading


def scatter_on(photo: Photo) -> float:
    """Return how well a corner is tapped, in pixels of the whole picture (standard deviation)."""
    return SCATTER * max(1.0, max(photo.width, photo.height) / SHOWN)


def edges_on(photo: Photo, reference: str, known: list[tuple[float, float]]) -> Edges | None:
    """Return the edges of the thing of known size where the photo shows them beside its tapped corners."""
    import numpy as np
    from PIL import Image

    near = measures.grid_near if reference == "mat" else measures.edges_near
    try:
        with Image.open(photo.file, formats=["JPEG"]) as image:
            light = np.asarray(image.convert("L"))
    except OSError:  # the taps stand without it
        return None
    if light.shape != (photo.height, photo.width):
        return None
    return near(light, known, sigma=scatter_on(photo))


def in_pixels(corners: Corners, photo: Photo) -> list[tuple[float, float]]:
    """Return taps as pixels of the whole picture."""
    return [(x * photo.width / WHOLE, y * photo.height / WHOLE) for x, y in corners]


def rounded(said: Measured, free: Sides | None, *, step: int) -> Reading:
    """Return a size to the nearest step, its plus-or-minus up, with what the rounding adds; cloth down."""
    width, height = ((2 * side + step) // (2 * step) * step for side in (said.width, said.height))
    plus_minus = -(-(2 * said.plus_minus + step) // (2 * step)) * step
    if free is not None:
        sides = (free.top, free.right, free.bottom, free.left)
        free = Sides(*(side // step * step for side in sides))
    return Reading(Size(width, height), plus_minus, free, said.method)


def write_reading(piece: Piece, reading: Reading, taps: Taps, *, seen: int, by: Person) -> None:
    """Keep what the photo gave, unless somebody else wrote the panel meanwhile (Stale); twice is once."""
    measured = {"plus_minus": reading.plus_minus, "measured_how": reading.how, "taps": taps.as_json()}
    _write(piece, reading.size, reading.free, seen=seen, by=by, **measured)


def write_typed(piece: Piece, size: Size, *, seen: int, by: Person) -> None:
    """Keep a size that was measured by hand."""
    _write(piece, size, None, seen=seen, by=by, plus_minus=0, measured_how="by hand")


def _write(piece: Piece, size: Size, free: Sides | None, *, seen: int, by: Person, **measured: Any) -> None:
    fields = sizes(piece, size, free) | measured | {"sizes_are_usual": False}
    if all(getattr(piece, name) == value for name, value in fields.items()):
        return
    before = [piece.print_width, piece.print_height]
    with transaction.atomic():
        piece.change(seen=seen, **fields)
        Event.objects.note(
            "measured",
            by=by,
            order=piece.order,
            bag=piece.shirt.bag_id,
            panel=piece.name,
            before=before,
            size=[size.width, size.height],
            how=fields["measured_how"],
            plus_minus=fields["plus_minus"],
        )


def sizes(piece: Piece, size: Size, free: Sides | None) -> dict[str, int]:
    """Return the fields of a piece for what was measured: a print and what lies beyond, or plain cloth.

    Where nobody tapped the cloth, the garment still gives as much as was known, the print in its middle
    across and as far from its top.
    """
    if is_plain(piece):
        wide, high = size.width, size.height
        free, size = Sides(high // 2, wide - wide // 2, high - high // 2, wide // 2), Size(0, 0)
    else:
        free = free or _as_much_cloth_as_before(piece, size)
    return {
        "print_width": size.width,
        "print_height": size.height,
        "free_top": free.top,
        "free_right": free.right,
        "free_bottom": free.bottom,
        "free_left": free.left,
    }


def _as_much_cloth_as_before(piece: Piece, size: Size) -> Sides:
    across = max(0, piece.print_width + piece.free_left + piece.free_right - size.width)
    down = max(0, piece.print_height + piece.free_top + piece.free_bottom - size.height)
    top = min(piece.free_top, down)
    return Sides(top, across - across // 2, down - top, across // 2)


def wanting(order: Order) -> list[Piece]:
    """Return the panels of an order that nobody has measured yet, by shirt and side."""
    pieces = (piece for shirt in shirts_of(order) for piece in _of_order(shirt.pieces.all(), order))
    unmeasured = [piece for piece in pieces if piece.sizes_are_usual and piece.wanted != "out"]
    return sorted(unmeasured, key=lambda piece: (piece.shirt.number, place_of(piece.side)))


def _of_order(pieces: Iterable[Piece], order: Order) -> Iterable[Piece]:
    return (piece for piece in pieces if piece.order_id in (None, order.pk))


def why_refused(fault: BadInput) -> str:
    """Say which corners are none, and what to do."""
    which = {
        "reference_px": "The thing of known size",
        "print_px": "What you measure",
        "cloth_px": "The cloth beyond",
    }
    return f"{which.get(fault.field, 'The corners')}: {fault.message}"
