"""Garments laid flat, as outlines, seams and folds in inches from the middle of the neck, y downwards."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from orders.demo.folds import Fold, Point
from orders.demo.pen import mirrored, rounded

Line = NDArray[np.float64]
Rect = tuple[float, float, float, float]


@dataclass
class Garment:
    """What there is to draw of one side of a garment.

    `parts` are filled shapes from the bottom up; `bands` pairs of lines with ribbing between them; `dark`
    shapes that lie in their own shade; `trims` shapes of another color; `whole` the outline of the body;
    `cloth` the flat part that a block can be cut from, `top` where a print starts.
    """

    cloth: Rect
    top: float
    whole: Line = field(default_factory=lambda: np.zeros((0, 2)))
    parts: list[Line] = field(default_factory=list)
    sleeves: list[Line] = field(default_factory=list)
    bands: list[tuple[Line, Line]] = field(default_factory=list)
    dark: list[Line] = field(default_factory=list)
    trims: list[Line] = field(default_factory=list)
    tags: list[Line] = field(default_factory=list)
    seams: list[Line] = field(default_factory=list)
    stitches: list[Line] = field(default_factory=list)
    buttons: list[tuple[float, float, float]] = field(default_factory=list)
    raised: list[Line] = field(default_factory=list)
    folds: list[Fold] = field(default_factory=list)


@dataclass(frozen=True)
class Cut:
    """The measures of a knit top, half of each width; a sleeve goes down outside and up inside."""

    neck: float = 3.6
    neck_front: float = 3.4
    neck_back: float = 0.9
    shoulder: float = 9.3
    slope: float = 1.7
    chest: float = 10.5
    armhole: float = 9.8
    waist: float = 10.2
    hem: float = 10.5
    long: float = 28.5
    sleeve: tuple[Point, ...] = ((15.2, 8.6), (10.9, 13.2))
    rib: float = 0.85
    cuff: float = 0.0
    band: float = 0.0


CUTS = {
    "tee": Cut(),
    "fitted tee": Cut(
        neck=3.9, neck_front=4.4, shoulder=7.6, chest=8.7, armhole=8.2, waist=7.7, hem=9.0, long=25,
        sleeve=((11.6, 6.2), (8.9, 9.9)), rib=0.6,
    ),
    "youth tee": Cut(
        neck=3.0, neck_front=2.8, shoulder=7.2, slope=1.3, chest=8.2, armhole=7.6, waist=8.0, hem=8.3,
        long=21, rib=0.75, sleeve=((12.0, 6.9), (8.7, 10.6)),
    ),
    "long sleeve": Cut(
        sleeve=((13.9, 9.0), (15.4, 17.0), (14.9, 25.6), (11.9, 25.9), (11.5, 17.0)), cuff=1.0, hem=10.3,
    ),
    "sweatshirt": Cut(
        neck=3.9, neck_front=3.5, neck_back=1.1, shoulder=10.4, slope=2.0, chest=11.8, armhole=11, waist=11.9,
        hem=10.6, long=27.5, rib=1.0, cuff=2.4, band=2.5,
        sleeve=((15.0, 9.2), (17.0, 17.5), (15.9, 26.4), (12.7, 26.6), (12.6, 17.8)),
    ),
    "tank": Cut(
        neck=4.2, neck_front=6.6, neck_back=3.0, shoulder=6.6, slope=0.8, chest=9.6, armhole=9.8, waist=9.3,
        hem=9.9, long=27.5, sleeve=(), rib=0.55,
    ),
    "one-piece": Cut(
        neck=2.2, neck_front=1.7, neck_back=0.7, shoulder=3.9, slope=0.7, chest=4.6, armhole=4.2, waist=4.7,
        hem=4.5, long=10.2, sleeve=((6.9, 3.5), (4.9, 5.6)), rib=0.42,
    ),
}  # fmt: skip


def shifted_cut(cut: Cut, rng: np.random.Generator) -> Cut:
    """Return the cut with sleeves put down a little differently each time."""
    sleeve = tuple((x + rng.uniform(-0.5, 0.5), y + rng.uniform(-0.5, 0.5)) for x, y in cut.sleeve)
    return replace(cut, sleeve=sleeve)


def knit_top(kind: str, side: str, rng: np.random.Generator) -> Garment:
    """Return a tee or one of its relations."""
    cut = CUTS[kind]
    drop = cut.neck_front if side == "front" else cut.neck_back
    between_armholes = cut.shoulder if cut.sleeve else cut.chest
    half = min(between_armholes, cut.waist, cut.hem) - 0.85
    highest = drop + cut.rib + 0.7 if cut.sleeve else cut.armhole + 0.3
    garment = Garment(
        cloth=(-half, highest, half, cut.long - cut.band - 1.4),
        top=highest + (1.2 if side == "front" or not cut.sleeve else 2.5),
    )
    for turn in (1, -1) if cut.sleeve else ():
        sleeve(garment, shifted_cut(cut, rng), turn)
    body(garment, cut, drop)
    collar(garment, cut, side)
    if not cut.sleeve:
        armhole_binding(garment, cut)
    if cut.band:
        hem_band(garment, cut)
    elif kind == "one-piece":
        legs(garment, cut)
    else:
        hem_stitches(garment, cut)
    garment.folds += knit_folds(cut, rng)
    return garment


def flip(points: Any, turn: int) -> Line:
    line = np.asarray(points, dtype=float)
    return line if turn > 0 else mirrored(line, about=0)


def armhole_curve(cut: Cut) -> Line:
    """Return the right armhole from shoulder to underarm."""
    if not cut.sleeve:
        inner = min(cut.shoulder - 0.6, cut.chest - 2.6)
        way = [(cut.shoulder, cut.slope), (inner, cut.armhole * 0.5), (inner + 0.8, cut.armhole * 0.8)]
        return rounded([*way, (cut.chest, cut.armhole)], closed=False)
    inset = cut.shoulder - 0.35
    return rounded(
        [(cut.shoulder, cut.slope), (inset, cut.armhole * 0.55), (cut.chest, cut.armhole)], closed=False
    )


def body(garment: Garment, cut: Cut, drop: float) -> None:
    hip = cut.long - max(cut.band, 0.6)
    side = [(cut.chest, cut.armhole), (cut.waist, cut.long * 0.62), (cut.hem + (0.9 if cut.band else 0), hip)]
    right = np.concatenate([[(cut.neck, 0.0)], armhole_curve(cut), rounded(side, closed=False)])
    right = np.concatenate([right, [(cut.hem, cut.long)]])
    neck = neckline(cut, drop)
    garment.whole = np.concatenate([right, mirrored(right, about=0)[::-1], neck])
    garment.parts.append(garment.whole)
    if cut.sleeve:
        garment.seams += [armhole_curve(cut), mirrored(armhole_curve(cut), about=0)]


def neckline(cut: Cut, drop: float, *, out: float = 0) -> Line:
    """Return the neck's edge from left to right; `out` moves it away from the neck."""
    turns = np.linspace(np.pi, 0, 41)
    wide, deep = cut.neck + out * 0.9, drop + out
    return np.stack([wide * np.cos(turns), deep * np.sin(turns) ** 0.8 + out * 0.12], axis=1)


