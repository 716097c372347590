"""What a garment is, as data: the panels it gives, what it usually is, its extra minutes, its cautions.

Extra minutes are those of rough-cutting a panel beyond a tee’s seven: middles of trade handbook 2
(dress shirt 12-20, tie 15-25, jeans leg 20-30; common practice there), the rest our own judgment.
What a kind says of fibers is the usual (common practice), and is mixed with doubt until a label is read.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from orders.bag.panels import BY_WORD, Usual, plain, printed


@dataclass(frozen=True)
class Kind:
    """One row. `front` and `back` are the panels kept when that is tapped; `also` are other words for it."""

    word: str
    label: str
    panels: tuple[str, ...]
    front: tuple[str, ...] = ("front",)
    back: tuple[str, ...] = ("back",)
    fibres: Mapping[str, str] = field(default_factory=dict)
    knit: bool = True
    stretch: str = "medium"
    thickness: str = "medium"
    minutes: int = 0
    flags: tuple[str, ...] = ()
    has_pockets: bool = False
    cautions: tuple[str, ...] = ()
    usual: Mapping[str, Usual] = field(default_factory=dict)
    also: tuple[str, ...] = ()

    def sides(self, keep: str) -> tuple[str, ...]:
        """Return the panels kept when `front`, `back` or `both` is tapped, each once."""
        kept = {"front": self.front, "back": self.back, "both": self.front + self.back}[keep]
        return tuple(dict.fromkeys(kept))

    def size_of(self, side: str) -> Usual:
        """Return the usual size of one of its panels; that of a tee’s front for a word nobody knows."""
        known = BY_WORD.get(side) or BY_WORD["front"]
        return self.usual.get(side, known.usual)


TEE = ("front", "back", "sleeve-l", "sleeve-r", "pocket")
SHIRT = ("left-front", "right-front", "back", "sleeve-l", "sleeve-r", "pocket", "collar", "cuff-l", "cuff-r")
_PLAIN_BACK = {"back": plain(16, 18), "sleeve-l": plain(8, 14), "sleeve-r": plain(8, 14)}
_BABY, _SMALL = printed(5, 5, 1, 1.25, 2, 1.25), printed(1, 1, 0.5, 0.5, 1, 0.5)
_SHED = "Buttons, tags and what was in the pockets go back to her in an envelope."

KINDS = (
    Kind("tee", "Cotton tee", TEE, fibres={"cotton": "100"},
         also=("long-sleeve tee", "youth tee", "fitted tee", "tank", "polo")),
    Kind("sport tee", "Sport tee", TEE, fibres={"polyester": "100"}, stretch="high",
         cautions=("Polyester: its dye starts to move near 265 °F. Low and short, paper above and below.",),
         also=("jersey", "performance tee", "singlet")),
    Kind("sweatshirt", "Sweatshirt", (*TEE, "hood"), fibres={"cotton": "80", "polyester": "20"},
         stretch="low", thickness="thick", has_pockets=True,
         cautions=("Thick: not beside another thick one, not in a corner, not on the same sashing cross.",),
         also=("hoodie", "fleece", "sweater")),
    Kind("dress shirt", "Dress shirt", SHIRT, front=("left-front",), knit=False, stretch="none",
         fibres={"cotton": "60", "polyester": "40"}, thickness="thin", minutes=9, has_pockets=True,
         cautions=(_SHED,), usual=_PLAIN_BACK,
         also=("flannel shirt", "blouse", "button-down")),
    Kind("tie", "Tie", ("blade", "tail"), front=("blade",), back=("tail",), knit=False, stretch="low",
         thickness="thin", minutes=13,
         cautions=("Open the back seam and take the lining out first. Often silk: dry heat, no steam,"
                   " and try it on the tail.",),
         also=("necktie", "bow tie")),
    Kind("jeans", "Jeans", ("leg-l", "leg-r", "back-pocket-l", "back-pocket-r"), front=("leg-l", "leg-r"),
         back=("back-pocket-l", "back-pocket-r"), fibres={"cotton": "100"}, knit=False, stretch="low",
         thickness="thick", minutes=18, has_pockets=True,
         cautions=("Rivets and zips nick blades and break needles: cut round them. Eye protection is wise.",),
         also=("denim", "trousers", "overalls")),
    Kind("dress", "Dress", ("front", "back", "skirt", "sleeve-l", "sleeve-r"), back=("skirt",), knit=False,
         stretch="low", minutes=8, has_pockets=True,
         cautions=("Look for lining, boning and a hidden zip before the blade. Tulle and gauze ignite"
                   " readily: keep them from flame.",),
         usual={"front": plain(12, 14), "back": plain(12, 14)}),
    Kind("one-piece", "One-piece", TEE, fibres={"cotton": "100"}, flags=("infant", "snaps"),
         usual=dict.fromkeys(("front", "back"), _BABY) | dict.fromkeys(TEE[2:], _SMALL),
         also=("baby one-piece", "sleeper", "romper", "bib")),
    Kind("uniform", "Uniform", (*SHIRT, "leg-l", "leg-r"), front=("left-front", "pocket"), knit=False,
         stretch="none", minutes=6, has_pockets=True, usual=_PLAIN_BACK,
         cautions=("Ask before a badge, name strip or rank is cut or taken off: some are kept whole, some go"
                   " back to the service. Metal pins come out first.",),
         also=("scrubs", "work shirt")),
    Kind("robe", "Robe", ("left-front", "right-front", "back", "sleeve-l", "sleeve-r", "pocket"),
         front=("left-front",), fibres={"cotton": "100"}, knit=False, stretch="low", thickness="thick",
         minutes=5, has_pockets=True,
         cautions=("Terry sheds: vacuum the bobbin area, and mind the dust. One block of it at most.",),
         usual={"left-front": plain(8, 20), "right-front": plain(8, 20), "back": plain(16, 20)},
         also=("bathrobe",)),
    Kind("scarf", "Scarf", ("whole",), front=("whole",), back=("whole",), stretch="high", thickness="thin",
         minutes=3,
         cautions=("Fine or loose: stay-stitch or fuse it before it is cut. Silk and wool: low and dry.",),
         also=("shawl", "bandana")),
    Kind("hat", "Hat", ("front", "back"), minutes=8,
         cautions=("The brim’s stiffener breaks needles and does not press flat: keep the front only.",),
         usual=dict.fromkeys(("front", "back"), printed(4, 2, 0.5, 0.5, 0.5, 0.5)), also=("cap",)),
    Kind("other", "Something else", tuple(BY_WORD), stretch="high", has_pockets=True, also=("garment",)),
)  # fmt: skip
BY_KIND = {word: kind for kind in KINDS for word in (kind.word, *kind.also)}


def kind_of(word: str) -> Kind:
    """Return the row of a word; what nobody has heard of is the last one, treated with the most care."""
    return BY_KIND.get(word.strip().lower(), KINDS[-1])


def words_for_planning(word: str) -> frozenset[str]:
    """Return the words by which minutes and prices may count such a garment beside its own."""
    row = kind_of(word).word
    return frozenset() if row in (word, "other") else frozenset({row})


def extra_minutes() -> tuple[tuple[str, int], ...]:
    """Return how many minutes longer than a tee’s a panel of each kind takes to cut, where it does."""
    return tuple((kind.word, kind.minutes) for kind in KINDS if kind.minutes)
