"""All pictures that a drawn print can carry, by name."""

from collections.abc import Callable

from orders.demo import motifs_land as land
from orders.demo import motifs_water as water
from orders.demo.pen import Pen

MOTIFS: dict[str, Callable[[Pen], None]] = {
    "acorn": land.acorn,
    "anchor": water.anchor,
    "bicycle": land.bicycle,
    "bird": water.bird,
    "boat": water.boat,
    "compass": land.compass,
    "cup": land.cup,
    "drum": land.drum,
    "fern": land.fern,
    "fish": water.fish,
    "key": land.key,
    "kite": land.kite,
    "lighthouse": water.lighthouse,
    "moon": land.moon,
    "mountains": land.mountains,
    "mushroom": land.mushroom,
    "oars": water.oars,
    "sun": land.sun,
    "tent": land.tent,
    "waves": water.waves,
    "whale": water.whale,
}
