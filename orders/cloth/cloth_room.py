"""What the Quilt room shows of cloth: the pile by color, the shelf for one part, the pick, what it takes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from orders.cloth import cloth_picture, quarters
from orders.cloth.cloth_advice import Heap, heaps_for, is_theme_wanted, to_buy
from orders.cloth.cloth_beside import are_close, fail_to_match, get_lost
from orders.cloth.cloth_buying import Buying
from orders.cloth.cloth_groups import Pile, pile_of
from orders.cloth.cloth_lengths import Lengths
from orders.cloth.cloth_looks import look_of
from orders.cloth.cloth_needs import ROLES, needs_of
from orders.cloth.other_ways import other_ways
from orders.models import Cloth, Order, Piece, Shop
from orders.planning import piece_id
from orders.quilt import quilt_looks
from orders.quilt.drawn import Room
from orders.quilt.layouts import pieces_of
from planner.quilt import Quilt


@dataclass(frozen=True)
class Part:
    """A part of the quilt and the cloth chosen for it."""

    role: str
    label: str
    cloth: str
    is_open: bool


@dataclass(frozen=True)
class Laid:
    """An order's quilt as the cloth is laid into it."""

    order: Order
    shop: Shop
    quilt: Quilt | None
    panels: Mapping[str, Piece]
    cloths: Sequence[Cloth]

    @property
    def chosen(self) -> dict[str, Cloth]:
        """The cloth of each part, as far as it is on the shelf."""
        shelf = {cloth.name: cloth for cloth in self.cloths}
        return {role: shelf[name] for role, name in self.order.cloth.items() if name in shelf}


def shown(room: Room, cloths: Sequence[Cloth], *, role: str) -> dict[str, Any]:
    """Return what the cloth section and the list of materials show."""
    quilt = room.quilt or (room.offer.layout.quilt if room.offer else None)
    needs = needs_of(room.offer, room.order, cloths) if room.quilt and room.offer else ()
    laid = Laid(room.order, room.shop, quilt, room.pieces, cloths)
    found = section(laid, role=role)
    undercut, is_known = quarters.compare(room.order, room.shop, cloths, needs)
    buying = Buying(room.order, room.shop, quilt, cloths, found["pile"].palettes)
    return found | {
        "needs": needs,
        "toppings": buying.toppings(needs),
        "all_set_aside": bool(needs) and all(need.is_set_aside or need.is_used for need in needs),
        "other_ways": (*undercut, *(other_ways(room.offer) if room.quilt and room.offer else ())),
        "quarters_cost_less": bool(undercut),
        "quarters_being_reckoned": not is_known,
    }


def picked(order: Order, shop: Shop, cloths: Sequence[Cloth], *, role: str) -> dict[str, Any]:
    """Return the cloth section alone, quickly: nothing of it waits for the plan."""
    panels = {piece_id(piece): piece for piece in pieces_of(order)}
    return section(Laid(order, shop, quilt_looks.quilt_of(order), panels, cloths), role=role)


def section(laid: Laid, *, role: str) -> dict[str, Any]:
    """Return the pile, the heaps of cloth for the part that is open, and the picture with the pick."""
    order, pile = laid.order, pile_of(laid.order)
    open_role = role if role in ROLES else first_role(laid.quilt)
    lengths = Lengths(laid.quilt, open_role, laid.shop)
    heaps = heaps_for(order, laid.cloths, pile.palettes, role=open_role, lengths=lengths)
    lost = lost_beside(laid, pile)
    return {
        "pile": pile,
        "parts": parts_of(laid, open_role),
        "role": open_role,
        "role_label": ROLES[open_role],
        "chosen_cloth": order.cloth.get(open_role, ""),
        "heaps": heaps,
        "to_buy": to_buy(pile.palettes, open_role) if is_meager(heaps) else (),
        "theme_wanted": is_theme_wanted(order),
        "pick": cloth_picture.draw(laid.quilt, laid.panels, laid.chosen, lost=lost) if laid.quilt else "",
        "patterns": cloth_picture.patterns(laid.chosen) if laid.quilt else "",
        "picked_cloth": picked_words(laid),
        "lost": lost,
        "garments": pile.here,
    }


def parts_of(laid: Laid, open_role: str) -> list[Part]:
    """Return the parts this quilt has, and any that cloth was chosen for."""
    has = roles_in(laid.quilt)
    chosen = laid.order.cloth
    return [
        Part(role, label, chosen.get(role, ""), role == open_role)
        for role, label in ROLES.items()
        if role in has or role in chosen or role == open_role
    ]


def first_role(quilt: Quilt | None) -> str:
    """Return the part that cloth is chosen for first, of those this quilt has."""
    has = roles_in(quilt)
    return next(role for role in ROLES if role in has)


def picked_words(laid: Laid) -> str:
    """Return the cloth of the first part, with that of its cornerstones; nothing before one is picked."""
    first = first_role(laid.quilt)
    name, corner = laid.order.cloth.get(first, ""), laid.order.cloth.get("cornerstone", "")
    return f"{name}, with {corner} cornerstones" if name and corner and first == "sashing" else name


def roles_in(quilt: Quilt | None) -> set[str]:
    """Return the parts a quilt is made of; before there is one, those of the usual quilt."""
    if quilt is None:
        return {"sashing", "cornerstone", "binding", "backing"}
    cells = [each for cell in quilt.cells for each in (cell, *cell.inside)]
    has = {
        "sashing": quilt.sashing is not None,
        "cornerstone": quilt.sashing is not None and quilt.sashing.cornerstones,
        "border": bool(quilt.borders),
        "binding": quilt.binding is not None,
        "backing": True,
        "frame": any(cell.frame for cell in cells),
        "filler": any(cell.is_filler for cell in cells),
        "sleeve": bool(quilt.finish),
    }
    return {role for role, is_there in has.items() if is_there}


def lost_beside(laid: Laid, pile: Pile) -> tuple[str, ...]:
    """Return the shirts that the chosen strips hardly set off, for the chalk; without strips none."""
    if laid.quilt is not None and laid.quilt.sashing is None:
        return ()
    sashing = laid.chosen.get("sashing")
    look = look_of(sashing) if sashing else None
    rules = (get_lost, are_close, fail_to_match)
    return tuple(sorted({shirt for rule in rules for shirt in rule(pile.palettes, look, "sashing")}))


def is_meager(heaps: Sequence[Heap]) -> bool:
    """Say whether the shelf has nothing to try first, so that a store is to be asked."""
    return not any(heap.title == "Try first" for heap in heaps)


def words_for(role: str, name: str) -> str:
    """Say the choice of a cloth as the move it is."""
    part = ROLES[role].lower()
    return f"{name} for {part}" if name else f"No cloth for {part}"
