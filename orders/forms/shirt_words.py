"""What can be tapped about a shirt, in the maker's words."""

from __future__ import annotations

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
SIDES = [
    ("front", "Front"), ("back", "Back"), ("sleeve-l", "Left sleeve"), ("sleeve-r", "Right sleeve"),
    ("pocket", "Pocket"),
]  # fmt: skip
KINDS = (
    "tee", "long-sleeve tee", "sport tee", "jersey", "sweatshirt", "hoodie", "polo", "dress shirt",
    "flannel shirt", "tank", "one-piece", "sweater", "denim", "tie", "scarf",
)  # fmt: skip
