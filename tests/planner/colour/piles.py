"""Piles of shirts and shelves of cloth, invented, for the tests of advice.

The first shelf and its piles are those the weights were set on. The second shelf and its three piles
were written down before any score was looked at, and no weight was changed because of them.
"""

from __future__ import annotations

from planner.colour import FabricLook, Palette, Swatch, srgb_to_lab

BUSY = {"solid": 0.05, "mottled": 0.28, "blender": 0.45, "multi": 0.9}


def lab(color):
    """Return the CIELAB of #rrggbb."""
    return tuple(float(each) for each in srgb_to_lab([int(color[at : at + 2], 16) for at in (1, 3, 5)]))


def shirt(ground, *prints):
    """Return a shirt of a ground with prints that cover 8 % of it each."""
    return Palette(
        Swatch(lab(ground), 1 - 0.08 * len(prints)), tuple(Swatch(lab(color), 0.08) for color in prints)
    )


def cloth(kind, *colors, scale=None):
    """Return a cloth whose first color covers all, a half, or its share of many."""
    main = {"solid": 1.0, "mottled": 0.5, "blender": 0.7, "multi": 1 / len(colors)}[kind]
    rest = (1 - main) / max(1, len(colors) - 1)
    palette = Palette(
        Swatch(lab(colors[0]), main if len(colors) > 1 else 1.0),
        tuple(Swatch(lab(color), rest) for color in colors[1:]),
    )
    hues = len(colors) if kind == "multi" else 1
    return FabricLook(palette, palette.ground.lab[0] / 100, BUSY[kind], hues, kind, scale)


def numbered(shirts):
    return {f"{number:02d}": each for number, each in enumerate(shirts, start=1)}


SHELF = {
    "Forest": cloth("mottled", "#234a34", "#3e6b50"),
    "Gold": cloth("mottled", "#e2a71e", "#f0c75a"),
    "Charcoal": cloth("solid", "#4a4a4d"),
    "Navy": cloth("solid", "#1f2a4d"),
    "Maroon": cloth("mottled", "#6b1f2e", "#82404c"),
    "Chalk white": cloth("solid", "#f7f7f2"),
    "Gray sprig": cloth("blender", "#c9cbcd", "#8c9096"),
    "Gray": cloth("solid", "#9a9c9f"),
    "Red": cloth("solid", "#b3202c"),
    "Red clouds": cloth("mottled", "#b3202c", "#8e1a24", "#cf4a4f"),
    "Rainbow": cloth("multi", "#e03030", "#f0a020", "#f0e040", "#30a040", "#3060c0", "#8040a0"),
    "Black": cloth("solid", "#151515"),
    "Royal": cloth("solid", "#2350b0"),
    "Teal": cloth("solid", "#147a7a"),
    "Cream": cloth("solid", "#f1e8d0"),
    "Sky": cloth("mottled", "#9cc3e6", "#7baad6"),
}
REDS = numbered(
    [
        shirt("#a61c28", "#ffffff"), shirt("#c02a33"), shirt("#8e1a24", "#f0c75a"), shirt("#b84040"),
        shirt("#2350b0"), shirt("#ffffff", "#c02a33"), shirt("#808080"), shirt("#1b1b1b"), shirt("#234a34"),
        shirt("#e2a71e"),
    ]
)  # fmt: skip
BLUES = numbered(
    [
        shirt("#1f2a4d"), shirt("#2350b0", "#fff000"), shirt("#6ca0d8"), shirt("#2c5aa0"), shirt("#9cc3e6"),
        shirt("#ffffff", "#2350b0"), shirt("#b0b0b0"), shirt("#1b1b1b"), shirt("#234a34"), shirt("#b3202c"),
        shirt("#e2a71e"), shirt("#147a7a"),
    ]
)  # fmt: skip
DARKS = numbered(
    [
        shirt("#1b1b1b", "#ffffff"), shirt("#202028"), shirt("#1f2a4d"), shirt("#2a1a1f"), shirt("#1d3325"),
        shirt("#3a3a3a"), shirt("#441520", "#e2a71e"), shirt("#18202e"),
    ]
)  # fmt: skip

