"""What a drawn photograph shows, said in plain values; lengths are inches on the table."""

import re
from dataclasses import dataclass
from typing import Any

from orders.demo.letters import SHAPES
from orders.demo.motifs import MOTIFS
from planner.problems import BadInput

KINDS = (
    "tee", "fitted tee", "youth tee", "long sleeve", "sweatshirt", "tank",
    "dress shirt", "one-piece", "robe", "apron",
)  # fmt: skip
SIDES = ("front", "back")
GROUNDS = ("mat", "bed", "floor")
BESIDE = ("", "letter", "card")
CLOTHS = ("plain", "heather", "stripe", "check")
PATTERNS = ("solid", "mottled", "print", "stripe", "confetti")
HEX = re.compile(r"#[0-9A-Fa-f]{6}")
SMALLEST_PRINT, LARGEST_PRINT = 2, 20

Box = tuple[int, int, int, int]


@dataclass(frozen=True, kw_only=True)
class ShirtLook:
    """One garment, one side of it, and where it lies while it is photographed.

    `colors` are the inks of its print, `trim` is the color of collar and cuffs, `thread` the second color of
    a stripe or check: when it is not named, a darker or lighter one than the ground. `beside` is a thing
    of known size that lies on it.
    """

    kind: str = "tee"
    ground: str = "#1F2A4D"
    motif: str | None = None
    colors: tuple[str, ...] = ("#F4EDDC",)
    words: tuple[str, ...] = ()
    number: str = ""
    side: str = "front"
    ground_on: str = "mat"
    cloth: str = "plain"
    thread: str | None = None
    trim: str | None = None
    print_wide: float = 11
    print_tall: float = 12
    beside: str = ""

    def __post_init__(self) -> None:
        among("kind", self.kind, KINDS)
        among("side", self.side, SIDES)
        among("ground_on", self.ground_on, GROUNDS)
        among("cloth", self.cloth, CLOTHS)
        among("beside", self.beside, BESIDE)
        if self.motif is not None:
            among("motif", self.motif, tuple(MOTIFS))
        for text in (*self.words, self.number):
            if not set(text) <= SHAPES.keys():
                raise BadInput("words", f"“{text}” has a sign that we cannot draw: use capitals and digits.")
        for color in (self.ground, *self.colors, self.thread, self.trim):
            if color is not None:
                a_color("colors", color)
        if not self.colors:
            raise BadInput("colors", "A print needs at least one color.")
        if self.is_printed:
            a_print_size("print_wide", self.print_wide)
            a_print_size("print_tall", self.print_tall)

    @property
    def is_printed(self) -> bool:
        return bool(self.motif or self.words or self.number)


@dataclass(frozen=True, kw_only=True)
class SwatchLook:
    """A piece of quilting cotton that fills the picture."""

    ground: str
    pattern: str = "solid"
    accent: str = "#FFFFFF"

    def __post_init__(self) -> None:
        among("pattern", self.pattern, PATTERNS)
        a_color("ground", self.ground)
        a_color("accent", self.accent)


@dataclass(frozen=True)
class Drawn:
    """A picture, and where things are in it in pixels: boxes are left, top, right, bottom.

    `print_box` holds the print, if there is one, `panel_box` the cloth that would be cut for a block,
    `outline` the edge of the garment's body; `inch` is the number of pixels to an inch on the table;
    `known` are the corners of a thing of known size.
    """

    image: Any
    print_box: Box | None
    panel_box: Box
    outline: tuple[tuple[int, int], ...]
    inch: float
    known: tuple[tuple[float, float], ...] = ()


def among(field: str, value: str, allowed: tuple[str, ...]) -> None:
    if value not in allowed:
        raise BadInput(field, f"“{value}” is not one of {', '.join(allowed)}.")


def a_color(field: str, value: str) -> None:
    if not HEX.fullmatch(value):
        raise BadInput(field, f"“{value}” is not a color such as #1F2A4D.")


def a_print_size(field: str, inches: float) -> None:
    if not SMALLEST_PRINT <= inches <= LARGEST_PRINT:
        raise BadInput(field, f"A print is {SMALLEST_PRINT} to {LARGEST_PRINT} inches each way.")
