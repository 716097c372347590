"""What can be tapped about a shirt, in the maker's words."""

from __future__ import annotations

from orders.bag.kinds import BY_KIND
from orders.bag.panels import PANELS

FEELS = [
    ("plastisol", "Rubbery"), ("vinyl", "Smooth film"), ("foil", "Shiny"),
    ("puff", "Raised"), ("none", "Nothing"), ("unknown", "Not felt yet"),
]  # fmt: skip
ALL_FEELS = [
    *FEELS[:4], ("glitter", "Glitter or stones"), ("sublimation", "In the cloth, no feel"),
    ("flock", "Velvety"), ("soft", "Thin and soft"), ("transfer", "Cracked iron-on"),
    ("paint", "Hard paint"), ("embroidery", "Embroidered"), ("twill", "Sewn-on letters"),
    ("none", "No print"), ("unknown", "Not felt yet"),
]  # fmt: skip
FLAGS = [
    ("fleece", "Fleece"), ("zip", "Zip"), ("bleeds", "Dye runs"), ("scent", "Scent is kept"),
    ("smoke", "Smoke"), ("soiled", "Soiled"), ("mould", "Mold"), ("snaps", "Snaps, buttons"),
    ("infant", "Infant clothes"),
    ("flame-resistant", "Sold as flame-resistant"),
]  # fmt: skip
WASHES = [
    ("ready", "Washed, ready"), ("wash", "Wash it"), ("twice", "Wash it twice"), ("apart", "Wash it apart"),
    ("professional", "To a professional cleaner"), ("never", "Never wash it"),
]  # fmt: skip
SIDES = [(panel.word, panel.label) for panel in PANELS]
KINDS = tuple(word for word in BY_KIND if word not in ("other", "garment"))