OTHER_SHELF = {
    "Anthracite": cloth("solid", "#383b40"),
    "Berry": cloth("solid", "#8c1c4a"),
    "Bottle green": cloth("solid", "#0f4d3a"),
    "Bottle green clouds": cloth("mottled", "#0f4d3a", "#1d6b53", "#0a3a2c"),
    "Brick": cloth("solid", "#9c3b2a"),
    "Brick clouds": cloth("mottled", "#9c3b2a", "#b4553f", "#822d20"),
    "Carnival": cloth("multi", "#d81e5b", "#f2b705", "#2a9d8f", "#3d348b", "#f18701", "#ffffff"),
    "Confetti": cloth("multi", "#ffffff", "#d81e5b", "#2a9d8f", "#f2b705"),
    "Dove": cloth("solid", "#b7b5b0"),
    "Ink": cloth("solid", "#161922"),
    "Lime": cloth("solid", "#a6e22e"),
    "Linen": cloth("solid", "#e9e0cd"),
    "Midnight": cloth("mottled", "#1a2547", "#26345f"),
    "Mustard": cloth("mottled", "#c9951a", "#dbb04a"),
    "Ocean": cloth("solid", "#1b4f8f"),
    "Ocean clouds": cloth("mottled", "#1b4f8f", "#2f66a8", "#143c6e"),
    "Pebble print": cloth("blender", "#d4d2cc", "#a19d95"),
    "Petal": cloth("blender", "#f0c9d2", "#d98ba0"),
    "Plum": cloth("solid", "#4d2a5a"),
    "Scarlet": cloth("solid", "#d0202a"),
    "Slate": cloth("solid", "#6b727b"),
    "Snow": cloth("solid", "#fbfbf9"),
    "Tangerine": cloth("solid", "#f07a1a"),
    "Turquoise dots": cloth("blender", "#2aa5a0", "#e8f4f2"),
}
A_SWIM_TEAM = numbered(
    [
        shirt("#1d4f91", "#ffffff"), shirt("#245a9e"), shirt("#16407a", "#f2b705"), shirt("#3a6fb0"),
        shirt("#1d4f91"), shirt("#ffffff", "#1d4f91"), shirt("#ffffff", "#1d4f91", "#f2b705"),
        shirt("#9ea2a6", "#1d4f91"), shirt("#f2b705", "#16407a"), shirt("#d0202a"),
        shirt("#2b2b2e", "#ffffff"), shirt("#7fb2dd"), shirt("#0f4d3a"),
    ]
)  # fmt: skip
A_FESTIVAL_GOER = numbered(
    [
        shirt("#141414", "#d0202a"), shirt("#1a1a1c", "#ffffff"), shirt("#101014"),
        shirt("#222024", "#a6e22e"), shirt("#2d2a2e"), shirt("#3a1220"), shirt("#1c2440", "#e9e0cd"),
        shirt("#16161a", "#f07a1a"), shirt("#26301f"),
    ]
)  # fmt: skip
A_CHILDHOOD = numbered(
    [
        shirt("#f6d5dd", "#d81e5b"), shirt("#ffffff", "#f2b705"), shirt("#bfe0d6"), shirt("#a83c2c"),
        shirt("#9a3f2e", "#ffffff"), shirt("#b24a36"), shirt("#8d3526"), shirt("#f3e7b8"),
        shirt("#c9c7e8", "#4d2a5a"), shirt("#cfe3f5"), shirt("#8c8f94"),
        shirt("#5a8f4d"), shirt("#e9b7c4"), shirt("#ffffff", "#9c3b2a"),
    ]
)  # fmt: skip
