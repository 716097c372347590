"""What lies in the demo’s bags: invented prints of invented places, how they look, what they are of."""

from __future__ import annotations

from typing import Any

COTTON, HALF, POLY, FLEECE = (
    {"cotton": "100"},
    {"cotton": "50", "polyester": "50"},
    {"polyester": "100"},
    {"cotton": "80", "polyester": "20"},
)


def tee(
    ground: str,
    motif: str | None = None,
    *words: str,
    colors: tuple[str, ...] = ("#F4EDDC", "#D9A441"),
    feel: str = "plastisol",
    wide: int = 11,
    tall: int = 12,
    number: str = "",
    **more: Any,
) -> dict[str, Any]:
    """Say what one shirt looks like and is; `wide` and `tall` are the print in inches."""
    look = {
        "ground": ground,
        "motif": motif,
        "words": list(words),
        "colors": list(colors),
        "number": number,
        "print_wide": wide,
        "print_tall": tall,
        "kind": more.pop("kind", "tee"),
        "side": more.get("side", "front"),
        "ground_on": more.pop("on", "mat"),
        "cloth": more.pop("cloth", "plain"),
        "beside": more.pop("beside", ""),
    }
    return {"look": look, "feel": feel, **more}


THE_CREW = [
    tee("#274060", "compass", "PEBBLE WEIR", colors=("#F4EDDC", "#C65B3F"), on="bed"),
    tee("#C88A2C", "sun", "DEPOT", colors=("#F6E7C3", "#A8402F"), on="bed"),
    tee("#7A2E35", None, number="7", colors=("#F4EDDC",), on="bed"),
    tee("#EFE7D8", "lighthouse", colors=("#A8402F", "#274060"), on="bed"),
    tee("#8FB08C", "acorn", "NETTLE STOP", colors=("#24345B", "#F4EDDC"), on="bed"),
    tee("#23283A", "moon", "NIGHT LINE", colors=("#D9A441", "#F4EDDC"), on="bed"),
]
THE_CLUB = [
    tee("#C65B3F", "mountains", "QUARRY GAP", colors=("#F4EDDC", "#23283A"), fibres=POLY, stretch="high"),
    tee("#20707A", "waves", "SPRING RUN", colors=("#F4EDDC", "#D9A441"), fibres=POLY, stretch="high"),
    tee("#1F2A4D", None, number="24", colors=("#D9A441",), feel="vinyl", fibres=POLY, stretch="high"),
    tee("#4A4A4D", "bicycle", "RIDE AND RUN", colors=("#E2A71E", "#F4EDDC")),
    tee("#E2A71E", None, "QUARRY GAP", "TEN MILES", colors=("#23283A",)),
    tee("#234A34", "bird", "CLUB", colors=("#F4EDDC", "#E2A71E")),
]
THE_GRADUATE = [
    tee("#234A34", "fern", "FERNCLIFF", "STAGE CREW", colors=("#E2A71E", "#F4EDDC"), tall=13),
    tee("#E9E4D8", "bicycle", "FERNCLIFF", "5K", colors=("#234A34", "#C65B3F"), wide=10),
    tee("#F7F7F2", "sun", colors=("#E2A71E", "#20707A"), wide=12, tall=11, flags=["white"]),
    tee("#2F4373", "anchor", colors=("#F4EDDC", "#C88A2C"), tall=14),
    tee(
        "#B4553B",
        "compass",
        "TRAIL CREW",
        "SEVEN BRIDGES",
        colors=("#F4EDDC", "#E2A71E"),
        fibres=HALF,
        wide=12,
        tall=14,
        side="back",
    ),
    tee("#D9A441", "tent", "CAMP NETTLE", colors=("#234A34",), fibres=HALF, wide=12, tall=13),
    tee(
        "#8FB7D6",
        "kite",
        colors=("#F4EDDC", "#C65B3F"),
        kind="youth tee",
        wide=9,
        tall=11,
        free=(0.75, 2.75, 0.75, 2.75),
    ),
    tee(
        "#A9B7A0",
        "bird",
        "HILL CLUB",
        colors=("#23283A",),
        fibres={"polyester": "50", "cotton": "25", "rayon": "25"},
        stretch="high",
        thickness="thin",
        cloth="heather",
        wide=10,
        tall=10,
    ),
    tee("#6B1F2E", None, "CAPTAIN", number="12", colors=("#F4EDDC",), feel="vinyl", wide=9),
    tee(
        "#565A60",
        "oars",
        "FERNCLIFF",
        "ROWING",
        colors=("#E2A71E",),
        kind="sweatshirt",
        fibres=FLEECE,
        stretch="low",
        thickness="thick",
        flags=["fleece"],
        heavy=True,
        wide=12,
        tall=9,
    ),
    tee(
        "#D98880",
        "bird",
        colors=("#7A2E45",),
        kind="fitted tee",
        fibres={"cotton": "95", "spandex": "5"},
        stretch="very high",
        wide=8,
        tall=8,
        free=(2, 2.25, 4, 2.25),
    ),
    tee("#20707A", "lighthouse", colors=("#F4EDDC", "#E2A71E"), wide=12, tall=15),
]
THE_SWIMMER = [
    tee(
        "#1F5A85",
        "fish",
        "HARROW BAY",
        colors=("#F4EDDC", "#D9A441"),
        fibres=POLY,
        stretch="high",
        wide=13,
        tall=10,
        on="floor",
    ),
    tee("#C65B3F", "sun", "LANE FOUR", colors=("#F6E7C3", "#23283A"), wide=10, tall=10, on="floor"),
    tee("#20707A", None, number="24", colors=("#F4EDDC",), feel="vinyl", wide=9, tall=12, on="floor"),
    tee("#23283A", "anchor", "HARBOR SWIM", colors=("#F4EDDC",), wide=10, tall=14, on="floor"),
    tee("#E2A71E", None, "HARROW BAY", number="7", colors=("#1F2A4D",), wide=8, tall=10, on="floor"),
    tee("#8FB7D6", "whale", colors=("#1F2A4D", "#F4EDDC"), wide=13, tall=9, on="floor"),
    tee("#F1EDE2", "waves", "EVERY MORNING", colors=("#1F5A85",), wide=14, tall=11, on="floor"),
    tee("#4A7A6A", "boat", colors=("#F4EDDC", "#C65B3F"), wide=12, tall=13, on="floor"),
    tee("#6B1F2E", "key", "TEAM KEY", colors=("#E2A71E",), wide=8, tall=9, on="floor"),
]
FROM_GRANDPA = [
    tee("#B4553B", "acorn", "HARROW WOOD", colors=("#F6E7C3", "#23283A")),
    tee("#C9B88A", "bicycle", colors=("#7A2E35",)),
    tee("#234A34", "fern", colors=("#A9C79A",)),
    tee("#3A2A3F", "moon", "CAMP", colors=("#E2A71E", "#F4EDDC")),
    tee("#2F4373", "mountains", "TWO PEAKS", colors=("#F4EDDC", "#8FB7D6")),
    tee("#A8402F", "compass", colors=("#F4EDDC",)),
]
THE_BAND = [
    tee("#24345B", "drum", "HARROW BAY", "BAND", colors=("#E2A71E", "#F4EDDC"), on="bed"),
    tee("#E2A71E", "drum", colors=("#24345B",), on="bed"),
    tee("#F4EDDC", "bird", "SPRING CONCERT", colors=("#A8402F",), on="bed"),
    tee("#6B1F2E", None, number="20", colors=("#F4EDDC",), feel="vinyl", on="bed"),
]
FIRST_YEAR = [
    tee(
        "#F4C9BE",
        "whale",
        colors=("#1F5A85", "#F4EDDC"),
        kind="one-piece",
        wide=5,
        tall=5,
        free=(1, 1.25, 2, 1.25),
        flags=["infant", "snaps"],
    ),
    tee(
        "#CFE0D2",
        "kite",
        colors=("#C65B3F",),
        kind="one-piece",
        wide=5,
        tall=5,
        free=(1, 1.25, 2, 1.25),
        flags=["infant", "snaps"],
    ),
    tee(
        "#F3E3B3",
        "sun",
        colors=("#C88A2C",),
        kind="one-piece",
        wide=5,
        tall=5,
        free=(1, 1.25, 2, 1.25),
        flags=["infant"],
    ),
    tee(
        "#C9D9EA",
        "boat",
        colors=("#2F4373",),
        kind="one-piece",
        wide=5,
        tall=5,
        free=(1, 1.25, 2, 1.25),
        flags=["infant"],
    ),
]


