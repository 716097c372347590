"""A panel as its photo shows it: laid flat and cut to its block, the same on a page and on paper."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from orders.bag.cropping import known_rectangle, place_of_print
from orders.bag.measuring import WHOLE
from orders.models import Photo, Piece
from orders.models.photo import SIZES, photo_file
from orders.planning import piece_of
from planner.layout.window import keep
from planner.quilt import Cell
from planner.units import INCH, Size

if TYPE_CHECKING:
    from PIL import Image

SEAM = INCH // 4
PANEL_SIZES = (160, 320, 640)  # longer side of a panel laid flat, in pixels
FURTHEST = 2 * WHOLE  # a corner that lies further off the photo than this is a slip
QUALITY, QUALITY_SMALL = 72, 60  # the smallest is for many blocks, each an inch wide on a screen
Quad = tuple[int, ...]


@dataclass(frozen=True)
class Panel:
    """What a block shows of a shirt: the ground color and, where a photo shows it, the part that is cut.

    `quad` are the corners of the cloth on its photo, clockwise from the top left, in ten-thousandths;
    laid flat it measures `sides`, and `window` (left, top, width, height) is what the block keeps of it.
    """

    ground: str = ""
    photo: int = 0
    sha256: str = ""
    quad: Quad = ()
    sides: tuple[int, int] = (1, 1)
    window: tuple[int, int, int, int] = (0, 0, 1, 1)

    @property
    def is_on_disk(self) -> bool:
        """Say whether there is a file to draw it from."""
        return bool(self.photo) and bool(_files(self.sha256))

    @property
    def is_missing(self) -> bool:
        """Say whether there was a photo whose files are gone."""
        return bool(self.photo) and not _files(self.sha256)

    @property
    def corners(self) -> str:
        """The corners as they stand in an address."""
        return "_".join(str(number) for number in self.quad)


def panel_of(piece: Piece, cell: Cell) -> Panel:
    """Return a piece as a block shows it: the finished part, in its true size where it was measured."""
    photo = piece.photo if piece.photo is not None and piece.photo.is_ready else None
    if photo is None:
        return Panel(ground=piece.ground)
    size = cell.room.size if cell.turn in (0, 180) else Size(cell.room.height, cell.room.width)
    measured = _as_measured(piece, size)
    quad, sides, window = measured or _as_marked(piece, photo)
    return Panel(piece.ground, photo.pk, photo.sha256, quad, sides, window)


def _as_measured(piece: Piece, room: Size) -> Any:
    """All the cloth of the panel laid flat, and in it the window that the cut keeps."""
    flat = piece_of(piece)
    cloth, window = flat.cloth, keep(flat, room, seam=SEAM)
    if not (piece.taps and piece.taps.get("kept")) or window is None or not cloth.area:
        return None
    size, (x, y) = known_rectangle(flat)
    left, top = -flat.free.left, -flat.free.top
    kept = tuple((float(a), float(b)) for a, b in place_of_print(piece))
    quad = _seen(size, kept, (left - x, top - y, cloth.width, cloth.height))
    crop = window.crop
    return quad, (cloth.width, cloth.height), (crop.x - left, crop.y - top, crop.width, crop.height)


def _as_marked(piece: Piece, photo: Photo) -> Any:
    """The box that was marked on the photo, or all of it; how large it is nobody measured."""
    left, top, width, height = piece.window
    right, bottom = left + width, top + height
    shares = (left, top, right, top, right, bottom, left, bottom)
    sides = max(1, round(width * photo.width)), max(1, round(height * photo.height))
    return tuple(round(share * WHOLE) for share in shares), sides, (0, 0, *sides)


@lru_cache(maxsize=4096)
def _seen(size: Size, kept: tuple[tuple[float, float], ...], cloth: tuple[int, int, int, int]) -> Quad | None:
    from planner.measure import seen_on

    x, y, width, height = cloth
    places = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
    return tuple(round(number) for at in seen_on(size, kept, places) for number in at)


def quad_in(corners: str) -> Quad | None:
    """Read corners from an address; what is no four corners near a photo is nothing."""
    typed = corners.split("_")
    if len(typed) != 8 or not all(each.removeprefix("-").isdecimal() and len(each) < 7 for each in typed):
        return None
    quad = tuple(int(each) for each in typed)
    return quad if all(-FURTHEST <= each <= WHOLE + FURTHEST for each in quad) else None


def jpeg_of(sha256: str, quad: Quad, longer: int) -> bytes | None:
    """Return a panel laid flat as a JPEG, its longer side in pixels; None when no file shows it."""
    picture = laid_flat(sha256, quad, longer)
    if picture is None:
        return None
    out = io.BytesIO()
    quality = QUALITY_SMALL if longer <= PANEL_SIZES[0] else QUALITY
    picture.save(out, "JPEG", quality=quality, optimize=True)
    return out.getvalue()


def laid_flat(sha256: str, quad: Quad, longer: int) -> Image.Image | None:
    """Return the part of a photo between four corners, laid flat; beyond the photo its edge goes on."""
    import cv2
    import numpy as np
    from PIL import Image

    file = _best_file(sha256, quad, longer)
    if file is None:
        return None
    with Image.open(file, formats=["JPEG"]) as image:
        photo = image.convert("RGB")
    corners = np.array(quad, dtype=np.float32).reshape(4, 2) / WHOLE * np.array(photo.size, dtype=np.float32)
    wide, high = _as_seen(corners)
    scale = longer / max(wide, high)
    shrunk = photo.reduce(max(1, int(1 / scale)))  # so that fine stripes do not flicker
    corners = corners * np.array(shrunk.size, dtype=np.float32) / np.array(photo.size, dtype=np.float32)
    size = max(1, round(wide * scale)), max(1, round(high * scale))
    flat = np.array([[0, 0], [size[0], 0], size, [0, size[1]]], dtype=np.float32)
    way = cv2.getPerspectiveTransform(corners, flat)
    edge = cv2.BORDER_REPLICATE
    return Image.fromarray(cv2.warpPerspective(np.asarray(shrunk), way, size, borderMode=edge))


def _as_seen(corners: Any) -> tuple[float, float]:
    """The mean length of the upper and lower side, and of the left and right one, in pixels."""
    import numpy as np

    sides = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1)
    return max(1.0, float(sides[0] + sides[2]) / 2), max(1.0, float(sides[1] + sides[3]) / 2)


def _best_file(sha256: str, quad: Quad, longer: int) -> Path | None:
    """The smallest file in which the panel has the pixels asked for, else the largest there is."""
    files = _files(sha256)
    across = max(quad[0::2]) - min(quad[0::2])
    down = max(quad[1::2]) - min(quad[1::2])
    share = max(across, down, 1) / WHOLE
    sizes = sorted(files)
    size = next((size for size in sizes if size * share >= longer), sizes[-1] if sizes else 0)
    return files.get(size)


def _files(sha256: str) -> dict[int, Path]:
    """The renditions of a photo that are on the disk, by their longer side."""
    found = {size: photo_file(sha256, size) for size in SIZES}
    return {size: file for size, file in found.items() if file.exists()}
