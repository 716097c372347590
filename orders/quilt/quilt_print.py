"""The quilt picture as a JPEG, to send beside the words: shirts, cloth, names of blocks, and what it is."""

from __future__ import annotations

import io

from PIL import Image, ImageDraw, ImageFont

from orders.cloth.swatch_tiles import laid_out
from orders.quilt.little_quilt import DARK, LIGHT, PLAIN, cornerstones, readable_on
from orders.quilt.panel_photos import Panel, laid_flat
from orders.quilt.quilt_picture import View
from planner.quilt import Cell, Quilt
from planner.units import Rect, Size

LONGER_SIDE = 1600  # pixels
EDGE = 24
MOST_BYTES = 1_000_000  # a text message takes no more
QUALITIES = (88, 80, 70, 55, 40)
APPROXIMATE = "Colors are approximate."
MUSLIN = "#FAF6EF"


def jpeg_of(quilt: Quilt, view: View, *, caption: str = "") -> bytes:
    """Return the picture as a JPEG of at most 1,600 pixels on its longer side and under 1 MB.

    The caption (number, version, size) stands in its lower margin.
    """
    sheet = picture_of(quilt, view, caption=caption)
    for quality in QUALITIES:
        out = io.BytesIO()
        sheet.save(out, "JPEG", quality=quality, optimize=True)
        if out.tell() < MOST_BYTES:
            break
    return out.getvalue()


def picture_of(quilt: Quilt, view: View, *, caption: str = "") -> Image.Image:
    """Return the picture as pixels."""
    paper = _Paper(quilt.size, LONGER_SIDE, view, edge=EDGE)
    _sewn(paper, quilt)
    for cell in quilt.with_pieces():
        if not paper.view.panel(cell).is_on_disk:
            _say_why_bare(paper, cell)
    for cell in quilt.cells:
        for each in cell.with_pieces():
            _name(paper, each)
    _caption(paper, caption)
    return paper.sheet


