"""What there is to look at in a layout before anybody is asked or anything is cut."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from orders.cloth.cloth_beside import are_close, fail_to_match, get_lost, is_white, may_stain, palettes_of
from orders.cloth.cloth_needs import ROLES
from orders.models import Piece
from orders.quilt.block_cautions import prints_near_a_seam, said_of_seams, said_of_teams, said_of_turned
from orders.quilt.drawn import Room, listed
from planner.colour import FabricLook
from planner.layout import Layout
from planner.problems import Problem
from planner.quilt import Quilt

ABOUT_MONEY = ("price",)
Near = Mapping[str, tuple[int, str]]


@dataclass(frozen=True)
class Look:
    """Something to look at: its mark (late or wait), what it is, and what would help."""

    mark: str
    what: str
    helps: str = ""


def looks_of(room: Room) -> tuple[Look, ...]:
    """Return what there is to look at in the layout that stands, the worst first; never the money."""
    if not room.pieces:
        return ()
    if room.quilt is None or room.offer is None:
        return tuple(Look("wait", each.what, each.change) for each in room.plan.problems if _is_shown(each))
    layout = room.layout or room.offer.layout
    near = prints_near_a_seam(room.quilt, room.pieces)
    found = [
        *_does_not_fit(layout, near),
        *_in_its_block(room, room.quilt, {name: near[name] for name in near if name not in layout.cropped}),
        *(_as_look(each) for each in room.offer.problems if _is_shown(each) and not _is_of(each, layout)),
        *_of_usual_size(room.quilt, room.pieces),
        *_beside_the_sashing(room, room.quilt),
    ]
    unlike: dict[str, Look] = {}
    for look in found:
        unlike.setdefault(look.what, look)
    return tuple(sorted(unlike.values(), key=lambda look: look.mark != "late"))


def _in_its_block(room: Room, quilt: Quilt, near: Near) -> Iterator[Look]:
    """What is to be said of prints near a seam and upside down, and of teams side by side."""
    yield from (Look(*each) for each in said_of_seams(near, unit=room.shop.unit))
    yield from (Look(*each) for each in said_of_turned(quilt, room.pieces))
    yield from (Look(*each) for each in said_of_teams(quilt, room.pieces))


def _does_not_fit(layout: Layout, near: Near) -> Iterator[Look]:
    """One look for each piece that does not sit whole in its block with its margin, with what would help."""
    remedies = dict(note.split(": ", 1) for note in layout.notes)
    for name in (*layout.cropped, *(each for each in remedies if each not in layout.cropped)):
        if name in layout.cropped:
            yield Look("late", f"{name} would lose part of its print.", remedies.get(name, "Ask first."))
        elif remedies[name].startswith("Add strips"):
            yield Look("wait", f"{name} gives less cloth than its block.", remedies[name])
        elif name not in near:
            yield Look("wait", f"{name} has hardly any margin in its block.", remedies[name])


def _of_usual_size(quilt: Quilt, pieces: Mapping[str, Piece]) -> Iterator[Look]:
    """Panels that nobody has measured, so that all that is said of their margins is a guess."""
    shown = (pieces[cell.piece] for cell in quilt.with_pieces() if cell.piece and cell.piece in pieces)
    names = [piece.name for piece in shown if piece.sizes_are_usual and piece.shirt.state != "used"]
    if names:
        one = len(names) == 1
        whose = f"{names[0]} has" if one else f"{len(names)} panels have"
        yield Look(
            "wait",
            f"{whose} only the usual size of {'its' if one else 'their'} kind.",
            f"Measure {'it' if one else 'them'} in the Bag room before she is asked.",
        )


def _is_of(problem: Problem, layout: Layout) -> bool:
    return len(problem.where) == 1 and problem.where[0] in layout.cropped


def is_about_all_ways(problem: Problem) -> bool:
    """Say whether a problem is of money, day or cloth, and not of how the shirts are laid out."""
    return len(problem.where) == 1 and problem.where[0] in ("price", "due", *ROLES)


def _is_shown(problem: Problem) -> bool:
    return problem.where != ABOUT_MONEY


def _as_look(problem: Problem) -> Look:
    return Look("wait" if is_about_all_ways(problem) else "late", problem.what, problem.change)


def _beside_the_sashing(room: Room, quilt: Quilt) -> Iterator[Look]:
    """What the rules that cloth is chosen by say of the shirts that the sashing touches."""
    sashing = room.looks.get("sashing") if quilt.sashing else None
    if sashing is None:
        return
    shirts = palettes_of(dict(_placed(room, quilt)))
    if lost := get_lost(shirts, sashing, "sashing"):
        gets = "gets" if len(lost) == 1 else "get"
        yield Look(
            "late",
            f"{listed(lost)} {gets} lost in the sashing.",
            "Another cloth, or strips round it, sets it off.",
        )
    if close := are_close(shirts, sashing, "sashing"):
        yield Look(
            "wait",
            f"{_named(close)} close to the color of the sashing.",
            "Look from across the room; strips round it set it off.",
        )
    if near := fail_to_match(shirts, sashing, "sashing"):
        yield Look(
            "wait",
            f"{_named(near)} near the color of the sashing, and no match.",
            "A mottled cloth in several shades of it goes with all of them; so does another color.",
        )
    if stained := may_stain(shirts, sashing, "sashing"):
        yield _dye(stained, sashing, str(room.order.cloth["sashing"]))


def _named(shirts: tuple[str, ...]) -> str:
    return f"{listed(shirts)} {'is' if len(shirts) == 1 else 'are'}"


def _dye(shirts: tuple[str, ...], cloth: FabricLook, name: str) -> Look:
    if is_white(cloth):
        what = f"{_named(shirts)} dark or red beside {name}, which is pale."
        return Look("wait", what, "Soak a corner of each first: its dye may run.")
    what = f"{_named(shirts)} pale beside {name}, whose dye may run."
    return Look("wait", what, "Soak a clipping of the cloth before it is cut.")


def _placed(room: Room, quilt: Quilt) -> Iterator[tuple[str, Piece]]:
    for cell in quilt.with_pieces():
        piece = room.pieces.get(cell.piece or "")
        if piece is not None:
            yield cell.piece or "", piece
