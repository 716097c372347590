"""The quilt where it will be: on a bed seen from above, or on a wall beside a door, all to one scale.

Mattresses and doors are of the usual sizes (trade handbook 3.9; common practice); the real ones are measured.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from orders.quilt import quilt_picture
from orders.quilt.little_quilt import UNIT
from orders.quilt.quilt_picture import View
from orders.yes.asked_picture import Asked
from planner.quilt import Quilt
from planner.units import INCH, MM, Size, show_length

USUAL_DROP = 12 * INCH
PILLOWS = 18 * INCH  # of a mattress from its head that pillows take
EYES = 58 * INCH  # the middle of what hangs, above the floor
FLOOR_FREE = 6 * INCH
WAYS = {"": "As it is", "gray": "In gray", "bed": "On a bed", "wall": "On a wall"}
_INCHES = (
    ("twin", "twin", 39, 75), ("full", "full", 54, 75), ("queen", "queen", 60, 80), ("king", "king", 76, 80),
)  # fmt: skip
_CENTIMETERS = (
    ("single", "single", 90, 200), ("double", "double", 140, 200), ("queen", "wide", 160, 200),
    ("king", "king", 180, 200),
)  # fmt: skip


@dataclass(frozen=True)
class Scene:
    """A picture of the quilt in its place, and the words that say the same."""

    drawn: SafeString
    words: str


def mattresses(unit: str) -> dict[str, tuple[str, Size]]:
    """Return the usual mattresses by a short word: what each is called, and its size."""
    rows, one = (_INCHES, INCH) if unit == "in" else (_CENTIMETERS, 10 * MM)
    return {word: (name, Size(wide * one, long * one)) for word, name, wide, long in rows}


def usual_mattress(quilt: Quilt, unit: str) -> str:
    """Return the mattress over which the quilt hangs most nearly the usual 12 inches on either side."""
    beds = mattresses(unit)

    def off(word: str) -> int:
        return abs((quilt.size.width - beds[word][1].width) // 2 - USUAL_DROP)

    return min(beds, key=off)


def on_a_bed(quilt: Quilt, view: View, *, bed: str, unit: str) -> Scene:
    """Draw the quilt spread on a bed, seen from above; what hangs over lies flat beyond the dashed edge."""
    beds = mattresses(unit)
    name, mattress = beds.get(bed) or beds[usual_mattress(quilt, unit)]
    side = (quilt.size.width - mattress.width) // 2
    free = mattress.height - quilt.size.height
    top = PILLOWS if free < PILLOWS else free  # a short quilt lies at the foot
    foot = top + quilt.size.height - mattress.height
    words = _bed_words(quilt, (name, mattress), (side, foot), unit)
    room = 8 * INCH
    left = min(0, -side) - room
    wide, high = mattress.width + 2 * (max(0, side) + room), max(mattress.height, top + quilt.size.height)
    bed_drawn = (
        f'<rect class="mattress" {_box(0, 0, mattress.width, mattress.height)} rx="6"/>'
        f"{_pillows(mattress)}{_hung(quilt, view, -side, top)}"
        f'<rect class="under" {_box(0, 0, mattress.width, mattress.height)} rx="6"/>'
    )
    return Scene(_svg((left, -room, wide, high + 2 * room), bed_drawn, words), words)


def _bed_words(quilt: Quilt, bed: tuple[str, Size], over: tuple[int, int], unit: str) -> str:
    (name, mattress), (side, foot) = bed, over
    sides = f"hangs {_length(side, unit)} over at each side" if side > 0 else _short(side, unit)
    end = f"{_length(foot, unit)} over at the foot" if foot > 0 else "ends at the foot"
    of = _length(mattress.width, unit).removesuffix(f" {unit}")
    return (
        f"On a {name} mattress of {of} × {_length(mattress.height, unit)}, below the pillows, "
        f"it {sides} and {end}. Measure the real bed."
    )


def _short(side: int, unit: str) -> str:
    return "just covers the top" if side == 0 else f"leaves {_length(-side, unit)} free at each side"


def _pillows(mattress: Size) -> str:
    count = 1 if mattress.width < 50 * INCH else 2
    each = mattress.width // count
    gap = 2 * INCH
    return "".join(
        f'<rect class="pillow" {_box(number * each + gap, gap, each - 2 * gap, PILLOWS - 2 * gap)} rx="8"/>'
        for number in range(count)
    )


def on_a_wall(quilt: Quilt, view: View, *, unit: str) -> Scene:
    """Draw the quilt on a wall beside a door: its middle as high as the eyes, its edge off the floor."""
    door = Size(32 * INCH, 80 * INCH) if unit == "in" else Size(800 * MM, 2000 * MM)
    bottom = max(FLOOR_FREE, EYES - quilt.size.height // 2)
    wall = max(96 * INCH, bottom + quilt.size.height + 8 * INCH)
    gap, left = 16 * INCH, 12 * INCH
    at = left + door.width + gap
    wide = at + quilt.size.width + gap
    top = wall - bottom - quilt.size.height
    knob = f'cx="{_f((left + door.width) / UNIT - 12)}" cy="{_f((wall - door.height // 2) / UNIT)}"'
    drawn = (
        f'<rect class="door" {_box(left, wall - door.height, door.width, door.height)}/>'
        f'<circle class="knob" {knob} r="5"/>'
        f'<path class="floor" d="M0 {_f(wall / UNIT)}h{_f(wide / UNIT)}"/>{_hung(quilt, view, at, top)}'
    )
    words = (
        f"On a wall, beside a door of {_length(door.height, unit)}: its lower edge hangs "
        f"{_length(bottom, unit)} above the floor."
    )
    return Scene(_svg((0, 0, wide, wall + 6 * INCH), drawn, words), words)


def ways_to_look(asked: Asked, query: Mapping[str, str], *, unit: str, **more: Any) -> dict[str, Any]:
    """Return a picture in the way that was asked for (`as`, `bed`), and the ways there are."""
    way = query.get("as", "") if query.get("as") in WAYS else ""
    beds = mattresses(unit)
    bed = query.get("bed", "") if query.get("bed") in beds else usual_mattress(asked.quilt, unit)
    scene = None
    if way == "bed":
        scene = on_a_bed(asked.quilt, asked.view(**more), bed=bed, unit=unit)
    elif way == "wall":
        scene = on_a_wall(asked.quilt, asked.view(**more), unit=unit)
    return {
        "way": way,
        "ways_to_look": WAYS,
        "scene": scene,
        "picture": "" if scene else asked.drawn(**more),
        "beds": {word: name for word, (name, _) in beds.items()} if way == "bed" else {},
        "bed": bed,
    }


def _hung(quilt: Quilt, view: View, x: int, y: int) -> str:
    return f'<g transform="translate({_f(x / UNIT)} {_f(y / UNIT)})">{quilt_picture.laid(quilt, view)}</g>'


def _svg(box: tuple[int, int, int, int], drawn: str, words: str) -> SafeString:
    frame = " ".join(_f(each / UNIT) for each in box)
    return mark_safe(
        f'<svg class="scene" viewBox="{frame}" role="img" aria-label="{escape(words)}">{drawn}</svg>'
    )


def _box(x: int, y: int, wide: int, high: int) -> str:
    return " ".join(
        f'{name}="{_f(value / UNIT)}"'
        for name, value in zip(("x", "y", "width", "height"), (x, y, wide, high), strict=True)
    )


def _length(ticks: int, unit: str) -> str:
    return show_length(ticks, unit=unit, rounding="nearest").removeprefix("about ")


def _f(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")
