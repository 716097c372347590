"""How a cloth is cut, drawn to scale in black and white: numbered strips, their pieces, what is left."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from string import ascii_uppercase
from zlib import crc32

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders.templatetags.shop import fractions
from planner.materials import Cloth, Column, CutPlan, Strip
from planner.units import INCH, show_length

UNIT = INCH // 8  # one unit of the picture
MARGIN = 88
GAP = 72
TOO_SMALL_FOR_A_LETTER = 10
REST_SHOWN = 8 * INCH
LINE = 24  # from one label down to the next


@dataclass(frozen=True)
class Marked:
    """A letter of the picture: how many of what, how large, all in all."""

    letter: str
    name: str
    across: int
    along: int
    count: int


@dataclass(frozen=True)
class Sheet:
    """The cutting picture of one cloth with the key to its letters; sizes in ticks."""

    cloth: str
    picture: SafeString
    marks: tuple[Marked, ...]
    leftovers: tuple[tuple[int, int], ...]

    @property
    def strips(self) -> int:
        return self.picture.count('class="strip"')


def sheet_of(cloth: Cloth, plan: CutPlan, *, unit: str) -> Sheet:
    """Draw a plan on the pieces it is cut from, each as wide as it is and as long as it is cut."""
    marks = _marks(plan)
    left = tuple((size.width, size.height) for size in plan.leftovers)
    return Sheet(cloth.id, _picture(cloth, plan, marks, unit), marks, left)


def _marks(plan: CutPlan) -> tuple[Marked, ...]:
    found: dict[tuple[str, int, int], int] = {}
    for strip in plan.strips:
        for column in strip.columns:
            key = (column.item, column.across, column.along)
            found[key] = found.get(key, 0) + column.count
    return tuple(
        Marked(_letter(number), name, across, along, count)
        for number, ((name, across, along), count) in enumerate(found.items())
    )


def _letter(number: int) -> str:
    """A, B … Z, then A1, B1 …"""
    again, at = divmod(number, len(ascii_uppercase))
    return ascii_uppercase[at] + (str(again) if again else "")


def _picture(cloth: Cloth, plan: CutPlan, marks: Iterable[Marked], unit: str) -> SafeString:
    letters = {(each.name, each.across, each.along): each.letter for each in marks}
    left_over = f"left-over-{crc32(cloth.id.encode())}"  # more than one cloth on a page
    drawn, top, number = [], 36, 0
    widest = 0
    for source in dict.fromkeys(strip.source for strip in plan.strips):
        strips = [strip for strip in plan.strips if strip.source == source]
        width = cloth.usable if source is None else min(cloth.on_hand[source].width, cloth.usable)
        whole = cloth.gives(plan.buy) if source is None else cloth.on_hand[source].height
        end = max(strip.at + strip.height for strip in strips)
        length = min(whole, end + REST_SHOWN) if whole > end else end
        drawn.append(_piece(source, (width, length, whole), top, unit).replace("#left-over", f"#{left_over}"))
        said = float(top - LINE)
        for alike in _runs(strips):
            drawn += [_strip(strip, (width, top), letters) for strip in alike]
            label, said = _label(alike, number, (width, top), unit, above=said)
            drawn.append(label)
            number += len(alike)
        widest = max(widest, _u(width))
        top = max(top + _u(length), round(said)) + GAP
    words = f"How {cloth.id} is cut: {number} strips, numbered in the order they are cut"
    return mark_safe(
        f'<svg class="cutting-picture" font-family="Atkinson, sans-serif" '
        f'viewBox="0 0 {widest + MARGIN + 160} {top}" role="img" '
        f'aria-label="{escape(words)}"><defs><pattern id="{left_over}" width="10" height="10" '
        f'patternUnits="userSpaceOnUse"><path d="M0 10L10 0" stroke="#8a8a8a"/></pattern></defs>'
        f"{''.join(drawn)}</svg>"
    )


def _piece(source: int | None, sides: tuple[int, int, int], top: int, unit: str) -> str:
    width, length, whole = sides
    what = "what is bought" if source is None else f"piece {source + 1}"
    words = f"{what}, {_say(width, unit)} wide, {_say(whole, unit)} long"
    torn = (
        ""
        if whole <= length
        else f'<path d="{_torn(_u(width), top + _u(length))}" fill="#fff" stroke="#000"/>'
    )
    return (
        f'<text x="{MARGIN}" y="{top - 10}" font-size="20">{escape(words)}</text>'
        f'<rect x="{MARGIN}" y="{top}" width="{_u(width)}" height="{_u(length)}" fill="url(#left-over)" '
        f'stroke="#000" stroke-width="2"/>{torn}'
    )


def _torn(width: int, y: int) -> str:
    """A torn edge: the piece goes on beyond the picture."""
    teeth = "".join(f"l8 {-8 if at % 2 else 8}" for at in range(width // 8))
    return f"M{MARGIN} {y}{teeth}V{y + 10}H{MARGIN}z"


def _runs(strips: Iterable[Strip]) -> list[list[Strip]]:
    """Strips one after the other that are cut alike."""
    return [
        list(alike)
        for _, alike in groupby(strips, lambda strip: (strip.height, strip.columns, strip.lengthwise))
    ]


def _strip(strip: Strip, place: tuple[int, int], letters: dict[tuple[str, int, int], str]) -> str:
    width, top = place
    y, x = top + _u(strip.at), MARGIN
    parts = [
        f'<rect class="strip" x="{x}" y="{y}" width="{_u(width)}" height="{max(1, _u(strip.height))}" '
        'fill="none" stroke="#000" stroke-width="2.5"/>'
    ]
    for column in strip.columns:
        parts += _column(column, x, y, letters[column.item, column.across, column.along])
        x += _u(column.across)
    return "".join(parts)


def _label(
    alike: list[Strip], before: int, place: tuple[int, int], unit: str, *, above: float
) -> tuple[str, float]:
    """The numbers of strips that are cut alike, on the left; how many and how high, on the right.

    Thin strips lie closer than their words: these go down below the words `above`, with a line to the strip.
    """
    width, top = place
    first, last = alike[0], alike[-1]
    middle = top + _u(first.at) + _u(last.at + last.height - first.at) / 2
    at, right = max(middle, above + LINE), MARGIN + _u(width)
    numbers = f"{before + 1}" if len(alike) == 1 else f"{before + 1}–{before + len(alike)}"
    count = "" if len(alike) == 1 else f"{len(alike)} × "
    along = ", along the cloth" if first.lengthwise else ""
    return (
        f'<path d="M{MARGIN - 12} {at:.0f}L{MARGIN} {middle:.0f}M{right} {middle:.0f}L{right + 14} {at:.0f}" '
        f'fill="none" stroke="#000"/>'
        f'<rect x="{MARGIN - 78}" y="{at - 11:.0f}" width="66" height="22" rx="5"/>'
        f'<text x="{MARGIN - 45}" y="{at + 7:.0f}" font-size="20" font-weight="700" '
        f'fill="#fff" text-anchor="middle">{numbers}</text>'
        f'<text x="{right + 18}" y="{at + 7:.0f}" font-size="20">'
        f"{count}{escape(_say(first.height, unit))}{along}</text>"
    ), at


def _column(column: Column, x: int, y: int, letter: str) -> list[str]:
    wide, high = _u(column.across), _u(column.along)
    found = []
    for number in range(column.count):
        at = y + number * high
        found.append(f'<rect x="{x}" y="{at}" width="{wide}" height="{high}" fill="#fff" stroke="#000"/>')
        if min(wide, high) >= TOO_SMALL_FOR_A_LETTER:
            size = min(22, high - 2, wide)
            found.append(
                f'<text x="{x + wide / 2:.0f}" y="{at + high / 2 + size / 3:.0f}" font-size="{size}" '
                f'text-anchor="middle">{letter}</text>'
            )
    return found


def _say(ticks: int, unit: str) -> str:
    return fractions(show_length(ticks, unit=unit, rounding="nearest").removeprefix("about "))


def _u(ticks: int) -> int:
    return round(ticks / UNIT)
