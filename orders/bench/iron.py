"""Where the hand of an iron with dots is drawn on its dial, and the limit beside it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from planner.care import Setting, Tool, setting

IRON = Tool("iron")
FIRST, APART = 70.0, 170.0
SHORT_BY = 26.0


@dataclass(frozen=True)
class Dial:
    """`turn` is the number of dots to turn to, 0 for none; `hand` and `limit` are places on the dial."""

    turn: int
    hand: float
    limit: float
    short: bool = False


def dial(limit: int, tool: Tool = IRON) -> Dial:
    """Return where the hand goes so that the iron stays at or below the limit in °F."""
    found = setting(tool, limit)
    line = round(_place(limit, tool), 1)
    if not isinstance(found, Setting):
        return Dial(0, 24.0, line)
    hand = FIRST + APART * (found.dots - 1)
    return Dial(found.dots, min(hand - SHORT_BY, line) if found.short else hand, line, found.short)


def _place(heat: int, tool: Tool) -> float:
    dots = [(hot, FIRST + APART * number) for number, hot in enumerate(tool.real_dots())]
    places = [(0, 20.0), *dots, (dots[-1][0] + 108, 460.0)]
    (cool, left), (hot, right) = next((a, b) for a, b in pairwise(places) if heat <= b[0] or b == places[-1])
    return left + (right - left) * min(heat - cool, hot - cool) / (hot - cool)
