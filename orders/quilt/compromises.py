"""What was given up for a picture, told with it: strips, turned prints, prints near a seam, lost cloth."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from orders.cloth.cloth_beside import get_lost, palettes_of
from orders.models import Piece
from orders.quilt.block_cautions import prints_near_a_seam
from orders.quilt.drawn import Room, drawn_from_colors, view_of
from planner.colour import FabricLook
from planner.layout.remedies import listed
from planner.quilt import Cell, Quilt
from planner.units import INCH, show_length

NEAR = INCH // 2


def compromises(room: Room) -> tuple[str, ...]:
    """Return in sentences what is not as one might expect of the layout that stands; the gravest first."""
    if room.quilt is None:
        return ()
    return (
        *_in_a_seam(room.quilt, room.pieces, room.shop.unit),
        *_turned(room.quilt),
        *_in_strips(room.quilt),
        *_lost(room.quilt, room.pieces, room.looks),
        *_from_colors(room),
    )


def _in_a_seam(quilt: Quilt, pieces: Mapping[str, Piece], unit: str) -> Iterator[str]:
    near = prints_near_a_seam(quilt, pieces)
    lost = tuple(sorted(name for name, (room, _) in near.items() if room < 0))
    close = tuple(sorted(name for name, (room, _) in near.items() if room >= 0))
    if lost:
        yield f"{_the_prints(lost)} {_do(lost, 'loses', 'lose')} a little at the edge, in the seam."
    if close:
        within = show_length(NEAR, unit=unit, rounding="nearest").removeprefix("about ")
        is_every = len(close) > 1 and {*close} == {cell.piece for cell in quilt.with_pieces()}
        whose = "Every print comes" if is_every else f"{_the_prints(close)} {_do(close, 'comes', 'come')}"
        yield f"{whose} within {within} of a seam."


def _turned(quilt: Quilt) -> Iterator[str]:
    for turns, how in (((180,), "upside down"), ((90, 270), "sideways")):
        names = _names(cell for cell in quilt.with_pieces() if cell.turn in turns)
        if names:
            yield f"{listed(names)} {_do(names, 'lies', 'lie')} {how}."


def _in_strips(quilt: Quilt) -> Iterator[str]:
    names = _names(cell for cell in quilt.with_pieces() if cell.frame)
    if names:
        gives = "its shirt gives" if len(names) == 1 else "their shirts give"
        yield f"{listed(names)} {_do(names, 'sits', 'sit')} in strips: {gives} less cloth than the block."


def _lost(quilt: Quilt, pieces: Mapping[str, Piece], cloth: Mapping[str, FabricLook]) -> Iterator[str]:
    """Shirts that get lost in the cloth that touches them, by the rule that cloth is chosen by."""
    beside: dict[str, dict[str, Piece]] = {"sashing": {}, "frame": {}}
    for cell in quilt.with_pieces():
        piece = pieces.get(cell.piece or "")
        if piece is not None:
            role = "frame" if cell.frame and "frame" in cloth else "sashing"
            beside[role][cell.piece or ""] = piece
    for role, touched in beside.items():
        look = cloth.get(role) if role == "frame" or quilt.sashing else None
        names = tuple(sorted(get_lost(palettes_of(touched), look, role)))
        if names:
            where = "strips" if role == "frame" else "sashing"
            yield f"{listed(names)} {_do(names, 'is', 'are')} nearly the color of the {where}."


def _from_colors(room: Room) -> Iterator[str]:
    if room.quilt is not None and (words := drawn_from_colors(room.quilt, view_of(room))):
        yield words


def _names(cells: Iterator[Cell]) -> tuple[str, ...]:
    return tuple(sorted(cell.piece for cell in cells if cell.piece))


def _the_prints(names: tuple[str, ...]) -> str:
    return f"The print{'' if len(names) == 1 else 's'} of {listed(names)}"


def _do(names: tuple[str, ...], one: str, many: str) -> str:
    return one if len(names) == 1 else many
