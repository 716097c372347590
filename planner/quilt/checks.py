"""Checks that every record of a quilt makes in the same words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from planner.problems import BadInput


def one_of(name: str, value: str, allowed: tuple[str, ...]) -> None:
    """Refuse a word that is not one of those allowed."""
    if value not in allowed:
        raise BadInput(name, f"“{value}” is not one of {', '.join(allowed)}.")


def named(name: str, value: str) -> None:
    """Refuse an empty word."""
    if not isinstance(value, str) or not value.strip():
        raise BadInput(name, "must not be empty.")


def once_each(name: str, ids: Iterable[str]) -> None:
    """Refuse an id that stands there twice."""
    twice = sorted(each for each, count in Counter(ids).items() if count > 1)
    if twice:
        raise BadInput(name, f"“{twice[0]}” stands there twice; every id may be used once.")
