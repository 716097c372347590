"""What a rule says of every cloth on the shelf, and the words it says it in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from planner.colour.beside import NAVY, Beside, Truth
from planner.colour.convert import Array
from planner.colour.groups import NEUTRALS
from planner.colour.places import Place

NAMED = 3  # shirts are named up to so many; above, they are counted


@dataclass(frozen=True)
class Verdict:
    """Points for every cloth, the words for one of them (none: nothing to say), the shirts they are about."""

    points: Array
    words: Callable[[int], str]
    shirts: Truth | None = None


Rule = Callable[[Beside, Place], Verdict]


@lru_cache(maxsize=64)
def in_words(family: str) -> str:
    """Return a color group as a page says it."""
    return "gray" if family == "grey" else str(family)


def shade_of(table: Beside, cloth: int) -> str:
    """Return what a neutral cloth is called: charcoal, navy and pale gray are names of their own."""
    light, name = float(table.shelf.light[cloth]), table.cloth_family[cloth]
    if name == "grey":
        return "charcoal" if light < 0.5 else "pale gray" if light > 0.8 else "gray"
    if name in NEUTRALS:
        return in_words(str(name))
    return "navy" if name == "blue" and light < NAVY else f"so gray a {in_words(str(name))}"


def some(count: int, kind: str = "") -> str:
    """Return `1 shirt`, `3 white shirts`."""
    return f"{count} {kind}shirt{'' if count == 1 else 's'}"


def out_of(count: int, whole: int) -> str:
    """Return `5 of 14 shirts`, or `all 14 shirts`."""
    if count == whole:
        return f"all {whole} shirts" if whole > 1 else "the one shirt"
    return f"{count} of {whole} shirts"


def named(table: Beside, hit: Truth) -> str:
    """Name the shirts that were hit, or count them when they are many."""
    ids = [id_ for id_, is_hit in zip(table.ids, hit, strict=True) if is_hit]
    if len(ids) > NAMED:
        return out_of(len(ids), len(table.ids))
    *first, last = ids
    return f"{', '.join(first)} and {last}" if first else last


def first_large(words: str) -> str:
    return words[:1].upper() + words[1:]
