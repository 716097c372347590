"""Where the block lies over a shirt: drawn on its photo, moved off the print's middle, kept for the cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.db import transaction

from orders.bag.measuring import WHOLE
from orders.models import Cut, Event, Order, Person, Piece
from orders.planning import bag_of, piece_id, piece_of, wish_of
from orders.quilt.quilt_looks import quilt_of
from planner import quilt
from planner.layout import Fit, fit
from planner.measure import seen_on
from planner.units import INCH, Rect, Sides, Size, show_length

SEAM = INCH // 4
MIDDLE = (0.3, 0.25, 0.4, 0.4)  # of a photo, where nothing says where the panel lies
Points = tuple[tuple[float, float], ...]


class CannotCrop(Exception):
    """The block cannot be moved any more; the message says why."""


@dataclass(frozen=True)
class Drawn:
    """The lines over a photo, each four points in per cent, and how far an inch goes there."""

    lines: tuple[tuple[str, Points], ...]
    middle: tuple[float, float]
    to_right: tuple[float, float]
    to_below: tuple[float, float]
    fit: Fit

    def line(self, name: str) -> Points:
        """Return one of the lines by its name."""
        return dict(self.lines)[name]


def off_middle(piece: Piece, unit: str) -> str:
    """Say how far a piece is cut off its print's middle: `1/2 in to the right, 1/4 in up`; else nothing."""
    ways = ((piece.shift_x, "to the right", "to the left"), (piece.shift_y, "down", "up"))
    told = ((show_length(abs(by), unit=unit), far if by > 0 else back) for by, far, back in ways if by)
    return ", ".join(f"{length.removeprefix('about ')} {way}" for length, way in told)


def blocks_for(piece: Piece, order: Order) -> tuple[Size, ...]:
    """Return the finished blocks it may get, the one it has in the layout first."""
    placed = quilt_of(order)
    cells = placed.with_pieces() if placed else ()
    own = [cell.at.size for cell in cells if cell.piece == piece_id(piece)]
    return tuple(dict.fromkeys([*own, *wish_of(order).blocks]))


