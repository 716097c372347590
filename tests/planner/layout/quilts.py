"""Bags and wishes for the tests of mixed layouts, invented by chance from a seed."""

from __future__ import annotations

import random

from planner.layout import Wish
from planner.quilt import Bag, Garment, Piece
from planner.units import INCH, Sides, Size

BODY = Size(19 * INCH, 22 * INCH)
CHEST = Size(10 * INCH, 10 * INCH)
HALF = INCH // 2


def inches(width: int, height: int) -> Size:
    return Size(width * INCH, height * INCH)


def piece(id: str, print_size: Size, *, cloth: Size = BODY, wanted: str = "must", **change: object) -> Piece:
    """A print in the middle of its cloth; the id is the garment's and the side's letter."""
    across, down = (cloth.width - print_size.width) // 2, (cloth.height - print_size.height) // 2
    free = Sides(down, across, down, across)
    kind = "plastisol" if print_size.area else "none"
    side = {"F": "front", "B": "back", "P": "pocket-l"}[id[-1]]
    return Piece(id, id[:-1], side, print_size, free, kind, wanted, **change)


def bag_of(*pieces: Piece) -> Bag:
    garments = {each.garment: Garment(each.garment, "tee", {"cotton": 100}) for each in pieces}
    return Bag(tuple(garments.values()), pieces)


def random_bag(shirts: int, seed: int) -> Bag:
    """Fronts of 8-13 by 8-15 in; a third with a back, two fifths with a small print at the chest."""
    chance = random.Random(1000 * shirts + seed)
    pieces = []
    for number in range(1, shirts + 1):
        size = Size(chance.randint(16, 26) * HALF, chance.randint(16, 30) * HALF)
        pieces.append(piece(f"{number:02d}F", size))
        if chance.random() < 0.35:
            size = Size(chance.randint(18, 28) * HALF, chance.randint(20, 34) * HALF)
            pieces.append(piece(f"{number:02d}B", size, wanted="may"))
        if chance.random() < 0.40:
            size = Size(chance.randint(6, 10) * HALF, chance.randint(6, 10) * HALF)
            pieces.append(piece(f"{number:02d}P", size, cloth=CHEST, wanted="may"))
    return bag_of(*pieces)


def wish_for(width: int, height: int, **change: object) -> Wish:
    """A mixed layout of that many inches; the blocks offered play no part."""
    plain = {"tolerance": 0, "blocks": (inches(1, 1),), "margin": HALF, "style": "mixed"}
    return Wish(inches(width, height), **{**plain, **change})