def _dress_shirt(ground: str, cloth: str, **more: Any) -> dict[str, Any]:
    plain: dict[str, Any] = {"knit": False, "stretch": "none", "feel": "none", "wide": 0, "tall": 0}
    plain |= {"free": (8, 8, 8, 8)}
    return tee(ground, kind="dress shirt", cloth=cloth, on="bed", **(plain | more))


HIS_FATHER = [
    _dress_shirt("#B9C7D8", "stripe"),
    _dress_shirt("#8C7B62", "check"),
    _dress_shirt("#5B6F86", "check", flaws="a pen mark at the pocket: keep the mark"),
    _dress_shirt("#E6E1D4", "stripe", wash="never", flags=["scent"]),
]
A_SISTER = [
    tee("#C65B3F", "cup", "TOLLGATE LANE", colors=("#F4EDDC", "#23283A"), on="floor", beside="letter"),
    tee(
        "#2F4373",
        "whale",
        "SUMMER SCHOOL",
        colors=("#8FB7D6", "#F4EDDC"),
        on="floor",
        wide=13,
        tall=15,
        beside="letter",
    ),
    tee("#E2A71E", "mushroom", colors=("#A8402F", "#F4EDDC"), on="floor", wide=10, beside="card"),
    tee("#4A4A4D", None, "FORTY", number="40", colors=("#E2A71E",), feel="foil", on="floor", usual=True),
    tee("#7FA3C7", "mountains", colors=("#F4EDDC", "#24345B"), on="floor"),
    tee("#234A34", "key", "CHOIR", colors=("#F4EDDC",), on="floor"),
]
