"""Rearranging the blocks of a quilt: what is asked, the search, and one move that undo takes back.

A small quilt is arranged while she waits; a larger one goes into the background, where it tells how far
it is and can be stopped, keeping the best so far. What is pinned, or sewn in, stays where it lies.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

from orders.background import errands
from orders.models import Block, Design, Errand, Move, Order, Person, Stale
from orders.models.design import fingerprint
from orders.models.errand import STILL_OPEN
from orders.planning import bag_of, piece_id
from orders.quilt import layouts
from orders.quilt.block_moves import CannotMove
from orders.quilt.teams import teams_of
from planner.brief import as_json, read_quilt
from planner.layout import Arrangement, Layout, arrange, why
from planner.problems import Impossible, Limit
from planner.quilt import Bag, Quilt
from planner.units import Sides, Size

FEW_BLOCKS = 30
A_FEW = 4_000  # swaps; less than a fifth of a second for 60 blocks
QUICK, LONG = 16_000, 160_000  # about a quarter of a second for 30 blocks, five for 60
TOLD_EVERY = 1.0  # seconds
KIND = "arrange"
Teams = tuple[tuple[str, ...], ...]
MOODS = {"calm": "calm", "lively": "lively", "story": "in the order of the story"}


@dataclass(frozen=True)
class Asked:
    """What a rearranging is asked for; pieces by name, `tuck_` in ticks."""

    mood: str = "calm"
    favorites: tuple[str, ...] = ()
    together: tuple[tuple[str, str], ...] = ()
    apart: tuple[tuple[str, str], ...] = ()
    tuck_top: int = 0
    tuck_bottom: int = 0

    @classmethod
    def of(cls, kept: Mapping[str, Any]) -> Asked:
        """Read what a move keeps."""
        pairs = {name: tuple((a, b) for a, b in kept.get(name, ())) for name in ("together", "apart")}
        return cls(**{**kept, **pairs, "favorites": tuple(kept.get("favorites", ()))})

    @property
    def words(self) -> str:
        return f"Rearranged, {MOODS[self.mood]}"

    def within(self, quilt: Quilt) -> dict[str, Any]:
        """Return it as the planner takes it; what is no longer in the quilt is not asked for."""
        here = {cell.piece for cell in quilt.with_pieces()}
        return {
            "mood": self.mood,
            "favorites": [name for name in self.favorites if name in here],
            "together": [pair for pair in self.together if here.issuperset(pair)],
            "apart": [pair for pair in self.apart if here.issuperset(pair)],
            "tuck": Sides(top=self.tuck_top, bottom=self.tuck_bottom),
        }


def rearrange(order: Order, asked: Asked, *, seen: int, by: Person) -> str:
    """Rearrange what is not pinned, at once or in the background; returns in words what comes of it."""
    design, quilt = layouts.drawn(order)
    if quilt is None:
        raise CannotMove("There is no layout yet. Choose one first.")
    if design.at != seen:
        if layouts.is_done(design, asked.words, seen):
            return asked.words
        raise Stale(design)
    if len(quilt.cells) > FEW_BLOCKS:
        _begin(order, quilt, asked, seen=seen, by=by)
        return "It is being rearranged. You can go on with something else."
    found = _search(order, design, asked, limit=Limit(effort=QUICK))
    layouts.rearrange(order, found.layout.quilt, asked.words, asked=asdict(asked), seen=seen, by=by)
    if found.layout.quilt == quilt:
        return "Nothing better was found: the blocks stay as they lie."
    return found.reasons[-1]


def in_the_background(order: Order) -> Errand | None:
    """Return the rearranging of an order that is not at its end, or that failed on what stands now."""
    last = Errand.objects.about(KIND, str(order.pk)).first()
    return last if last is not None and last.state in (*STILL_OPEN, "failed") else None


def stop(order: Order, *, by: Person) -> str:
    """Stop the search in the background and take the best it has come to."""
    under_way = in_the_background(order)
    if under_way is None or not under_way.is_open:
        return "It had come to its end already."
    under_way.ask_to_stop()
    best, said = under_way.payload.get("best"), under_way.payload
    if best is None:
        return "Stopped before anything better was found."
    asked = Asked.of(said["asked"])
    layouts.rearrange(order, read_quilt(best), asked.words, asked=said["asked"], seen=said["seen"], by=by)
    return "Stopped. The best so far hangs on the wall."


@errands.errand(KIND, seconds=300, megabytes=800, waited_for=True)
def search_in_the_background(taken: Errand) -> str:
    """Search long, telling how far it is, and draw what was found unless somebody drew meanwhile."""
    said, order = taken.payload, Order.objects.get(pk=taken.payload["order"])
    design, quilt = layouts.drawn(order)
    asked = Asked.of(said["asked"])
    if quilt is None or design.at != said["seen"]:
        if layouts.is_done(design, asked.words, said["seen"]):
            return asked.words
        raise errands.CannotBeDone("The layout was changed meanwhile. Rearrange it again.")
    try:
        found = _search(order, design, asked, limit=Limit(effort=LONG, watch=_keeper(taken)))
        layouts.rearrange(
            order,
            found.layout.quilt,
            asked.words,
            asked=said["asked"],
            seen=said["seen"],
            by=Person.objects.get(pk=said["by"]),
        )
    except CannotMove as reason:
        raise errands.CannotBeDone(str(reason)) from reason
    except Stale as moved:
        raise errands.CannotBeDone("The layout was changed meanwhile. Rearrange it again.") from moved
    return found.reasons[-1]


def reasons_for(move: Move, bag: Bag, teams: Teams = ()) -> tuple[str, ...]:
    """Return why the quilt sits as it does after a move, in sentences that are true of it as it stands."""
    quilt = read_quilt(move.quilt)
    keep = _names(quilt, set(move.pins))
    return why(Layout(quilt), bag, keep=keep, teams=teams, **Asked.of(move.asked).within(quilt))


def spread(layout: Layout, bag: Bag, teams: Teams) -> Layout:
    """Return a way that nobody chose yet with its colors spread; a block changes places with its like only.

    So its seams, its strips and its price stay as they are.
    """
    sizes = Design.sizes_in(layout.quilt)
    pieces = (
        replace(each, cut=Size(*sizes[each.id])) if each.id in sizes and each.cut is None else each
        for each in bag.pieces
    )
    held = replace(bag, pieces=tuple(pieces))
    found = arrange(layout, held, keep={}, teams=teams, limit=Limit(effort=A_FEW))
    return layout if isinstance(found, Impossible) else found.layout


def teams_in(order: Order) -> Teams:
    """Return the pieces of an order whose fronts are of one team."""
    return teams_of({piece_id(piece): piece for piece in layouts.pieces_of(order)})


def _begin(order: Order, quilt: Quilt, asked: Asked, *, seen: int, by: Person) -> None:
    number = Errand.objects.about(KIND, str(order.pk)).exclude(state__in=STILL_OPEN).count()
    print_of = fingerprint({"quilt": as_json(quilt), "asked": asdict(asked)})[:16]
    payload = {"order": order.pk, "asked": asdict(asked), "seen": seen, "by": by.pk}
    errands.send(KIND, key=f"{order.pk} {number} {print_of}", cause=str(order)[:120], payload=payload)


def _search(order: Order, design: Design, asked: Asked, *, limit: Limit) -> Arrangement:
    quilt = design.quilt
    assert quilt is not None
    sewn_in = order.blocks.filter(progress=Block.Progress.JOINED).values_list("cell", flat=True)
    pins = {*layouts.pins_of(design), *sewn_in}
    found = arrange(
        Layout(quilt), _fixed(bag_of(order), order, quilt), keep=_names(quilt, pins), limit=limit,
        teams=teams_in(order), **asked.within(quilt),
    )  # fmt: skip
    if isinstance(found, Impossible):
        problem = found.problems[0]
        raise CannotMove(f"{problem.what} {problem.change}".strip())
    return found


def _fixed(bag: Bag, order: Order, quilt: Quilt) -> Bag:
    """The bag with every piece that has its yes held to the size the yes was said to."""
    approved = order.approved_pieces.standing().select_related("piece__shirt")
    names = {piece_id(each.piece) for each in approved}
    sizes = Design.sizes_in(quilt)
    pieces = (
        replace(piece, cut=Size(*sizes[piece.id]))
        if piece.id in names and piece.id in sizes and piece.cut is None
        else piece
        for piece in bag.pieces
    )
    return replace(bag, pieces=tuple(pieces))


def _names(quilt: Quilt, blocks: set[str]) -> dict[str, str]:
    """The pins as the planner takes them: a piece, or a block without one, to the place where it lies."""
    cells = (cell for cell in quilt.cells if cell.id in blocks)
    return {
        next((each.piece for each in cell.with_pieces() if each.piece), cell.id): cell.id for cell in cells
    }


def _keeper(taken: Errand) -> Callable[[Arrangement], bool]:
    """Keep the best so far with the errand, once a second at most."""
    last = time.monotonic() - TOLD_EVERY

    def keep(best: Arrangement) -> bool:
        nonlocal last
        if time.monotonic() - last >= TOLD_EVERY:
            last = time.monotonic()
            said = next((each for each in best.reasons if "like color" in each), best.reasons[0])
            taken.keep(f"Best so far: {said}", best=as_json(best.layout.quilt))
        return True

    return keep
