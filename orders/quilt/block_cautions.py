"""What to look at in single blocks: prints near a seam or upside down, two fronts of a team side by side.

The rules are those of the trade (common practice): words, faces and numbers half an inch from a seam or
more, prints upright the same way, the fronts of one team apart.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from orders.bag.panels import counted
from orders.models import Piece
from orders.planning import piece_of
from orders.quilt.block_fit import print_room
from orders.quilt.block_moves import pieces_in
from orders.quilt.teams import team_of
from planner.layout.arranging.places import touching
from planner.layout.remedies import listed
from planner.quilt import Quilt, seam_rects
from planner.units import INCH, show_length

NEAR_A_SEAM = INCH // 2
WHERE = {"top": "at the top", "right": "on the right", "bottom": "at the bottom", "left": "on the left"}
FEW = 4


def prints_near_a_seam(quilt: Quilt, pieces: Mapping[str, Piece]) -> dict[str, tuple[int, str]]:
    """Return by name how near a print comes to a seam, in ticks, and on which side; only those too near.

    A print that was measured is taken to be as large as it may be, half its plus-or-minus on a side.
    """
    found = {}
    for cell in quilt.with_pieces():
        piece = pieces.get(cell.piece or "")
        room = print_room(cell, piece_of(piece), seam=quilt.seam) if piece else {}
        if piece is not None and room:
            side = min(room, key=lambda each: room[each])
            sure = room[side] - -(-piece.plus_minus // 2)
            if sure < NEAR_A_SEAM:
                found[piece.name] = (sure, side)
    return found


def said_of_seams(near: Mapping[str, tuple[int, str]], *, unit: str) -> Iterator[tuple[str, str, str]]:
    """Yield mark, sentence and help for prints that lose something in a seam, and for those too near it."""
    lost = sorted(name for name, (room, _) in near.items() if room < 0)
    if lost:
        yield (
            "late",
            f"{listed(tuple(lost))} would lose part of {_its(lost)} in a seam.",
            "Give it a larger block, or ask first.",
        )
    close = sorted((room, name) for name, (room, _) in near.items() if room >= 0)
    if close:
        names = tuple(sorted(name for _, name in close))
        comes = "comes" if len(names) == 1 else "come"
        who = listed(names) if len(names) <= FEW else f"{len(names)} prints"
        room, nearest = close[0]
        yield (
            "wait",
            f"{who} {comes} within {_length(NEAR_A_SEAM, unit)} of a seam.",
            f"{nearest} has {_length(room, unit)} {WHERE[near[nearest][1]]}. "
            "Words, faces and numbers want more: a larger block, narrower strips, or ask first.",
        )


def said_of_turned(quilt: Quilt, pieces: Mapping[str, Piece]) -> Iterator[tuple[str, str, str]]:
    """Yield what is to be said of prints that lie upside down or on their side."""
    for turns, how in (((180,), "upside down"), ((90, 270), "on its side")):
        names = tuple(
            sorted(
                cell.piece
                for cell in quilt.with_pieces()
                if cell.piece and cell.turn in turns and _has_print(pieces.get(cell.piece))
            )
        )
        if names:
            one = len(names) == 1
            words = how if one else how.replace("its side", "their sides")
            yield (
                "wait",
                f"{listed(names)} {'is' if one else 'are'} {words}.",
                f"Turn {'it' if one else 'them'} round, unless the quilt is read from all sides.",
            )


def said_of_teams(quilt: Quilt, pieces: Mapping[str, Piece]) -> Iterator[tuple[str, str, str]]:
    """Yield each two fronts of one team that lie side by side."""
    beside, _ = touching(seam_rects(quilt))
    fronts = [[each for each in pieces_in(cell) if _is_front(pieces.get(each))] for cell in quilt.cells]
    for a, here in enumerate(fronts):
        for b in range(a + 1, len(fronts)):
            pairs = ((x, y) for x in here for y in fronts[b]) if beside[a, b] else ()
            for x, y in pairs:
                if team_of(pieces[x]) == team_of(pieces[y]) != "":
                    yield (
                        "wait",
                        f"{x} and {y}, two fronts of {pieces[x].shirt.team.strip()}, lie side by side.",
                        "Let one of them trade places.",
                    )


def _has_print(piece: Piece | None) -> bool:
    return piece is not None and bool(piece.print_width)


def _is_front(piece: Piece | None) -> bool:
    return piece is not None and counted(piece.side)[0].endswith("front")


def _its(names: list[str]) -> str:
    return "its print" if len(names) == 1 else "their prints"


def _length(ticks: int, unit: str) -> str:
    return show_length(ticks, unit=unit, rounding="nearest").removeprefix("about ")
