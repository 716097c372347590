"""What the Quilt room shows of cloth: the shelf for one part of the quilt, the pick, what it takes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from orders.cloth_needs import ROLES, needs_of, set_aside_for_others
from orders.drawn import Room, pick_of
from orders.models import Cloth
from planner.care.interfacing import INTERFACINGS

NOT_FOR_TOPS = ("batting", *INTERFACINGS)
FOR_BACKS = ("backing", "plush")


@dataclass(frozen=True)
class Part:
    """A part of the quilt and the cloth chosen for it."""

    role: str
    label: str
    cloth: str
    color: str
    is_open: bool


@dataclass(frozen=True)
class Choice:
    """A cloth of the shelf that may be chosen; `free` is what no other order has spoken for."""

    cloth: Cloth
    free: int
    is_chosen: bool


def shown(room: Room, cloths: list[Cloth], *, role: str) -> dict[str, Any]:
    """Return what the cloth section and the list of materials show."""
    open_role = role if role in ROLES else "sashing"
    chosen = room.order.cloth
    needs = needs_of(room.offer, room.order, cloths) if room.quilt and room.offer else ()
    return {
        "parts": [
            Part(each, label, chosen.get(each, ""), _color(chosen.get(each, ""), cloths), each == open_role)
            for each, label in ROLES.items()
        ],
        "role": open_role,
        "role_label": ROLES[open_role],
        "chosen_cloth": chosen.get(open_role, ""),
        "shelf_by_kind": shelf_by_kind(room, cloths, open_role),
        "pick": pick_of(room),
        "needs": needs,
        "all_set_aside": bool(needs) and all(need.is_set_aside for need in needs),
        "other_backs": room.offer.backing[1:] if room.quilt and room.offer else (),
    }


def words_for(role: str, name: str) -> str:
    """Say the choice of a cloth as the move it is."""
    part = ROLES[role].lower()
    return f"{name} for {part}" if name else f"No cloth for {part}"


def shelf_by_kind(room: Room, cloths: Iterable[Cloth], role: str) -> list[tuple[str, list[Choice]]]:
    """Return the cloth that can serve a part, by kind; backing first where the back is chosen."""
    fit = [cloth for cloth in cloths if cloth.kind not in NOT_FOR_TOPS]
    if role != "backing":
        fit = [cloth for cloth in fit if cloth.kind not in FOR_BACKS]
    ordered = sorted(fit, key=lambda cloth: (cloth.kind not in FOR_BACKS, cloth.kind, cloth.name))
    return [
        (kind, [_choice(room, cloth, role) for cloth in group])
        for kind, group in groupby(ordered, key=lambda cloth: cloth.kind)
    ]


def _choice(room: Room, cloth: Cloth, role: str) -> Choice:
    free = cloth.on_hand - set_aside_for_others(cloth, room.order)
    return Choice(cloth, max(free, 0), room.order.cloth.get(role) == cloth.name)


def _color(name: str, cloths: Iterable[Cloth]) -> str:
    return next((cloth.ground for cloth in cloths if cloth.name == name), "")
