"""Shirts of one team: their fronts look alike, so they are kept apart in a layout."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from orders.models import Piece


def team_of(piece: Piece) -> str:
    """Return the team of a piece’s shirt as it is compared: case and blanks do not matter; or none."""
    return " ".join(piece.shirt.team.casefold().split())


def teams_of(pieces: Mapping[str, Piece]) -> tuple[tuple[str, ...], ...]:
    """Return the pieces of each team that has more than one, by name."""
    found: dict[str, list[str]] = defaultdict(list)
    for name in sorted(pieces):
        found[team_of(pieces[name])].append(name)
    return tuple(tuple(names) for team, names in sorted(found.items()) if team and len(names) > 1)
