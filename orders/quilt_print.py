"""The quilt picture as a JPEG, to send beside the words: photos or colors, and the names of blocks."""

from __future__ import annotations

import io
from collections.abc import Mapping

from PIL import Image, ImageDraw, ImageFont

from orders.little_quilt import DARK, LIGHT, PLAIN, cornerstones, readable_on
from orders.models import Piece
from orders.photos import open_rendition
from planner.quilt import Cell, Quilt
from planner.units import Rect

LONGER_SIDE = 1600  # pixels
EDGE = 24
APPROXIMATE = "Colors are approximate."


def jpeg_of(quilt: Quilt, panels: Mapping[str, Piece], cloth: Mapping[str, str]) -> bytes:
    """Return the picture as a JPEG of at most 1,600 pixels on its longer side, margin included."""
    per_tick = (LONGER_SIDE - 2 * EDGE) / max(quilt.size.width, quilt.size.height)
    wide, high = (round(side * per_tick) + 2 * EDGE for side in (quilt.size.width, quilt.size.height))
    sheet = Image.new("RGB", (wide, high), "#FAF6EF")
    paper = _Paper(sheet, per_tick)
    _cloth(paper, quilt, cloth)
    for cell in quilt.cells:
        for each in cell.inside or (cell,):
            _panel(paper, each, panels.get(each.piece or ""), cloth)
    for cell in quilt.cells:
        _name(paper, cell)
    _approximate(paper)
    out = io.BytesIO()
    sheet.save(out, "JPEG", quality=85, optimize=True)
    return out.getvalue()


class _Paper:
    """A sheet that is drawn on in ticks."""

    def __init__(self, sheet: Image.Image, per_tick: float) -> None:
        self.sheet, self.pen, self.per_tick = sheet, ImageDraw.Draw(sheet), per_tick

    def box(self, place: Rect) -> tuple[int, int, int, int]:
        corners = (place.x, place.y, place.right, place.bottom)
        left, top, right, bottom = (EDGE + round(each * self.per_tick) for each in corners)
        return left, top, max(right, left + 1), max(bottom, top + 1)

    def fill(self, place: Rect, color: str) -> None:
        self.pen.rectangle(self.box(place), fill=color)


def _approximate(paper: _Paper) -> None:
    """Say in the lower margin that no screen shows the colors as they are."""
    font = ImageFont.load_default(size=15)
    at = (paper.sheet.width // 2, paper.sheet.height - EDGE // 2)
    paper.pen.text(at, APPROXIMATE, font=font, fill=DARK, anchor="mm")


def _cloth(paper: _Paper, quilt: Quilt, cloth: Mapping[str, str]) -> None:
    sashing = (cloth.get("sashing") if quilt.sashing else "") or PLAIN
    outside = (cloth.get("border") if quilt.borders else sashing) or PLAIN
    whole = Rect(0, 0, quilt.size.width, quilt.size.height)
    paper.fill(whole, outside)
    paper.fill(quilt.field, sashing)
    for stone in cornerstones(quilt):
        paper.fill(stone, cloth.get("cornerstone") or sashing)
    paper.pen.rectangle(paper.box(whole), outline=cloth.get("binding") or DARK, width=6)


def _panel(paper: _Paper, cell: Cell, piece: Piece | None, cloth: Mapping[str, str]) -> None:
    trim = cloth.get("frame") or cloth.get("sashing") or PLAIN
    if cell.is_filler:
        paper.fill(cell.at, cloth.get("filler") or trim)
        return
    paper.fill(cell.at, trim)
    paper.fill(cell.room, (piece.ground if piece else "") or PLAIN)
    photo = _photo_of(piece)
    left, top, right, bottom = paper.box(cell.room)
    if photo is not None and piece is not None:
        paper.sheet.paste(_window(photo, piece.window, (right - left, bottom - top), cell.turn), (left, top))
    else:
        ink = readable_on((piece.ground if piece else "") or PLAIN)
        middle = (left + right) // 2, (top + bottom) // 2
        font = ImageFont.load_default(size=max(12, paper.sheet.width // 60))
        paper.pen.text(middle, "no photo yet", font=font, fill=ink, anchor="mm")
    paper.pen.rectangle((left, top, right - 1, bottom - 1), outline="#8C8271")


def _photo_of(piece: Piece | None) -> Image.Image | None:
    if piece is None or piece.photo is None or not piece.photo.is_ready:
        return None
    file = open_rendition(piece.photo, 800)
    if file is None:
        return None
    with file:
        return Image.open(file).convert("RGB")


def _window(
    photo: Image.Image, box: tuple[float, float, float, float], size: tuple[int, int], turn: int
) -> Image.Image:
    """Return the part of a photo that is the panel, grown to fill its block as cloth would."""
    left, top, width, height = box
    part = photo.crop(
        (
            round(left * photo.width),
            round(top * photo.height),
            max(round((left + width) * photo.width), round(left * photo.width) + 1),
            max(round((top + height) * photo.height), round(top * photo.height) + 1),
        )
    )
    if turn:
        part = part.rotate(-turn, expand=True)
    scale = max(size[0] / part.width, size[1] / part.height)
    grown = part.resize((max(size[0], round(part.width * scale)), max(size[1], round(part.height * scale))))
    x, y = (grown.width - size[0]) // 2, (grown.height - size[1]) // 2
    return grown.crop((x, y, x + size[0], y + size[1]))


def _name(paper: _Paper, cell: Cell) -> None:
    if not cell.piece:
        return
    font = ImageFont.load_default(size=max(14, paper.sheet.width // 40))
    left, top, _, _ = paper.box(cell.at)
    words = paper.pen.textbbox((left + 4, top + 2), cell.piece, font=font)
    paper.pen.rectangle((left - 4, top - 4, words[2] + 6, words[3] + 6), fill=LIGHT)
    paper.pen.text((left + 2, top), cell.piece, font=font, fill=DARK)