def collar(garment: Garment, cut: Cut, side: str) -> None:
    back = neckline(cut, cut.neck_back)
    if side == "front":
        front = neckline(cut, cut.neck_front)
        inside = np.concatenate([back, front[::-1]])
        garment.parts.insert(0, inside)
        garment.dark.append(inside)
        under = neckline(cut, cut.neck_back + cut.rib * 0.8)
        garment.seams.append(under[6:-6])
        x, y = 0.55 * cut.neck / 3.6, cut.neck_back + cut.rib * 0.9
        garment.tags.append(np.array([(-x, y), (x, y), (x, y + x * 1.3), (-x, y + x * 1.3)]))
        inner, outer = front, neckline(cut, cut.neck_front, out=cut.rib)
    else:
        inner, outer = back, neckline(cut, cut.neck_back, out=cut.rib)
    garment.bands.append((inner, outer))
    garment.trims.append(np.concatenate([inner, outer[::-1]]))
    drop = cut.neck_front if side == "front" else cut.neck_back
    garment.stitches.append(neckline(cut, drop, out=cut.rib + 0.2))


def sleeve(garment: Garment, cut: Cut, turn: int) -> None:
    """Lay a sleeve: down its outer edge, across the cuff, up its inner edge."""
    count = len(cut.sleeve) // 2 if len(cut.sleeve) > 2 else 1
    count += 1 if len(cut.sleeve) > 2 else 0
    outer = rounded([(cut.shoulder, cut.slope), *cut.sleeve[:count]], closed=False)
    inner = rounded([*cut.sleeve[count:], (cut.chest - 0.1, cut.armhole + 0.2)], closed=False)
    shape = flip(np.concatenate([outer, inner, [(cut.shoulder - 1.2, cut.armhole * 0.5)]]), turn)
    garment.sleeves.append(shape)
    garment.parts.append(shape)
    edge, other = np.array(cut.sleeve[count - 1]), np.array(cut.sleeve[count])
    up = np.array([-(other - edge)[1], (other - edge)[0]]) / np.hypot(*(other - edge))
    for height in (cut.cuff,) if cut.cuff else (0.75, 0.55):
        row = flip([edge + up * height, other + up * height], turn)
        (garment.seams if cut.cuff else garment.stitches).append(row)
    if cut.cuff:
        ends = np.linspace(edge, other, 20)
        garment.bands.append((flip(ends, turn), flip(ends + up * cut.cuff, turn)))
    band = [edge, other, other + up * max(cut.cuff, 0.8), edge + up * max(cut.cuff, 0.8)]
    garment.trims.append(flip(band, turn))


def armhole_binding(garment: Garment, cut: Cut) -> None:
    for turn in (1, -1):
        edge = flip(armhole_curve(cut), turn)
        inner = np.add(edge, (-0.55 * turn, 0.12))
        garment.bands.append((edge, inner))
        garment.trims.append(np.concatenate([edge, inner[::-1]]))
        garment.stitches.append(np.add(inner, (-0.15 * turn, 0)))


