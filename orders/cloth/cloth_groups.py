"""The pile of a quilt's shirts by color group, as one would sort it on the table."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from orders.colors.looks import palette_of
from orders.models import Order, Shirt
from orders.planning import shirts_of
from planner.colour import Palette, count_families, lab_to_srgb

IN_WORDS = {"grey": "gray"}
HARD_SPACE = "\N{NO-BREAK SPACE}"


@dataclass(frozen=True)
class Group:
    """One color group: its name, the shirts of it from dark to light, and how many shirts there are."""

    name: str
    shirts: tuple[str, ...]
    colors: tuple[str, ...]
    of: int

    @property
    def count(self) -> int:
        return len(self.shirts)

    @property
    def words(self) -> str:
        """Say how many of the pile it is: `5 of 14`."""
        return f"{self.count} of {self.of}".replace(" ", HARD_SPACE)


@dataclass(frozen=True)
class Pile:
    """The shirts of a quilt with their colors, and those that nobody saw a color of; `here` are all."""

    palettes: Mapping[str, Palette]
    colors: Mapping[str, str]
    without_color: tuple[str, ...]
    here: tuple[Shirt, ...] = ()

    @property
    def groups(self) -> tuple[Group, ...]:
        """The color groups, the largest first."""
        found = count_families(self.palettes)
        return tuple(self._group(name, ids) for name, ids in found.items())

    @property
    def sentence(self) -> str:
        """Say what the pile is made of: `blue 5 of 14`."""
        groups = self.groups
        if not groups:
            return "no color known yet"
        first = [each for each in groups if each.count == groups[0].count]
        if groups[0].count < 2 or len(first) > 2:
            return "many colors, and none leads" if len(groups) > 1 else f"one {groups[0].name.lower()} shirt"
        return " and ".join(f"{each.name.lower()} {each.words}" for each in first)

    def _group(self, name: str, ids: tuple[str, ...]) -> Group:
        dark_first = tuple(sorted(ids, key=lambda id: self.palettes[id].ground.lab[0]))
        colors = tuple(self.colors[id] for id in dark_first)
        return Group(IN_WORDS.get(name, name).capitalize(), dark_first, colors, len(self.palettes))


def pile_of(order: Order) -> Pile:
    """Return the shirts of an order that are here and give a piece to it."""
    here = tuple(shirts_of(order))
    shirts = [shirt for shirt in here if gives_to(shirt, order)]
    seen = {name_of(shirt): palette for shirt in shirts if (palette := palette_of(shirt)) is not None}
    colors = {id: color_of(palette) for id, palette in seen.items()}
    unseen = tuple(name_of(shirt) for shirt in shirts if name_of(shirt) not in seen)
    return Pile(seen, colors, unseen, here)


def gives_to(shirt: Shirt, order: Order) -> bool:
    """Say whether a piece of the shirt may go into the order's quilt."""
    pieces = list(shirt.pieces.all())
    return any(piece.order_id in (None, order.pk) and piece.wanted != "out" for piece in pieces)


def name_of(shirt: Shirt) -> str:
    """Return what a shirt is called within its order: its number as it stands on the tag."""
    return f"{shirt.number:02d}"


def color_of(palette: Palette) -> str:
    """Return the ground of a palette as #rrggbb, for drawing."""
    return hex_of(palette.ground.lab)


def hex_of(lab: tuple[float, float, float]) -> str:
    """Return a CIELAB color (D65) as #rrggbb, the nearest that a screen can show channel by channel."""
    return "#" + "".join(f"{channel:02x}" for channel in lab_to_srgb(lab))