def top_of(quilt: Quilt, view: View, *, across: int) -> Image.Image:
    """Return the top and nothing else, no name and no margin, so many pixels across."""
    longer = max(across, -(-across * quilt.size.height // quilt.size.width))
    paper = _Paper(quilt.size, longer, view, edge=0)
    _sewn(paper, quilt)
    return paper.sheet


class _Paper:
    """A sheet that is drawn on in ticks, with the cloth that lies ready for it."""

    def __init__(self, size: Size, longer: int, view: View, *, edge: int) -> None:
        self.edge, self.view = edge, view
        self.per_tick = (longer - 2 * edge) / max(size.width, size.height)
        wide, high = (round(side * self.per_tick) + 2 * edge for side in (size.width, size.height))
        self.sheet = Image.new("RGB", (wide, high), MUSLIN)
        self.pen = ImageDraw.Draw(self.sheet)
        laid = {
            role: laid_out(swatch, self.sheet.size, per_tick=self.per_tick)
            for role, swatch in view.swatches.items()
        }
        self.laid = {role: cloth for role, cloth in laid.items() if cloth is not None}

    def box(self, place: Rect) -> tuple[int, int, int, int]:
        corners = (place.x, place.y, place.right, place.bottom)
        left, top, right, bottom = (self.edge + round(each * self.per_tick) for each in corners)
        return left, top, max(right, left + 1), max(bottom, top + 1)

    def fill(self, place: Rect, color: str) -> None:
        left, top, right, bottom = self.box(place)
        self.pen.rectangle((left, top, right - 1, bottom - 1), fill=color)

    def lay(self, place: Rect, *roles: str) -> None:
        """Fill a place with the cloth of the first of these parts that has one, as the bolt lies."""
        role = next((each for each in roles if each in self.laid or self.view.cloth.get(each)), "")
        if role in self.laid:
            box = self.box(place)
            self.sheet.paste(self.laid[role].crop(box), box[:2])
        else:
            self.fill(place, self.view.cloth.get(role) or PLAIN)


def _caption(paper: _Paper, words: str) -> None:
    """Say in the lower margin what it is, and that no screen shows the colors as they are."""
    said = " ".join(each for each in (words, APPROXIMATE) if each)
    at = (paper.sheet.width // 2, paper.sheet.height - EDGE // 2)
    size = next(
        (size for size in (17, 15, 13, 11) if _font(size).getlength(said) <= paper.sheet.width - EDGE), 10
    )
    paper.pen.text(at, said, font=_font(size), fill=DARK, anchor="mm")


def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size=size)


def _sewn(paper: _Paper, quilt: Quilt) -> None:
    _cloth(paper, quilt)
    for cell in quilt.cells:
        for each in cell.inside or (cell,):
            _panel(paper, each)


def _cloth(paper: _Paper, quilt: Quilt) -> None:
    inside = ("sashing",) if quilt.sashing else ()
    whole = Rect(0, 0, quilt.size.width, quilt.size.height)
    paper.lay(whole, *(("border",) if quilt.borders else inside))
    if quilt.borders:
        paper.lay(quilt.field, *inside)
    for stone in cornerstones(quilt):
        paper.lay(stone, "cornerstone", "sashing")
    _binding(paper, whole)


def _binding(paper: _Paper, whole: Rect) -> None:
    """A narrow edge all round; where no cloth was chosen for it, a line."""
    if not ("binding" in paper.laid or paper.view.cloth.get("binding")):
        paper.pen.rectangle(paper.box(whole), outline=DARK, width=3)
        return
    wide = max(1, round(6 / paper.per_tick))
    across, down = whole.width, whole.height
    for edge in (
        Rect(0, 0, across, wide),
        Rect(0, down - wide, across, wide),
        Rect(0, 0, wide, down),
        Rect(across - wide, 0, wide, down),
    ):
        paper.lay(edge, "binding")


def _panel(paper: _Paper, cell: Cell) -> None:
    if cell.is_filler:
        paper.lay(cell.at, "filler", "sashing")
        return
    panel = paper.view.panel(cell)
    paper.lay(cell.at, "frame", "sashing")
    paper.fill(cell.room, panel.ground or PLAIN)
    left, top, right, bottom = paper.box(cell.room)
    shown = window_of(panel, (right - left, bottom - top), cell.turn)
    if shown is not None:
        paper.sheet.paste(shown, (left, top))
    paper.pen.rectangle((left, top, right - 1, bottom - 1), outline="#8C8271")


def _say_why_bare(paper: _Paper, cell: Cell) -> None:
    panel = paper.view.panel(cell)
    left, top, right, bottom = paper.box(cell.room)
    why = "photo missing" if panel.is_missing else "no photo yet"
    font = _font(max(12, paper.sheet.width // 60))
    middle = (left + right) // 2, (top + bottom) // 2
    paper.pen.text(middle, why, font=font, fill=readable_on(panel.ground or PLAIN), anchor="mm")


def window_of(panel: Panel, size: tuple[int, int], turn: int) -> Image.Image | None:
    """Return what a block keeps of its panel, in so many pixels and turned as it is sewn in."""
    if not panel.is_on_disk:
        return None
    upright = size if turn in (0, 180) else (size[1], size[0])
    left, top, width, height = panel.window
    scale = max(upright[0] / width, upright[1] / height)
    flat = laid_flat(panel.sha256, panel.quad, max(1, round(max(panel.sides) * scale)))
    if flat is None:
        return None
    across, down = (max(1, round(side * scale)) for side in panel.sides)
    whole = flat.resize((across, down))
    x = round((left + width / 2) * scale - upright[0] / 2)
    y = round((top + height / 2) * scale - upright[1] / 2)
    part = whole.crop((x, y, x + upright[0], y + upright[1]))
    return part.rotate(-turn, expand=True) if turn else part


def _name(paper: _Paper, cell: Cell) -> None:
    """The name of a block on a white slip over its upper left corner."""
    font = _font(max(14, paper.sheet.width // 40))
    left, top, _, _ = paper.box(cell.at)
    words = paper.pen.textbbox((left + 4, top + 2), cell.piece or "", font=font)
    paper.pen.rectangle((left - 4, top - 4, words[2] + 6, words[3] + 6), fill=LIGHT)
    paper.pen.text((left + 2, top), cell.piece or "", font=font, fill=DARK)