def hem_band(garment: Garment, cut: Cut) -> None:
    xs = np.linspace(-cut.hem, cut.hem, 90)
    foot = np.stack([xs, np.full_like(xs, cut.long)], axis=1)
    head = np.stack([xs * (1 + 0.05), np.full_like(xs, cut.long - cut.band)], axis=1)
    garment.bands.append((head, foot))
    garment.seams.append(head)
    v = np.array([(-1.5, cut.neck_front + 0.8), (0, cut.neck_front + 3.0), (1.5, cut.neck_front + 0.8)])
    garment.stitches.append(v)


def hem_stitches(garment: Garment, cut: Cut) -> None:
    for height in (0.95, 0.72):
        garment.stitches.append(np.array([(-cut.hem, cut.long - height), (cut.hem, cut.long - height)]))


def legs(garment: Garment, cut: Cut) -> None:
    """Turn the hem of a baby's one-piece into leg openings that end in snaps."""
    low = cut.long + 4.2
    right = rounded(
        [(cut.hem, cut.long - 0.3), (cut.hem - 1.0, cut.long + 1.6), (1.9, low - 0.5)], closed=False
    )
    flap = np.concatenate([[(0, cut.long - 1.0), (cut.hem, cut.long - 1.0)], right, [(1.9, low), (0, low)]])
    garment.parts.append(np.concatenate([flap, mirrored(flap, about=0)[::-1]]))
    for turn in (1, -1):
        edge = flip(right, turn)
        garment.bands.append((edge, np.add(edge, (-0.32 * turn, -0.2))))
        garment.trims.append(np.concatenate([edge, np.add(edge, (-0.36 * turn, -0.22))[::-1]]))
    garment.stitches.append(np.array([(-1.8, low - 0.75), (1.8, low - 0.75)]))
    garment.buttons += [(x, low - 0.38, 0.2) for x in (-1.2, 0, 1.2)]


def knit_folds(cut: Cut, rng: np.random.Generator) -> list[Fold]:
    """Return the folds of a top spread by hand: from the armpits, along the sleeves, at the hem."""
    size = cut.long / 28.5
    folds = [crossing_crease(cut, rng)]
    for turn in (1, -1):
        for _ in range(rng.integers(2, 4)):
            start = (turn * (cut.chest - rng.uniform(0, 0.8)), cut.armhole + rng.uniform(-0.4, 1.6) * size)
            end = (turn * rng.uniform(1.5, 6) * size, cut.armhole + rng.uniform(1, 10) * size)
            folds.append(random_fold(start, end, size, rng))
        if cut.sleeve:
            folds += sleeve_folds(cut, turn, size, rng)
    for _ in range(rng.integers(4, 8)):
        x = rng.uniform(-0.9, 0.9) * cut.hem
        start = (x + rng.normal(0, 1.4), cut.long * rng.uniform(0.5, 0.75))
        folds.append(random_fold(start, (x, cut.long * rng.uniform(0.92, 1.06)), size, rng))
    for _ in range(rng.integers(1, 4)):
        x, y = rng.uniform(-0.5, 0.5) * cut.chest, cut.long * rng.uniform(0.35, 0.8)
        folds.append(
            random_fold((x, y), (x + rng.normal(0, 7) * size, y + rng.normal(0, 3) * size), size, rng)
        )
    return folds


def random_fold(start: Point, end: Point, size: float, rng: np.random.Generator) -> Fold:
    wide, rise = rng.uniform(0.32, 1.15) * size, rng.uniform(0.07, 0.24) * size
    most = 0.12 * float(np.hypot(end[0] - start[0], end[1] - start[1]))
    bend = float(np.clip(rng.normal(0, 0.8) * size, -most, most))
    return Fold(start, end, wide=wide, rise=rise * (1 if rng.random() < 0.75 else -0.6), bend=bend)


def crossing_crease(cut: Cut, rng: np.random.Generator) -> Fold:
    """Return the crease left from lying folded in a drawer."""
    y = cut.long * rng.uniform(0.45, 0.62)
    return Fold((-cut.chest, y), (cut.chest, y + rng.uniform(-0.5, 0.5)), wide=0.24, rise=0.05)


def sleeve_folds(cut: Cut, turn: int, size: float, rng: np.random.Generator) -> list[Fold]:
    way: Sequence[Point] = [(cut.shoulder, cut.slope + 1.5), *cut.sleeve]
    center = np.mean(np.asarray(cut.sleeve), axis=0)
    folds = []
    for _ in range(rng.integers(2, 4) + len(way) // 2):
        one = np.asarray(way[int(rng.integers(len(way)))]) * 0.7 + center * 0.3
        other = np.array([cut.chest + 0.4, cut.armhole]) * rng.uniform(0.5, 0.9)
        other = other + (1 - rng.uniform(0.5, 0.9)) * center
        pair = flip([one + rng.normal(0, 0.7, 2) * size, other + rng.normal(0, 1.0, 2) * size], turn).tolist()
        folds.append(random_fold(tuple(pair[0]), tuple(pair[1]), size * 0.75, rng))
    return folds