def drawn_over(piece: Piece, block: Size, order: Order, *, unit: str) -> Drawn:
    """Return the block, its seam and its margin as they lie over the photo of a panel."""
    flat, margin = piece_of(piece), wish_of(order).margin
    others = bag_of(order).pieces
    answer = fit(flat, block, margin=margin, seam=SEAM, unit=unit, others=others)
    window = answer.crop if answer.crop.width else Rect(0, 0, *_sides(known_rectangle(flat)[0]))
    rects = {
        "cloth": _grown(Rect(0, 0, *_sides(flat.print_size)), flat.free),
        "print": Rect(0, 0, *_sides(flat.print_size)),
        "cut": _grown(window, Sides.all_round(SEAM)),
        "finished": window,
        "margin": _shrunk(window, min(margin, window.width // 2, window.height // 2)),
    }
    if not flat.print_size.area:
        del rects["print"], rects["margin"]
    lines = tuple((name, seen_in_photo(piece, flat, _corners(rect))) for name, rect in rects.items())
    x, y = window.x + window.width // 2, window.y + window.height // 2
    middle, right, below = seen_in_photo(piece, flat, [(x, y), (x + INCH, y), (x, y + INCH)])
    return Drawn(lines, middle, _way(middle, right), _way(middle, below), answer)


def _way(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    return end[0] - start[0], end[1] - start[1]


def seen_in_photo(piece: Piece, flat: quilt.Piece, places: Sequence[tuple[int, int]]) -> Points:
    """Return places relative to the print's top left corner as per cent of the photo."""
    size, (x, y) = known_rectangle(flat)
    at = seen_on(size, place_of_print(piece), [(a - x, b - y) for a, b in places])
    return tuple((round(100 * a / WHOLE, 2), round(100 * b / WHOLE, 2)) for a, b in at)


def known_rectangle(flat: quilt.Piece) -> tuple[Size, tuple[int, int]]:
    """Return what was put round on the photo: the print, or all the cloth of a plain piece."""
    if flat.print_size.area:
        return flat.print_size, (0, 0)
    return flat.cloth, (-flat.free.left, -flat.free.top)


def place_of_print(piece: Piece) -> list[tuple[float, float]]:
    """Return the corners of the print on its photo in ten-thousandths: as tapped, else within its box."""
    if piece.taps and piece.taps.get("kept"):
        return [(float(x), float(y)) for x, y in piece.taps["kept"]]
    left, top, width, height = (100 * share for share in (piece.window if piece.box else MIDDLE))
    wide, high = _in_proportion(piece, width, height)
    return corners_of_box(left + (width - wide) / 2, top + (height - high) / 2, wide, high)


def _in_proportion(piece: Piece, width: float, height: float) -> tuple[float, float]:
    """As much of a box in per cent as the true shape of the piece fills."""
    size, _ = known_rectangle(piece_of(piece))
    photo = piece.photo
    across, down = (photo.width, photo.height) if photo else (1, 1)
    scale = min(width * across / size.width, height * down / size.height)
    return scale * size.width / across, scale * size.height / down


def corners_of_box(x: float, y: float, width: float, height: float) -> list[tuple[float, float]]:
    """Return the corners of a box in per cent, clockwise from the top left, in ten-thousandths."""
    shares = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return [(a * WHOLE / 100, b * WHOLE / 100) for a, b in shares]


def is_measured_there(piece: Piece) -> bool:
    """Say whether the print's corners come from measuring, and so are not moved here."""
    return bool(piece.taps and piece.taps.get("reference"))


def keep_crop(
    piece: Piece, block: Size, order: Order, *, seen: int, by: Person, unit: str, **said: Any
) -> Drawn:
    """Keep where the block lies, as far as the cloth lets it. Twice is once.

    `said` are the new fields of the piece: what it is kept as, the shift in ticks, the print's place.
    """
    if Cut.objects.filter(approved__piece=piece).exists():
        raise CannotCrop(f"{piece.name} is cut. Where its block lay stays as it was.")
    wanted = _with(piece, said)
    over = drawn_over(wanted, block, order, unit=unit)
    fields = {**said, **_shift_of(wanted, over.fit.crop), "box": box_of(over.line("finished"))}
    if any(getattr(piece, name) != value for name, value in fields.items()):
        with transaction.atomic():
            piece.change(seen=seen, **fields)
            shift = [piece.shift_x, piece.shift_y]
            Event.objects.note("crop drawn", by=by, order=piece.order, panel=piece.name, shift=shift)
    return over


def _with(piece: Piece, said: dict[str, Any]) -> Piece:
    wanted = Piece.objects.select_related("photo", "shirt", "order").get(pk=piece.pk)
    for name, value in said.items():
        setattr(wanted, name, value)
    return wanted


def _shift_of(piece: Piece, crop: Rect) -> dict[str, int]:
    """How far the crop lies off the print's middle in truth: never further than the cloth goes."""
    flat = replace(piece_of(piece), shift=Sides())
    size = flat.print_size
    x = crop.x + (crop.width - size.width) // 2
    y = crop.y + (crop.height - size.height) // 2
    return {"shift_x": _toward(piece.shift_x, x), "shift_y": _toward(piece.shift_y, y)}


def _toward(asked: int, got: int) -> int:
    """What was asked, or what there was cloth for; a crop that the cloth itself moves is no shift."""
    if asked > 0:
        return max(0, min(asked, got))
    return min(0, max(asked, got))


def box_of(points: Points) -> dict[str, int]:
    """Return the box round a line in whole per cent, within the photo."""
    left, right = (min(100, max(0, round(end(x for x, _ in points)))) for end in (min, max))
    top, bottom = (min(100, max(0, round(end(y for _, y in points)))) for end in (min, max))
    left, top = min(left, 99), min(top, 99)
    return {"x": left, "y": top, "width": max(1, right - left), "height": max(1, bottom - top)}


def _sides(size: Size) -> tuple[int, int]:
    return size.width, size.height


def _grown(rect: Rect, by: Sides) -> Rect:
    wide, high = rect.width + by.left + by.right, rect.height + by.top + by.bottom
    return Rect(rect.x - by.left, rect.y - by.top, wide, high)


def _shrunk(rect: Rect, by: int) -> Rect:
    return rect.less(Sides.all_round(by))


def _corners(rect: Rect) -> list[tuple[int, int]]:
    x, y, right, bottom = rect.x, rect.y, rect.x + rect.width, rect.y + rect.height
    return [(x, y), (right, y), (right, bottom), (x, bottom)]
