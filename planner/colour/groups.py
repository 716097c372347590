"""The color group that a person would name: a rule table in OKLab (common practice, no source)."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .convert import Array, difference, lab_to_oklab
from .look import Family, Lab, Palette

FAMILIES = (
    "white",
    "grey",
    "black",
    "cream",
    "tan",
    "brown",
    "red",
    "orange",
    "yellow",
    "green",
    "teal",
    "blue",
    "purple",
    "pink",
)
NEUTRALS = ("white", "grey", "black", "cream", "tan")
_AT = {name: place for place, name in enumerate(FAMILIES)}
WHITE_LIGHTNESS = 0.88  # OKLab; of photographs, as cloth that is called gray is darker
GREY_CHROMA = 0.022  # OKLab; below it a person says gray
_FURTHEST = 60.0  # CIELAB units of the longest step looked for an edge in


def family(lab: Lab) -> Family:
    """Name the color group; `margin` is the CIEDE2000 distance to the nearest color of another group."""
    return _family(tuple(float(each) for each in lab))


def family_names(lab: ArrayLike) -> NDArray[np.str_]:
    """Name the color group of many CIELAB colors at once, without their margins."""
    return np.array(FAMILIES)[_places(lab_to_oklab(lab))]


def count_families(palettes: Mapping[str, Palette]) -> Mapping[str, tuple[str, ...]]:
    """Return the ids of each color group by their ground, the largest group first, ids in order."""
    groups: dict[str, list[str]] = {}
    for id_ in sorted(palettes):
        groups.setdefault(family(palettes[id_].ground.lab).name, []).append(id_)
    by_size = sorted(groups, key=lambda name: (-len(groups[name]), _AT[name]))
    return {name: tuple(groups[name]) for name in by_size}


@lru_cache(maxsize=4096)
def _family(lab: Lab) -> Family:
    here = int(_places(lab_to_oklab(lab)))
    other = _on_the_way(lab, _STEPS[:, None]) != here
    met = other.any(axis=0)
    first = other.argmax(axis=0)
    far, near = _STEPS[first], np.where(first > 0, _STEPS[first - 1], 0.0)
    for _ in range(7):
        middle = (near + far) / 2
        inside = _on_the_way(lab, middle) == here
        near, far = np.where(inside, middle, near), np.where(inside, far, middle)
    beyond = _spots(lab, far)
    apart = np.where(met, difference(np.array(lab), beyond), np.inf)
    nearest = int(np.argmin(apart))
    if not met[nearest]:
        return Family(FAMILIES[here], _FURTHEST, FAMILIES[here])
    beside = int(_places(lab_to_oklab(beyond[nearest])))
    return Family(FAMILIES[here], float(apart[nearest]), FAMILIES[beside])


def _ways() -> Array:
    """Return 74 directions all round, lightness included."""
    tilts = np.radians([-55, -18, 18, 55])
    turns = np.radians(np.arange(0, 360, 20))
    tilt, turn = np.meshgrid(tilts, turns, indexing="ij")
    ring = np.stack([np.sin(tilt), np.cos(tilt) * np.cos(turn), np.cos(tilt) * np.sin(turn)], axis=-1)
    return np.concatenate([ring.reshape(-1, 3), [[1.0, 0, 0], [-1.0, 0, 0]]])


_WAYS = _ways()
_STEPS = np.geomspace(1, _FURTHEST, 14)


def _spots(lab: Lab, step: Array) -> Array:
    spots = np.array(lab) + step[..., None] * _WAYS
    spots[..., 0] = np.clip(spots[..., 0], 0.0, 100.0)
    return spots


def _on_the_way(lab: Lab, step: Array) -> NDArray[np.intp]:
    return _places(lab_to_oklab(_spots(lab, step)))


def _places(oklab: ArrayLike) -> NDArray[np.intp]:
    """Return the place in FAMILIES of each OKLab color: the first rule that holds names it."""
    light, a, b = np.moveaxis(np.asarray(oklab, dtype=np.float64), -1, 0)
    chroma, hue = np.hypot(a, b), np.degrees(np.arctan2(b, a)) % 360
    rules = (
        ("black", is_black(light, chroma)),
        ("cream", is_cream(light, chroma, hue)),
        ("white", is_white(light, chroma)),
        ("grey", is_grey(light, chroma)),
        ("tan", is_tan(light, chroma, hue)),
        ("brown", is_brown(light, chroma, hue)),
        ("pink", is_pink(light, chroma, hue)),
        ("red", (hue >= 5) & (hue < 42)),
        ("orange", (hue >= 42) & (hue < 79)),
        ("green", is_green(light, hue)),
        ("yellow", (hue >= 79) & (hue < 112)),
        ("blue", is_blue(light, chroma, hue)),
        ("teal", (hue >= 168) & (hue < 222)),
        ("purple", (hue >= 284) & (hue < 335)),
    )
    return np.select([holds for _, holds in rules], [_AT[name] for name, _ in rules], _AT["red"])


Truth = NDArray[np.bool_]


def is_black(light: Array, chroma: Array) -> Truth:
    return (light < 0.20) | ((light < 0.34) & (chroma < 0.035))


def is_white(light: Array, chroma: Array) -> Truth:
    return (light > WHITE_LIGHTNESS) & (chroma < 0.034)


def is_grey(light: Array, chroma: Array) -> Truth:
    """Say whether it is gray; the tint of what is nearly black is seen less."""
    return chroma < GREY_CHROMA + 0.02 * np.maximum(0.40 - light, 0)


def is_cream(light: Array, chroma: Array, hue: Array) -> Truth:
    return (hue >= 45) & (hue < 115) & (light > 0.84) & (chroma > 0.016) & (chroma < 0.09)


def is_tan(light: Array, chroma: Array, hue: Array) -> Truth:
    return (hue >= 45) & (hue < 112) & (light > 0.60) & (chroma < 0.105)


def is_brown(light: Array, chroma: Array, hue: Array) -> Truth:
    """Say whether it is brown: a dark orange, or a dark red or yellow of little chroma."""
    orange = (hue >= 42) & (hue < 79) & (light < 0.65) & (chroma < 0.16)
    dull_red = (hue >= 12) & (hue < 42) & (light < 0.55) & (chroma < 0.07)
    dull_yellow = (hue >= 79) & (hue < 100) & (light < 0.60) & (chroma < 0.10)
    return orange | dull_red | dull_yellow


def is_pink(light: Array, chroma: Array, hue: Array) -> Truth:
    pale_red = ((hue < 42) | (hue >= 335)) & (light > 0.66) & (chroma < 0.19)
    magenta = (hue >= 335) | (hue < 5) | ((hue >= 320) & (chroma > 0.25))
    return pale_red | magenta & (light > 0.40)


def is_green(light: Array, hue: Array) -> Truth:
    """Say whether it is green; a dark yellow is called olive green."""
    return (hue >= 112) & (hue < 168) | (hue >= 97) & (hue < 112) & (light < 0.65)


def is_blue(light: Array, chroma: Array, hue: Array) -> Truth:
    """Say whether it is blue; a pale teal is called light blue, a dull dark violet navy."""
    pale = (hue >= 200) & (hue < 222) & (light > 0.78) & (chroma < 0.075)
    navy = (hue >= 284) & (hue < 302) & (light < 0.40) & (chroma < 0.08)
    return (hue >= 222) & (hue < 284) | pale | navy
